// A question or an order to the database, with everything variable bound by name.
//
//     Statement find(database, "SELECT code, note FROM thing WHERE code > :after ORDER BY code");
//     find.bind(":after", "A3");
//     for (auto rows = find.rows(); rows.next();) use(rows.row().text("code"));
//
//     Statement add(database, "INSERT INTO thing (code, note) VALUES (:code, :note)");
//     add.bind(":code", "A4").bind(":note", std::nullopt).run(transaction);
//
// Prepared once and used often: every use binds every parameter anew and leaves the statement
// ready for the next, also after a failure. NULL is never read as 0 or "": who reads a column that
// may be NULL asks for an optional. Errors name the SQL and the step.
#pragma once

#include <concepts>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "db/database.h"
#include "db/transaction.h"

namespace coilbook::db {

// What one cell can hold, for columns of type ANY; monostate is NULL.
using Value = std::variant<std::monostate, std::int64_t, double, std::string>;

class Digest;

namespace detail {
struct Prepared;
}

// The row that a statement stands on. Columns are named as in the SQL (use AS for expressions); all
// functions throw Error for a column that is not there, NULL where no optional is asked for,
// another type, and what bind() would not have let in: infinite numbers, and text that is not
// plain. Valid until the next step; what it returns is copied out.
class Row {
  public:
    [[nodiscard]] bool is_null(std::string_view column) const;
    // The same, by its place in the row (0: the leftmost).
    [[nodiscard]] bool is_null(int place) const;
    // The bytes of a text as they are stored, valid until the next step; "" for anything else.
    [[nodiscard]] std::string_view stored_text(int place) const;
    [[nodiscard]] std::int64_t integer(std::string_view column) const;
    [[nodiscard]] double real(std::string_view column) const;  // also takes an integer
    [[nodiscard]] std::string text(std::string_view column) const;
    [[nodiscard]] std::optional<std::int64_t> optional_integer(std::string_view column) const;
    [[nodiscard]] std::optional<double> optional_real(std::string_view column) const;
    [[nodiscard]] std::optional<std::string> optional_text(std::string_view column) const;
    [[nodiscard]] Value value(std::string_view column) const;
    // Of a cell that holds bytes; any bytes will do.
    [[nodiscard]] bool is_bytes(std::string_view column) const;
    [[nodiscard]] std::string bytes(std::string_view column) const;
    // Says every cell to `digest`, from left to right, just as it is stored: also what the
    // functions above would not give. Or `count` cells from the column `first` on (0: the
    // leftmost).
    void add_to(Digest& digest) const;
    void add_to(Digest& digest, int first, int count) const;

  private:
    friend class Rows;
    explicit Row(detail::Prepared& prepared) : prepared_(&prepared) {}
    detail::Prepared* prepared_;
};

// The answers of one statement, one after another. The statement is ready for its next use when
// this is gone. REQUIRES: the statement outlives it.
class Rows {
  public:
    ~Rows();
    Rows(const Rows&) = delete;
    Rows& operator=(const Rows&) = delete;

    // Goes to the next row; false at the end, and ever after. Throws Error.
    [[nodiscard]] bool next();
    // REQUIRES: the last next() was true.
    [[nodiscard]] const Row& row() const { return row_; }

  private:
    friend class Statement;
    explicit Rows(detail::Prepared& prepared) : row_(prepared) {}
    Row row_;
    bool is_done_ = false;
};

class Statement {
  public:
    // Throws Error for anything but exactly one statement that the database understands.
    // Statements that begin, end, attach or change settings are refused (connection.h).
    Statement(const Database& database, std::string_view sql);
    ~Statement();
    Statement(Statement&&) noexcept;
    Statement& operator=(Statement&&) noexcept;

    // Binds the parameter `name`, written with its colon. Throws Error where there is none of that
    // name, for a number that is not finite, and for text that is not plain (base/text.h): it would
    // not come back as it went in.
    Statement& bind(std::string_view name, std::int64_t value);
    Statement& bind(std::string_view name, double value);
    Statement& bind(std::string_view name, std::string_view text);
    Statement& bind(std::string_view name, const char* text) {
        return bind(name, std::string_view(text));
    }
    Statement& bind(std::string_view name, const std::string& text) {
        return bind(name, std::string_view(text));
    }
    Statement& bind(std::string_view name, std::nullopt_t);
    Statement& bind(std::string_view name, const Value& value);
    Statement& bind_bytes(std::string_view name, std::string_view bytes);
    // Binds the parameter by its number, of which 1 is the leftmost. `value` is not copied:
    // REQUIRES that it stays as it is until run() is over.
    Statement& bind_in_place(int number, const Value& value);
    template <std::integral Integer>
    Statement& bind(std::string_view name, Integer value) {
        static_assert(sizeof(Integer) < sizeof(std::int64_t) || std::is_signed_v<Integer>,
                      "SQLite's integers are signed 64-bit ones");
        return bind(name, static_cast<std::int64_t>(value));
    }
    template <class T>
    Statement& bind(std::string_view name, const std::optional<T>& value) {
        return value ? bind(name, *value) : bind(name, std::nullopt);
    }

    // Asks. REQUIRES, or throws Error: the statement writes nothing, every parameter is bound, no
    // other Rows of it are alive.
    [[nodiscard]] Rows rows();
    // What `make`, a function of a Row, makes of every row, and of the first one, if any.
    template <class Make>
    [[nodiscard]] auto all(Make make) {
        std::vector<std::invoke_result_t<Make, const Row&>> found;
        for (auto answer = rows(); answer.next();) found.push_back(make(answer.row()));
        return found;
    }
    template <class Make>
    [[nodiscard]] auto first(Make make) {
        std::optional<std::invoke_result_t<Make, const Row&>> found;
        if (auto answer = rows(); answer.next()) found = make(answer.row());
        return found;
    }

    // How many columns its rows have.
    [[nodiscard]] int column_count() const;

    // Writes, inside `transaction`; returns how many rows the statement itself inserted, changed or
    // deleted (those changed by triggers do not count). Throws Error, also where the transaction is
    // over or of another database; the transaction can go on after that.
    std::int64_t run(Transaction& transaction);

  private:
    std::unique_ptr<detail::Prepared> prepared_;
};

}  // namespace coilbook::db
