#include "exchange/csv.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <fstream>
#include <random>
#include <sstream>

#include "base/error.h"
#include "base/text.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::exchange;
using namespace std::string_literals;

namespace {

// What reading a whole text came to: the rows that can be used, and one line for each Problem.
struct Outcome {
    std::vector<CsvRow> rows;
    std::vector<std::string> problems;
};

Outcome read(const std::string& text) {
    std::istringstream stream(text);
    Outcome outcome;
    auto reader = CsvReader::over(stream, "bin.csv");
    if (!reader) {
        outcome.problems.push_back(to_line(reader.error()));
        return outcome;
    }
    outcome.rows.push_back(reader->header());
    while (auto row = reader->next()) {
        if (*row) {
            outcome.rows.push_back(std::move(**row));
        } else {
            outcome.problems.push_back(to_line(row->error()));
        }
    }
    return outcome;
}

using Cells = std::vector<std::string>;

std::string only_problem(const Outcome& outcome) {
    REQUIRE(outcome.problems.size() == 1);
    return outcome.problems.front();
}

std::filesystem::path scratch(const char* name) {
    return std::filesystem::temp_directory_path() /
           ("coilbook_csv_" + std::to_string(getpid()) + "_" + name);
}

}  // namespace

TEST_SUITE("CSV files") {
    TEST_CASE("a row that is used again holds only what was read last") {
        std::istringstream text(
            "a,b,c\n1,a long cell that needs memory of its own,3\n4\n\"5,6,7\n");
        auto reader = CsvReader::over(text, "bin.csv");
        REQUIRE(reader.has_value());
        CsvRow row{};
        REQUIRE(reader->next(row).value().has_value());
        CHECK(row == CsvRow{2, {"1", "a long cell that needs memory of its own", "3"}});
        REQUIRE(reader->next(row).value().has_value());
        CHECK(row == CsvRow{3, {"4", "", ""}});
        CHECK_FALSE(reader->next(row).value().has_value());  // a quote that is never closed
        CHECK_FALSE(reader->next(row).has_value());
    }

    TEST_CASE("lines are found whatever ends them, and however long they are") {
        const std::string longer(700, 'x');
        for (const char* end : {"\n", "\r", "\r\n"}) {
            const auto outcome = read("a,b"s + end + longer + ",2"s + end + "3,"s + longer + end);
            CHECK(outcome.problems.empty());
            REQUIRE(outcome.rows.size() == 3);
            CHECK(outcome.rows[1] == CsvRow{2, {longer, "2"}});
            CHECK(outcome.rows[2] == CsvRow{3, {"3", longer}});
        }
    }

    TEST_CASE("rows end with CRLF, LF or CR, and the last one with nothing") {
        for (const std::string end : {"\r\n", "\n", "\r"}) {
            CAPTURE(end.size());
            const auto outcome = read("code,notes" + end + "A1,x" + end + "A2,y");
            CHECK(outcome.problems.empty());
            REQUIRE(outcome.rows.size() == 3);
            CHECK(outcome.rows[1] == CsvRow{2, {"A1", "x"}});
            CHECK(outcome.rows[2] == CsvRow{3, {"A2", "y"}});
        }
    }

    TEST_CASE("a byte order mark is no part of the first head") {
        CHECK(read("\xEF\xBB\xBF"
                   "code,notes\n")
                  .rows.front()
                  .cells == Cells{"code", "notes"});
        CHECK(read("\xEF\xBB\xBF"
                   "\"code\",notes\n")
                  .rows.front()
                  .cells == Cells{"code", "notes"});
    }

    TEST_CASE("the separator is what the header has more of outside quotes") {
        struct Row {
            const char* header;
            char separator;
        };
        for (const auto& [header, separator] : {
                 Row{"code;weight", ';'},
                 Row{"code,weight", ','},
                 Row{"code", ','},
                 Row{"\"a,b,c\";d", ';'},
                 Row{"\"a;b;c\",d", ','},
                 Row{"a;b;c,d", ';'},
                 Row{"a,b;c", ','},
             }) {
            CAPTURE(header);
            std::istringstream stream(header);
            const auto reader = CsvReader::over(stream, "x");
            REQUIRE(reader.has_value());
            CHECK(reader->separator() == separator);
        }
    }

    TEST_CASE("line breaks in quotes belong to their cell and are counted as lines") {
        const auto outcome = read("code,notes\r\nA1,\"one\r\ntwo\nthree\rfour\"\r\nA2,x\r\n");
        REQUIRE(outcome.rows.size() == 3);
        CHECK(outcome.rows[1] == CsvRow{2, {"A1", "one\r\ntwo\nthree\rfour"}});
        CHECK(outcome.rows[2].line == 6);
    }

    TEST_CASE("blank lines, rows of empty cells and missing last cells are forgiven") {
        const auto outcome = read("\n\ncode,notes\n\nA1\n,\n\r\nA2,\n");
        CHECK(outcome.problems.empty());
        REQUIRE(outcome.rows.size() == 3);
        CHECK(outcome.rows[0].line == 3);
        CHECK(outcome.rows[1] == CsvRow{5, {"A1", ""}});
        CHECK(outcome.rows[2] == CsvRow{8, {"A2", ""}});
    }

    TEST_CASE("quotes are taken off and doubled quotes made single") {
        const auto outcome = read("code,length\nA1,\"12' 3\"\"\"\n");
        REQUIRE(outcome.rows.size() == 2);
        CHECK(outcome.rows[1].cells[1] == "12' 3\"");
    }

    TEST_CASE("a misplaced quote spoils its row and no other") {
        const auto outcome = read("code,length\nA1,12' 3\"\nA2,\"x\"y\nA3,\"1\n2\" \nA4,7 ft\n");
        REQUIRE(outcome.problems.size() == 3);
        CHECK(mentions(outcome.problems[0], "bin.csv:2: a quote stands where none may be"));
        CHECK(mentions(outcome.problems[1], "bin.csv:3: "));
        CHECK(mentions(outcome.problems[2], "bin.csv:5: "));
        REQUIRE(outcome.rows.size() == 2);
        CHECK(outcome.rows[1] == CsvRow{6, {"A4", "7 ft"}});
    }

    TEST_CASE("a quote that is never closed is told with the line on which its row begins") {
        CHECK(mentions(only_problem(read("code,notes\nA1,x\nA2,\"open\nA3,y\n")),
                       "bin.csv:3: a quote is opened in the row that begins here"));
    }

    TEST_CASE("a row with too many cells is refused, and a comma file hints at decimal commas") {
        const auto outcome = read("code,weight\nA1,22,4\nA2,22.4\n");
        CHECK(mentions(only_problem(outcome),
                       "bin.csv:2: the row has 3 cells and the header only 2"));
        CHECK(mentions(only_problem(outcome), "a decimal point"));
        CHECK(outcome.rows.size() == 2);
    }

    TEST_CASE("a cell that is not UTF-8 spoils its row and no other") {
        const auto outcome = read("code,notes\nA1,\xF8rret\nA2,ørret\n");
        CHECK(mentions(only_problem(outcome), "bin.csv:2: notes: '?rret' is not UTF-8"));
        REQUIRE(outcome.rows.size() == 2);
        CHECK(outcome.rows[1].cells[1] == "ørret");
    }

    TEST_CASE("a picture is not a table") {
        const auto png = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\1\0"s;
        CHECK(mentions(only_problem(read(png)), "bin.csv:1: "));
        CHECK(mentions(only_problem(read("code\0,x\n"s)), "no text but a binary"));
        const auto later = read("code\nA1\nA\0\nA3\n"s);
        CHECK(mentions(only_problem(later), "bin.csv:3: "));
        CHECK(later.rows.size() == 2);
        CHECK(mentions(only_problem(read(std::string("\xFF\xFE"
                                                     "c\0o\0",
                                                     6))),
                       "UTF-16"));
    }

    TEST_CASE("an empty file and one of blank lines have no header") {
        CHECK(mentions(only_problem(read("")), "bin.csv: the file is empty"));
        CHECK(mentions(only_problem(read("\r\n\n\r")), "no rows"));
        CHECK(mentions(only_problem(read("\xEF\xBB\xBF")), "no rows"));
    }

    TEST_CASE("a row may be a mebibyte long and no longer") {
        // The row is code, comma, cell, line end: four bytes more than the cell.
        const std::string fits(longest_csv_row - 4, 'x');
        const auto fine = read("a,b\nA1,\"" + fits.substr(2) + "\"\nA2,y\n");
        CHECK(fine.problems.empty());
        CHECK(fine.rows.size() == 3);
        const auto outcome = read("a,b\nA1," + fits + "x\nA2,y\n");
        CHECK(mentions(only_problem(outcome), "bin.csv:2: the row that begins here is longer"));
        CHECK(outcome.rows.size() == 1);
    }

    TEST_CASE("a table has at most a thousand columns") {
        const std::string commas(most_csv_columns - 1, ',');
        CHECK(read("a" + commas + "\n").rows.front().cells.size() == most_csv_columns);
        CHECK(mentions(only_problem(read("a" + commas + ",\n")), "1001 cells"));
        CHECK(mentions(only_problem(read("a" + commas + ",")), "1001 cells"));
    }

    TEST_CASE("a missing file and a directory are told in clear words") {
        const auto missing = CsvReader::open("/nowhere/bin.csv");
        REQUIRE_FALSE(missing.has_value());
        CHECK(to_line(missing.error()) ==
              "/nowhere/bin.csv: there is no such file; expected a CSV file");
        const auto directory = CsvReader::open("/tmp");
        REQUIRE_FALSE(directory.has_value());
        CHECK(mentions(to_line(directory.error()), "/tmp: this is a directory"));
    }

    TEST_CASE("a file on the disk is read as a stream is") {
        const auto path = scratch("plain.csv");
        std::ofstream(path, std::ios::binary) << "code;notes\r\nA1;x\r\n";
        auto reader = CsvReader::open(path);
        REQUIRE(reader.has_value());
        CHECK(reader->name() == path.string());
        const auto row = reader->next();
        REQUIRE((row && row->has_value()));
        CHECK(**row == CsvRow{2, {"A1", "x"}});
        CHECK_FALSE(reader->next().has_value());
        CHECK_FALSE(reader->next().has_value());
        std::filesystem::remove(path);
    }

    TEST_CASE("a disk that fails while reading is an Error, not the end of the file") {
        struct Failing : std::streambuf {
            int_type underflow() override { throw std::runtime_error("disk"); }
        } failing;
        std::istream stream(&failing);
        CHECK_THROWS_AS((void)CsvReader::over(stream, "bin.csv"), Error);
    }

    TEST_CASE("line ends that fall between two reads of the disk are counted once") {
        // The reader takes 64 KiB at a time: the CR of the first row's end is the last of them.
        for (const std::size_t before : {65533U, 65534U, 65535U, 65536U}) {
            const auto outcome =
                read("c\r\n" + std::string(before - 3, 'x') + "\r\n\"a\r\nb\"\r\nend\r\n");
            CAPTURE(before);
            REQUIRE(outcome.rows.size() == 4);
            CHECK(outcome.rows[2] == CsvRow{3, {"a\r\nb"}});
            CHECK(outcome.rows[3] == CsvRow{5, {"end"}});
        }
    }
}

