#include "db/table_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <fstream>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "base/error.h"
#include "db/connection.h"
#include "db/preflight.h"
#include "db/statement.h"

namespace coilbook::db {
namespace {

constexpr unsigned char inner_page = 5;  // of a table's tree
constexpr unsigned char leaf_page = 13;

// A page's bytes, numbers in which are big-endian. Reading past its end gives zeros: damage.
struct Page {
    std::uint32_t number = 0;
    std::vector<unsigned char> bytes;

    [[nodiscard]] std::size_t begin() const { return number == 1 ? 100 : 0; }  // after the head
    [[nodiscard]] unsigned char byte(std::size_t at) const {
        return at < bytes.size() ? bytes[at] : static_cast<unsigned char>(0);
    }
    [[nodiscard]] std::uint32_t integer(std::size_t at, std::size_t size) const {
        std::uint32_t value = 0;
        for (std::size_t i = 0; i < size; ++i) value = value << 8 | byte(at + i);
        return value;
    }
    // A number of variable length; moves `at` behind it.
    [[nodiscard]] std::uint64_t varint(std::size_t& at) const {
        std::uint64_t value = 0;
        for (int i = 0; i < 8; ++i) {
            const auto next = byte(at++);
            value = value << 7 | (next & 0x7FU);
            if ((next & 0x80U) == 0) return value;
        }
        return value << 8 | byte(at++);
    }
    [[nodiscard]] unsigned char type() const { return byte(begin()); }
    [[nodiscard]] std::size_t cell_count() const {
        return std::min<std::size_t>(integer(begin() + 3, 2), bytes.size() / 4);
    }
    [[nodiscard]] std::size_t cell(std::size_t at) const {
        return integer(begin() + (type() == inner_page ? 12 : 8) + 2 * at, 2);
    }
    [[nodiscard]] std::vector<std::uint32_t> children() const {
        std::vector<std::uint32_t> found{integer(begin() + 8, 4)};
        for (std::size_t i = 0; i < cell_count(); ++i) found.push_back(integer(cell(i), 4));
        return found;
    }
};

class Pages {
  public:
    explicit Pages(const std::filesystem::path& file) : file_(file, std::ios::binary) {
        Page head{1, std::vector<unsigned char>(100)};
        file_.read(reinterpret_cast<char*>(head.bytes.data()), 100);
        const auto stated = head.integer(16, 2);
        size_ = stated == 1 ? 65536 : stated;
        if (!file_ || size_ < 512 || (size_ & (size_ - 1)) != 0) {
            throw Error("the file's first bytes are lost: nothing can be read");
        }
        count_ = static_cast<std::uint32_t>(std::filesystem::file_size(file) / size_);
    }

    [[nodiscard]] std::uint32_t count() const { return count_; }
    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] Page page(std::uint32_t number) {
        Page page{number, std::vector<unsigned char>(size_)};
        if (number == 0 || number > count_) return page;
        file_.clear();
        file_.seekg(static_cast<std::streamoff>((number - 1) * size_));
        file_.read(reinterpret_cast<char*>(page.bytes.data()), static_cast<std::streamsize>(size_));
        return page;
    }
    // Pages that belong to nothing any more, whose rows were deleted.
    [[nodiscard]] std::set<std::uint32_t> free_pages() {
        std::set<std::uint32_t> found;
        auto trunk = page(1).integer(32, 4);
        while (trunk != 0 && trunk <= count_ && found.insert(trunk).second) {
            const auto list = page(trunk);
            const auto leaves = std::min<std::size_t>(list.integer(4, 4), size_ / 4);
            for (std::size_t i = 0; i < leaves; ++i) found.insert(list.integer(8 + 4 * i, 4));
            trunk = list.integer(0, 4);
        }
        return found;
    }

