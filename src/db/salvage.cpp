#include "db/salvage.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>

#include "base/error.h"
#include "base/text.h"
#include "db/connection.h"
#include "db/raw_writing.h"
#include "db/statement.h"
#include "db/transaction.h"

namespace coilbook::db {
namespace {

// None where there is no such table. A stranger's view or virtual table of that name is none: what
// it does when it is read is not ours to find out.
std::vector<std::string> columns_of(const Connection& connection, std::string_view table) {
    return connection.words(
        fmt::format("SELECT name FROM pragma_table_info('{0}') WHERE EXISTS (SELECT 1 FROM "
                    "pragma_table_list('{0}') WHERE schema = 'main' AND type = 'table')",
                    table)
            .c_str());
}

std::string joined(const std::vector<std::string>& names, std::string_view before) {
    std::string text;
    for (const auto& name : names)
        text += fmt::format("{}{}{}", text.empty() ? "" : ", ", before, name);
    return text;
}

// One table on its way from the damaged file into the new one.
class Passage {
  public:
    // From the table `from` of `damaged` into `table`.
    Passage(const Database& damaged, const Database& into, std::string_view from,
            std::string_view table, std::vector<std::string> columns, Transaction& transaction)
        : columns_(std::move(columns)),
          transaction_(transaction),
          read_(damaged, fmt::format("SELECT _rowid_ AS row_number, {} FROM {} "
                                     "WHERE _rowid_ BETWEEN :low AND :high ORDER BY _rowid_",
                                     joined(columns_, ""), from)),
          write_(into, fmt::format("INSERT INTO {} ({}) VALUES ({})", table, joined(columns_, ""),
                                   joined(columns_, ":"))) {
        told_.table = std::string(table);
    }

    SalvagedTable run(std::int64_t highest) {
        pass(1, highest);
        return told_;
    }

  private:
    void pass(std::int64_t low, std::int64_t high) {
        std::int64_t next = low;
        try {
            read_.bind(":low", low).bind(":high", high);
            for (auto rows = read_.rows(); rows.next();) {
                const auto number = rows.row().integer("row_number");
                if (number < next) throw Error("the rows are out of order");
                next = number + 1;
                keep(rows.row());
            }
            return;
        } catch (const Error&) {
            --tries_left_;
        }
        if (next > high) return;
        if (next == high || tries_left_ <= 0) {
            ++told_.gaps;
            return;
        }
        const auto middle = next + (high - next) / 2;
        pass(next, middle);
        pass(middle + 1, high);
    }

    void keep(const Row& row) {
        try {
            for (const auto& column : columns_) {
                if (row.is_bytes(column)) {
                    write_.bind_bytes(":" + column, row.bytes(column));
                } else {
                    write_.bind(":" + column, row.value(column));
                }
            }
            write_.run(transaction_);
            ++told_.rows;
        } catch (const Error&) {
            if (!transaction_.is_open()) throw;  // the disk is full: not the row's fault
            ++told_.refused;
        }
    }

    std::vector<std::string> columns_;
    Transaction& transaction_;
    Statement read_;
    Statement write_;
    SalvagedTable told_;
    int tries_left_ = 20'000;  // far more than one damaged page needs; against hopeless files
};

// The highest row number to look for: what the table says, or far above what a catalogue has.
std::int64_t highest_row(const Database& damaged, std::string_view table) {
    try {
        Statement last(damaged, fmt::format("SELECT max(_rowid_) AS n FROM {}", table));
        const auto found = last.first([](const Row& row) { return row.optional_integer("n"); });
        if (found) return found->value_or(0);
    } catch (const Error&) {
    }
    return std::int64_t{1} << 24U;
}

// Takes out what points to rows that are not there, until nothing does.
void drop_dangling(const Database& into, Transaction& transaction,
                   std::vector<SalvagedTable>& told) {
    for (;;) {
        Statement check(into,
                        "SELECT \"table\" AS child, rowid AS n FROM pragma_foreign_key_check");
        std::set<std::pair<std::string, std::int64_t>> found;
        for (auto rows = check.rows(); rows.next();) {
            found.emplace(rows.row().text("child"), rows.row().integer("n"));
        }
        if (found.empty()) return;
        for (const auto& [table, number] : found) {
            Statement drop(into, fmt::format("DELETE FROM {} WHERE _rowid_ = :n", table));
            drop.bind(":n", number).run(transaction);
            const auto row = std::ranges::find(told, table, &SalvagedTable::table);
            if (row == told.end()) throw Error("a row of " + table + " points to nothing");
            --row->rows;
            ++row->dangling;
        }
    }
}

}  // namespace

void empty_table(Database& database, std::string_view table) {
    const RawWriting raw(database);
    Transaction transaction(database);
    transaction.run_script(fmt::format("DELETE FROM {}", table));
    transaction.commit();
}

std::vector<SalvagedTable> salvage(const Database& damaged, Database& into,
                                   std::span<const std::string_view> tables) {
    try {
        const RawWriting raw(into);
        Transaction transaction(into);
        std::vector<SalvagedTable> told;
        for (const auto table : tables) {
            transaction.run_script(fmt::format("DELETE FROM {}", table));
        }
        for (const auto table : tables) {
            const auto there = columns_of(*damaged.connection(), table);
            auto columns = columns_of(*into.connection(), table);
            std::erase_if(columns, [&](const std::string& column) {
                return std::ranges::find(there, column) == there.end();
            });
            if (columns.empty()) {  // an older file, or its list of tables is damaged
                told.push_back({.table = std::string(table), .gaps = there.empty() ? 0 : 1});
                continue;
            }
            Passage passage(damaged, into, table, table, columns, transaction);
            told.push_back(passage.run(highest_row(damaged, table)));
            // Parts of it that lost the page which held them together (table_list.h).
            for (int part = 2;; ++part) {
                const auto name = fmt::format("{}_{}", table, part);
                if (columns_of(*damaged.connection(), name).empty()) break;
                Passage further(damaged, into, name, table, columns, transaction);
                const auto more = further.run(highest_row(damaged, name));
                told.back().rows += more.rows;
                told.back().refused += more.refused;
                told.back().gaps += more.gaps + 1;
            }
        }
        drop_dangling(into, transaction, told);
        transaction.commit();
        return told;
    } catch (const Error& error) {
        throw error.during("salvaging " + damaged.shown());
    }
}

}  // namespace coilbook::db
