#include "db/statement.h"

#include <cmath>

#include "base/error.h"
#include "base/text.h"
#include "db/connection.h"
#include "db/digest.h"

namespace coilbook::db {
namespace detail {

// SQLite's statement, with what it does not keep itself.
struct Prepared {
    std::shared_ptr<Connection> connection;  // keeps the handle open: it must outlive the statement
    std::string sql;
    sqlite3_stmt* handle = nullptr;
    std::vector<std::string> columns;
    std::vector<bool> bound;  // by SQLite's number of the parameter, less one
    bool is_running = false;

    ~Prepared() { sqlite3_finalize(handle); }

    [[noreturn]] void fail(const char* step, const std::string& why) const {
        throw Error(std::string(step) + " " + shown_sql(sql) + ": " + why);
    }

    int parameter(std::string_view name) {
        const int index = sqlite3_bind_parameter_index(handle, std::string(name).c_str());
        if (index == 0) fail("binding", "there is no parameter " + std::string(name));
        if (is_running) fail("binding", "its rows are still being read");
        return index;
    }

    void check_bind(int index, int code) {
        if (code != SQLITE_OK) connection->fail(code, "binding", sql);
        bound[static_cast<std::size_t>(index - 1)] = true;
    }

    // `shown` names the parameter in messages. Text is copied, or, with SQLITE_STATIC, stays.
    void put(int index, std::string_view shown, std::string_view text,
             sqlite3_destructor_type copying) {
        if (!is_plain_text(text)) {
            fail("binding", std::string(shown) + " is not plain text: " + coilbook::quoted(text));
        }
        const char* bytes = text.data() ? text.data() : "";  // a null pointer would be NULL
        check_bind(index,
                   sqlite3_bind_text64(handle, index, bytes, text.size(), copying, SQLITE_UTF8));
    }

    void check_all_bound() const {
        for (std::size_t at = 0; at < bound.size(); ++at) {
            if (bound[at]) continue;
            const char* name = sqlite3_bind_parameter_name(handle, static_cast<int>(at) + 1);
            fail("running", std::string(name ? name : "a parameter") + " was not bound");
        }
    }

    // Ready for the next use. sqlite3_reset repeats the error of the last step, which was told.
    void reset() noexcept {
        sqlite3_reset(handle);
        sqlite3_clear_bindings(handle);
        bound.assign(bound.size(), false);
        is_running = false;
    }

    int column(std::string_view name) const {
        for (std::size_t at = 0; at < columns.size(); ++at) {
            if (columns[at] == name) return static_cast<int>(at);
        }
        fail("reading", "there is no column " + std::string(name));
    }

    [[noreturn]] void fail_type(std::string_view name, const char* wanted) const {
        fail("reading", "the column " + std::string(name) + " holds no " + wanted);
    }
};

}  // namespace detail

namespace {

std::string_view text_at(sqlite3_stmt* handle, int column) {
    const auto* bytes = sqlite3_column_text(handle, column);
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(handle, column));
    return bytes ? std::string_view(reinterpret_cast<const char*>(bytes), size)
                 : std::string_view();
}

}  // namespace

bool Row::is_null(std::string_view column) const {
    return sqlite3_column_type(prepared_->handle, prepared_->column(column)) == SQLITE_NULL;
}

bool Row::is_null(int place) const {
    return sqlite3_column_type(prepared_->handle, place) == SQLITE_NULL;
}

std::string_view Row::stored_text(int place) const {
    if (sqlite3_column_type(prepared_->handle, place) != SQLITE_TEXT) return {};
    return text_at(prepared_->handle, place);
}

std::int64_t Row::integer(std::string_view column) const {
    const int at = prepared_->column(column);
    if (sqlite3_column_type(prepared_->handle, at) != SQLITE_INTEGER) {
        prepared_->fail_type(column, "integer");
    }
    return sqlite3_column_int64(prepared_->handle, at);
}

double Row::real(std::string_view column) const {
    const int at = prepared_->column(column);
    const int type = sqlite3_column_type(prepared_->handle, at);
    if (type != SQLITE_FLOAT && type != SQLITE_INTEGER) prepared_->fail_type(column, "number");
    const double number = sqlite3_column_double(prepared_->handle, at);
    if (!std::isfinite(number)) prepared_->fail_type(column, "finite number");
    return number;
}