TEST_SUITE("Files that are none") {
    TEST_CASE("devices are read no further than a row can be long") {
        CHECK_FALSE(CsvReader::open("/dev/null").has_value());
        const auto zeros = CsvReader::open("/dev/zero");
        REQUIRE_FALSE(zeros.has_value());
        CHECK(mentions(zeros.error().sentence, "longer than 1 MiB"));
        CHECK_FALSE(CsvReader::open("/").has_value());
    }
}

TEST_SUITE("Writing CSV") {
    TEST_CASE("cells are quoted only where they must be") {
        std::ostringstream out;
        write_csv_row(out, Cells{"A1", "12' 3\"", "a,b", "a;b", "x\ry", " x", "", "ørret"});
        CHECK(out.str() == "A1,\"12' 3\"\"\",\"a,b\",\"a;b\",\"x\ry\",\" x\",,ørret\n");
        std::ostringstream lone;
        write_csv_row(lone, Cells{""});
        CHECK(lone.str() == "\"\"\n");
    }

    TEST_CASE("whatever text is written is read back the same") {
        std::mt19937 random(7);
        const std::vector<std::string> alphabet{
            "a", "Z",  "0", ",", ";", "\"", "\n", "\r",           " ", "\t", "'", "=",
            "é", "漢", "🎣", "-", "|", "\\", "[",  "\xEF\xBB\xBF", "±"};
        const auto below = [&](std::size_t limit) {
            return std::uniform_int_distribution<std::size_t>(0, limit - 1)(random);
        };
        for (int table = 0; table < 300; ++table) {
            const std::size_t columns = 1 + below(5);
            std::vector<Cells> rows;
            std::ostringstream out;
            for (std::size_t r = 0; r < 1 + below(8); ++r) {
                Cells cells;
                for (std::size_t c = 0; c < columns; ++c) {
                    // The first cell is never empty: a row of empty cells would be left out.
                    std::string cell = c == 0 ? "x" : "";
                    for (std::size_t n = below(12); n > 0; --n) cell += alphabet[below(21)];
                    if (c == 0 && below(2)) cell.erase(0, 1), cell += "y";
                    cells.push_back(cell);
                }
                write_csv_row(out, cells);
                rows.push_back(cells);
            }
            const auto outcome = read(out.str());
            CAPTURE(out.str());
            CHECK(outcome.problems.empty());
            REQUIRE(outcome.rows.size() == rows.size());
            for (std::size_t r = 0; r < rows.size(); ++r) CHECK(outcome.rows[r].cells == rows[r]);
        }
    }

    TEST_CASE("random bytes give rows of plain text or Problems with their place, never more") {
        std::mt19937 random(11);
        const std::string likely = "code,;\"\n\r ab\xEF\xBB\xBF\xC3\xA9";
        for (int file = 0; file < 2000; ++file) {
            std::string bytes;
            const auto size = random() % 200;
            for (std::size_t i = 0; i < size; ++i) {
                bytes += random() % 4 ? likely[random() % likely.size()]
                                      : static_cast<char>(random() % 256);
            }
            const auto outcome = read(bytes);
            std::size_t last_line = 0;
            for (const auto& row : outcome.rows) {
                CHECK(row.line > last_line);
                last_line = row.line;
                CHECK(row.cells.size() == outcome.rows.front().cells.size());
                for (const auto& cell : row.cells) CHECK(is_plain_text(cell));
            }
            for (const auto& problem : outcome.problems) CHECK(problem.starts_with("bin.csv:"));
        }
    }
}