  private:
    std::ifstream file_;
    std::size_t size_ = 0;
    std::uint32_t count_ = 0;
};

// What a column may hold, as STRICT tables have it.
struct ColumnKind {
    std::string name;
    std::string type;  // INTEGER, REAL, TEXT or ANY
    bool is_row_number;
    std::string otherwise;  // its default
};
struct TableKind {
    std::string name;
    std::vector<ColumnKind> columns;
    std::size_t least;  // columns that its first format had: later ones have a default
};

std::vector<TableKind> kinds_of(const Database& pattern) {
    std::vector<TableKind> kinds;
    Statement tables(pattern, "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid");
    for (const auto& name : tables.all([](const Row& row) { return row.text("name"); })) {
        TableKind kind{name, {}, 0};
        const auto column = [&](const char* what) {
            return pattern.connection()->words(
                fmt::format("SELECT {} FROM pragma_table_info('{}')", what, name).c_str());
        };
        const auto names = column("name");
        const auto types = column("type");
        const auto keys = column("pk");
        const auto otherwise = column("dflt_value");
        for (std::size_t i = 0; i < names.size(); ++i) {
            kind.columns.push_back(
                {names[i], types[i], keys[i] == "1" && types[i] == "INTEGER", otherwise[i]});
            if (otherwise[i].empty()) kind.least = kind.columns.size();
        }
        kinds.push_back(std::move(kind));
    }
    return kinds;
}

// The types of a row's values, as its head has them ("record format").
std::vector<std::uint64_t> types_of_row(const Page& page, std::size_t cell) {
    auto at = cell;
    (void)page.varint(at);  // its size
    (void)page.varint(at);  // its row number
    const auto head = at;
    const auto head_size = page.varint(at);
    std::vector<std::uint64_t> types;
    while (at < head + head_size && at < page.bytes.size()) types.push_back(page.varint(at));
    return types;
}

bool can_hold(const ColumnKind& column, std::uint64_t type) {
    if (type == 0) return true;  // NULL, and always so for the row number
    if (column.is_row_number) return false;
    const bool is_integer = type <= 6 || type == 8 || type == 9;
    if (column.type == "INTEGER") return is_integer;
    if (column.type == "REAL") return is_integer || type == 7;  // whole numbers are kept as such
    if (column.type == "TEXT") return type >= 13 && type % 2 == 1;
    return true;
}

bool can_be_of(const TableKind& kind, const std::vector<std::uint64_t>& types) {
    if (types.size() < kind.least || types.size() > kind.columns.size()) return false;
    for (std::size_t i = 0; i < types.size(); ++i) {
        if (!can_hold(kind.columns[i], types[i])) return false;
    }
    return true;
}

// The one kind of table that the tree's first leaf can be of, judged by most of its rows; null
// where none is, or where it has no rows. Kinds that fit alike: the first, since they cannot be
// told apart.
const TableKind* kind_of_tree(Pages& pages, std::uint32_t root,
                              const std::vector<TableKind>& kinds) {
    auto page = pages.page(root);
    for (int depth = 0; page.type() == inner_page && depth < 20; ++depth) {
        page =
            pages.page(page.children().back() != 0 && page.cell_count() > 0 ? page.children()[1]
                                                                            : page.children()[0]);
    }
    if (page.type() != leaf_page) return nullptr;
    std::map<const TableKind*, std::size_t> votes;
    for (std::size_t i = 0; i < page.cell_count(); ++i) {
        const auto types = types_of_row(page, page.cell(i));
        for (const auto& kind : kinds) votes[&kind] += can_be_of(kind, types) ? 1 : 0;
    }
    const TableKind* best = nullptr;
    for (const auto& kind : kinds) {
        if (votes[&kind] > (best == nullptr ? page.cell_count() / 2 : votes[best])) best = &kind;
    }
    return best;
}

std::string create_sql(const TableKind& kind, const std::string& name) {
    std::string columns;
    for (const auto& column : kind.columns) {
        columns += fmt::format("{}{} {}{}{}", columns.empty() ? "" : ", ", column.name,
                               column.type == "ANY" ? "" : column.type,
                               column.is_row_number ? " PRIMARY KEY" : "",
                               column.otherwise.empty() ? "" : " DEFAULT " + column.otherwise);
    }
    return fmt::format("CREATE TABLE {} ({})", name, columns);
}

// As it stands inside a text of SQL.
std::string in_quotes(const std::string& sql) {
    std::string text;
    for (const char each : sql) text += each == '\'' ? std::string("''") : std::string(1, each);
    return text;
}

struct Listed {
    std::string name;
    std::uint32_t root;
    std::string sql;
};

std::vector<Listed> tables_in(const std::filesystem::path& file, const Database& pattern) {
    Pages pages(file);
    const auto kinds = kinds_of(pattern);
    const auto free_pages = pages.free_pages();
    std::set<std::uint32_t> trees;
    std::set<std::uint32_t> below;
    for (std::uint32_t number = 2; number <= pages.count(); ++number) {
        if (free_pages.contains(number)) continue;
        const auto page = pages.page(number);
        if (page.type() != inner_page && page.type() != leaf_page) continue;
        trees.insert(number);
        if (page.type() != inner_page) continue;
        for (const auto child : page.children()) below.insert(child);
    }
    std::map<std::string, int> parts;
    std::vector<Listed> listed;
    for (const auto root : trees) {
        if (below.contains(root)) continue;
        const auto* kind = kind_of_tree(pages, root, kinds);
        if (kind == nullptr) continue;
        const int part = ++parts[kind->name];
        const auto name = part == 1 ? kind->name : fmt::format("{}_{}", kind->name, part);
        listed.push_back({name, root, create_sql(*kind, name)});
    }
    return listed;
}

// Makes the list of tables an empty one, and the file one without a write-ahead log.
void empty_list(const std::filesystem::path& file) {
    Pages pages(file);
    auto first = pages.page(1);
    const auto usable = pages.size() - first.byte(20);
    first.bytes[18] = first.bytes[19] = 1;
    std::fill(first.bytes.begin() + 100, first.bytes.end(), static_cast<unsigned char>(0));
    first.bytes[100] = leaf_page;
    first.bytes[105] = static_cast<unsigned char>(usable >> 8U & 0xFFU);  // 65536 is written as 0
    first.bytes[106] = static_cast<unsigned char>(usable & 0xFFU);
    std::fstream out(file, std::ios::in | std::ios::out | std::ios::binary);
    out.write(reinterpret_cast<const char*>(first.bytes.data()),
              static_cast<std::streamsize>(first.bytes.size()));
    if (!out.flush()) throw Error("the copy of the damaged file cannot be written");
}

void copy_bytes(const std::filesystem::path& from, const std::filesystem::path& to) {
    create_private(to);
    std::ifstream in(from, std::ios::binary);
    std::ofstream out(to, std::ios::binary);
    if (in.peek() != std::ifstream::traits_type::eof()) out << in.rdbuf();
    if (!in || !out.flush()) {
        throw Error("the damaged file cannot be copied; make room beside the new one");
    }
}

}  // namespace