std::string Row::text(std::string_view column) const {
    const int at = prepared_->column(column);
    if (sqlite3_column_type(prepared_->handle, at) != SQLITE_TEXT) {
        prepared_->fail_type(column, "text");
    }
    const auto found = text_at(prepared_->handle, at);
    if (!is_plain_text(found)) prepared_->fail_type(column, "plain text");
    return std::string(found);
}

std::optional<std::int64_t> Row::optional_integer(std::string_view column) const {
    if (is_null(column)) return std::nullopt;
    return integer(column);
}

std::optional<double> Row::optional_real(std::string_view column) const {
    if (is_null(column)) return std::nullopt;
    return real(column);
}

std::optional<std::string> Row::optional_text(std::string_view column) const {
    if (is_null(column)) return std::nullopt;
    return text(column);
}

Value Row::value(std::string_view column) const {
    const int at = prepared_->column(column);
    switch (sqlite3_column_type(prepared_->handle, at)) {
        case SQLITE_NULL:
            return std::monostate{};
        case SQLITE_INTEGER:
            return std::int64_t{sqlite3_column_int64(prepared_->handle, at)};
        case SQLITE_FLOAT:
            return real(column);
        case SQLITE_TEXT:
            return text(column);
        default:
            prepared_->fail_type(column, "number or text");
    }
}

bool Row::is_bytes(std::string_view column) const {
    return sqlite3_column_type(prepared_->handle, prepared_->column(column)) == SQLITE_BLOB;
}

std::string Row::bytes(std::string_view column) const {
    if (!is_bytes(column)) prepared_->fail_type(column, "bytes");
    const int at = prepared_->column(column);
    const auto* bytes = static_cast<const char*>(sqlite3_column_blob(prepared_->handle, at));
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(prepared_->handle, at));
    return bytes ? std::string(bytes, size) : std::string();
}

void Row::add_to(Digest& digest) const {
    add_to(digest, 0, sqlite3_column_count(prepared_->handle));
}

void Row::add_to(Digest& digest, int first, int count) const {
    sqlite3_stmt* handle = prepared_->handle;
    for (int at = first; at < first + count; ++at) {
        switch (sqlite3_column_type(handle, at)) {
            case SQLITE_NULL:
                digest.add_null();
                break;
            case SQLITE_INTEGER:
                digest.add(std::int64_t{sqlite3_column_int64(handle, at)});
                break;
            case SQLITE_FLOAT:
                digest.add(sqlite3_column_double(handle, at));
                break;
            case SQLITE_TEXT:
                digest.add(text_at(handle, at));
                break;
            default: {
                const auto* bytes = static_cast<const char*>(sqlite3_column_blob(handle, at));
                const auto size = static_cast<std::size_t>(sqlite3_column_bytes(handle, at));
                digest.add_blob(bytes ? std::string_view(bytes, size) : std::string_view());
                break;
            }
        }
    }
}

Rows::~Rows() {
    row_.prepared_->reset();
}

bool Rows::next() {
    if (is_done_) return false;
    auto& prepared = *row_.prepared_;
    const int code = sqlite3_step(prepared.handle);
    if (code == SQLITE_ROW) return true;
    is_done_ = true;
    if (code != SQLITE_DONE) prepared.connection->fail(code, "reading", prepared.sql);
    return false;
}

Statement::Statement(const Database& database, std::string_view sql)
    : prepared_(std::make_unique<detail::Prepared>()) {
    auto& prepared = *prepared_;
    prepared.connection = database.connection();
    prepared.sql = std::string(sql);
    const char* rest = nullptr;
    const int code = sqlite3_prepare_v3(prepared.connection->handle(), prepared.sql.c_str(), -1,
                                        SQLITE_PREPARE_PERSISTENT, &prepared.handle, &rest);
    if (code != SQLITE_OK) prepared.connection->fail(code, "preparing", prepared.sql);
    if (prepared.handle == nullptr) prepared.fail("preparing", "there is no statement");
    if (!trimmed(rest).empty()) prepared.fail("preparing", "there is more than one statement");
    prepared.bound.assign(static_cast<std::size_t>(sqlite3_bind_parameter_count(prepared.handle)),
                          false);
    for (int at = 0; at < sqlite3_column_count(prepared.handle); ++at) {
        prepared.columns.emplace_back(sqlite3_column_name(prepared.handle, at));
    }
}

