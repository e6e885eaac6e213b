// Reads every #include under src/ against the table of allowed arrows in DEVELOPERS.md.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "base/text.h"
#include "support/trees.h"

using namespace coilbook;
namespace fs = std::filesystem;

namespace {

struct Row {
    std::set<std::string> folders;       // that may be included, besides itself
    std::vector<std::string> libraries;  // beginnings of the headers that may be included
};
using Table = std::map<std::string, Row>;

const fs::path root = source_tree();

std::string text_of(const fs::path& file) {
    std::ifstream stream(file);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

// The rows "| folder | may include | libraries |" of the table that has this head.
Table table_in(const std::string& page) {
    Table table;
    bool inside = false;
    std::istringstream lines(page);
    for (std::string line; std::getline(lines, line);) {
        if (line == "| folder | may include | libraries |") inside = true;
        if (!inside || line.starts_with("| folder") || line.starts_with("| ---")) continue;
        if (!line.starts_with("|")) {
            inside = false;
            continue;
        }
        std::vector<std::string> cells;
        std::istringstream row(line.substr(1));
        for (std::string cell; std::getline(row, cell, '|');) {
            cells.emplace_back(trimmed(cell));
        }
        REQUIRE(cells.size() == 3);
        for (const auto folder : pieces(cells[1], " ")) table[cells[0]].folders.emplace(folder);
        for (const auto library : pieces(cells[2], " ")) {
            table[cells[0]].libraries.emplace_back(library);
        }
    }
    return table;
}

// The row of the table that a path below src/ belongs to: the longest that is its beginning.
std::string row_of(const Table& table, const std::string& path) {
    std::string longest;
    for (const auto& [folder, row] : table) {
        if (path.starts_with(folder + "/") && folder.size() > longest.size()) longest = folder;
    }
    return longest;
}

bool is_standard(const std::string& header) {
    return header.find_first_of("./") == std::string::npos;
}

bool is_posix(const std::string& header) {
    static const std::set<std::string> known{"fcntl.h",     "pwd.h",       "signal.h",
                                             "sys/file.h",  "sys/ioctl.h", "sys/stat.h",
                                             "sys/types.h", "sys/wait.h",  "unistd.h"};
    return known.contains(header);
}

// What is wrong with one include of one file; empty if nothing.
std::string objection(const Table& table, const std::string& file, const std::string& header,
                      bool quoted_include) {
    const auto from = row_of(table, file);
    if (from.empty()) return file + " is in no folder of the table";
    const auto& row = table.at(from);
    const bool is_test = file.ends_with("_test.cpp");
    if (quoted_include) {
        if (header.starts_with("support/")) return is_test ? "" : file + " includes test support";
        const auto to = row_of(table, header);
        if (to == from || row.folders.contains(to)) return "";
        return file + " may not include " + header;
    }
    if (is_standard(header) || is_posix(header)) return "";
    const bool named = std::ranges::any_of(
        row.libraries, [&](const std::string& library) { return header.starts_with(library); });
    if (named || is_test) return "";
    return file + " may not include <" + header + ">";
}

std::vector<std::string> objections_to(const Table& table, const std::string& file,
                                       const std::string& text) {
    std::vector<std::string> found;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        auto rest = trimmed(line);
        if (!rest.starts_with('#')) continue;
        rest = trimmed(rest.substr(1));
        if (!rest.starts_with("include")) continue;
        rest = trimmed(rest.substr(std::string_view("include").size()));
        const bool quoted_include = rest.starts_with('"');
        const std::string header(rest.substr(1, rest.find_first_of("\">", 1) - 1));
        const auto why = objection(table, file, header, quoted_include);
        if (!why.empty()) found.push_back(why);
    }
    return found;
}

}  // namespace

TEST_SUITE("Arrows") {
    TEST_CASE("no file under src/ includes what is not below it in the house") {
        const auto table = table_in(text_of(root / "DEVELOPERS.md"));
        REQUIRE(table.size() > 10);
        int files = 0;
        for (const auto& entry : fs::recursive_directory_iterator(root / "src")) {
            const auto extension = entry.path().extension();
            if (extension != ".h" && extension != ".cpp") continue;
            ++files;
            const auto name = fs::relative(entry.path(), root / "src").generic_string();
            for (const auto& why : objections_to(table, name, text_of(entry.path()))) {
                FAIL_CHECK(why);
            }
        }
        CHECK(files > 50);
    }

    TEST_CASE("an arrow that points up is found") {
        const Table table{{"base", {{}, {"fmt/"}}}, {"line", {{"base"}, {}}}};
        CHECK(objections_to(table, "base/x.h", "#include \"line/water.h\"\n").size() == 1);
        CHECK(objections_to(table, "line/x.h", "#include \"base/text.h\"\n").empty());
        CHECK(objections_to(table, "line/x.h", "#include <imgui.h>\n").size() == 1);
        CHECK(objections_to(table, "line/x.h", "#include <vector>\n#include <fmt/format.h>\n")
                  .size() == 1);
        CHECK(objections_to(table, "line/x.h", "#include \"support/near.h\"\n").size() == 1);
        CHECK(objections_to(table, "line/x_test.cpp", "#include \"support/near.h\"\n").empty());
        CHECK(objections_to(table, "new/x.h", "#include <vector>\n").size() == 1);
    }

    TEST_CASE("the table has no circle: a folder is never below itself") {
        const auto table = table_in(text_of(root / "DEVELOPERS.md"));
        std::set<std::string> done;
        // Folders whose whole row is done are done; what is never done hangs in a circle.
        for (std::size_t round = 0; round <= table.size(); ++round) {
            for (const auto& [folder, row] : table) {
                if (std::ranges::all_of(row.folders, [&](const std::string& below) {
                        return done.contains(below) || below == "bench";
                    })) {
                    done.insert(folder);
                }
            }
        }
        for (const auto& [folder, row] : table) {
            CAPTURE(folder);
            CHECK(done.contains(folder));
        }
    }
}