bool has_table_list(const Database& database) {
    try {
        Statement any(database, "SELECT name FROM sqlite_schema");
        for (auto rows = any.rows(); rows.next();) (void)rows.row().text("name");
        return true;
    } catch (const Error&) {
        return false;
    }
}

Relisted::Relisted(const Database& damaged, const Database& pattern,
                   const std::filesystem::path& copy)
    : copy_(copy) {
    copy_bytes(damaged.file(), copy_);
    try {
        std::error_code none;
        const std::filesystem::path log = damaged.file().string() + "-wal";
        if (std::filesystem::file_size(log, none) > 0 && !none) {
            copy_bytes(log, copy_.string() + "-wal");
            const Connection with_log(copy_.string(), existing_file, damaged.shown());
            (void)with_log.number("PRAGMA user_version");  // opens the log
            sqlite3_wal_checkpoint_v2(with_log.handle(), nullptr, SQLITE_CHECKPOINT_TRUNCATE,
                                      nullptr, nullptr);
        }
        const auto tables = tables_in(copy_, pattern);
        empty_list(copy_);
        {
            const Connection listing(copy_.string(), existing_file, damaged.shown());
            listing.command("PRAGMA writable_schema = ON");
            for (const auto& [name, root, sql] : tables) {
                listing.command(fmt::format("INSERT INTO sqlite_schema (type, name, tbl_name, "
                                            "rootpage, sql) VALUES ('table', '{0}', '{0}', {1}, "
                                            "'{2}')",
                                            name, root, in_quotes(sql))
                                    .c_str());
            }
        }
        database_ = Database::open_damaged(copy_, damaged.kind());
    } catch (const Error& error) {
        remove();
        throw error.during("making a new list of tables for " + damaged.shown());
    }
}

Relisted::~Relisted() {
    database_.reset();
    remove();
}

void Relisted::remove() const {
    std::error_code none;
    for (const char* ending : {"", "-wal", "-shm", "-journal"}) {
        std::filesystem::remove(copy_.string() + ending, none);
    }
}

}  // namespace coilbook::db