Statement::~Statement() = default;
Statement::Statement(Statement&&) noexcept = default;
Statement& Statement::operator=(Statement&&) noexcept = default;

Statement& Statement::bind(std::string_view name, std::int64_t value) {
    const int index = prepared_->parameter(name);
    prepared_->check_bind(index, sqlite3_bind_int64(prepared_->handle, index, value));
    return *this;
}

Statement& Statement::bind(std::string_view name, double value) {
    const int index = prepared_->parameter(name);
    // SQLite would keep a NaN as NULL and say nothing.
    if (!std::isfinite(value)) {
        prepared_->fail("binding", std::string(name) + " is not a finite number");
    }
    prepared_->check_bind(index, sqlite3_bind_double(prepared_->handle, index, value));
    return *this;
}

Statement& Statement::bind(std::string_view name, std::string_view text) {
    prepared_->put(prepared_->parameter(name), name, text, SQLITE_TRANSIENT);
    return *this;
}

Statement& Statement::bind(std::string_view name, std::nullopt_t) {
    const int index = prepared_->parameter(name);
    prepared_->check_bind(index, sqlite3_bind_null(prepared_->handle, index));
    return *this;
}

Statement& Statement::bind(std::string_view name, const Value& value) {
    if (const auto* integer = std::get_if<std::int64_t>(&value)) return bind(name, *integer);
    if (const auto* real = std::get_if<double>(&value)) return bind(name, *real);
    if (const auto* text = std::get_if<std::string>(&value)) return bind(name, *text);
    return bind(name, std::nullopt);
}

Statement& Statement::bind_in_place(int number, const Value& value) {
    auto& prepared = *prepared_;
    if (prepared.is_running) prepared.fail("binding", "its rows are still being read");
    if (const auto* text = std::get_if<std::string>(&value)) {
        prepared.put(number, "this", *text, SQLITE_STATIC);
    } else if (const auto* real = std::get_if<double>(&value)) {
        if (!std::isfinite(*real)) {
            prepared.fail("binding", "parameter " + std::to_string(number) + " is not finite");
        }
        prepared.check_bind(number, sqlite3_bind_double(prepared.handle, number, *real));
    } else if (const auto* integer = std::get_if<std::int64_t>(&value)) {
        prepared.check_bind(number, sqlite3_bind_int64(prepared.handle, number, *integer));
    } else {
        prepared.check_bind(number, sqlite3_bind_null(prepared.handle, number));
    }
    return *this;
}

Statement& Statement::bind_bytes(std::string_view name, std::string_view bytes) {
    const int index = prepared_->parameter(name);
    const char* first = bytes.data() ? bytes.data() : "";
    prepared_->check_bind(index, sqlite3_bind_blob64(prepared_->handle, index, first, bytes.size(),
                                                     SQLITE_TRANSIENT));
    return *this;
}

Rows Statement::rows() {
    auto& prepared = *prepared_;
    if (!sqlite3_stmt_readonly(prepared.handle)) {
        prepared.fail("reading", "it writes; run it in a transaction");
    }
    if (prepared.is_running) prepared.fail("running", "its rows are still being read");
    prepared.check_all_bound();
    prepared.is_running = true;
    return Rows(prepared);
}

int Statement::column_count() const {
    return static_cast<int>(prepared_->columns.size());
}

std::int64_t Statement::run(Transaction& transaction) {
    auto& prepared = *prepared_;
    if (&transaction.connection() != prepared.connection.get()) {
        prepared.fail("running", "the transaction is on another database");
    }
    if (!transaction.is_open()) prepared.fail("running", "the transaction is over");
    if (prepared.is_running) prepared.fail("running", "its rows are still being read");
    prepared.check_all_bound();
    int code = sqlite3_step(prepared.handle);
    while (code == SQLITE_ROW) code = sqlite3_step(prepared.handle);
    // The message and the count are of the last step on this connection: take them before reset.
    const std::int64_t changed = sqlite3_changes64(prepared.connection->handle());
    std::string failure;
    if (code != SQLITE_DONE) {
        failure = "running " + shown_sql(prepared.sql) + ": " + prepared.connection->in_words(code);
    }
    prepared.reset();
    prepared.connection->end_if_unwanted(code);
    if (!failure.empty()) throw Error(failure);
    return changed;
}

}  // namespace coilbook::db
