// Every kind of thing in the catalogue as a plain table, for carrying it elsewhere and back.
//
// One description for each kind: its columns, and the SQL that lists, finds and keeps its rows.
// What is carried is what counts: rows that were undone are left out, superseded readings and
// taken-back confirmations are not. A new kind of thing is one more description in kinds.cpp, and
// its rules beside the others in app/kind_rules.cpp; files, dry runs and repeated imports need
// nothing more. Columns in SI end in _si. Other things are named by their ids; `coil_code` stands
// beside `coil_id` for people, `boat` beside `boat_id` and so on, and counts only where the id is
// missing; beside one it must not be another thing's.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "db/statement.h"
#include "store/act.h"
#include "store/picture_repository.h"

namespace coilbook::store {

enum class ColumnType {
    id,       // 26 characters (base/id.h)
    text,     // plain text of up to 100000 bytes
    moment,   // base/instant.h
    number,   // finite
    count,    // a whole number
    flag,     // yes or no: 1 or 0
    picture,  // the bytes of a PNG or JPEG file, kept beside the rows (picture_repository.h) under
              // the digest that the row's column `sha256` says; of one such column at most
};

enum class ColumnUse {
    kept,       // part of the thing
    derived,    // the same, and follows from the other cells where it is missing
    counted,    // the same, and follows from what the catalogue holds where it is missing
    said,       // the same, but a missing cell says nothing: what is there once is not taken back
    personal,   // as said; who a person is, which leaves the catalogue only when it is asked for
    identity,   // names the thing; may be empty for a new one, and then gets a value
    reference,  // for people beside the id that it explains; never compared
};
// Whether a column of that use is part of the thing.
[[nodiscard]] constexpr bool is_kept(ColumnUse use) {
    return use != ColumnUse::identity && use != ColumnUse::reference;
}

struct KindColumn {
    std::string_view name;
    ColumnType type;
    bool may_be_missing = false;  // NULL; else an empty cell is an empty text, or refused
    ColumnUse use = ColumnUse::kept;
};

struct Kind {
    std::string_view name;   // "coils"
    std::string_view thing;  // "coil"
    bool only_grows;         // its rows are never changed; corrections are further rows
    std::span<const KindColumn> columns;
    // All with the columns' names; `find` has is_undone as well. Parameters are the columns' names.
    const char* list;
    const char* find;                 // the row that these cells mean
    std::vector<const char*> insert;  // one row, all statements in this order
    // Of the row that `find` gives, bound to the new cells.
    std::vector<const char*> bring_back_or_change;
    // When rows come in masses, no trigger fires.
    struct InMasses {
        const char* insert;       // out of `incoming`, a table that has the columns
        const char* history;      // writes what its triggers would of the rows above :last_rid
        const char* last_rid;     // of all rows, 0 where there is none
        const char* greatest_id;  // of all rows, those too that `list` leaves out
        const char* names;        // that stand, as name_of() gives them
        // What one standing row alone may have, as another row's code; "" where that is nothing.
        // None where the row comes in by itself.
        std::optional<std::string> (*name_of)(const std::vector<db::Value>& row);
        // Whether a row that passed its rules surely passes the table's CHECKs: then they are not
        // asked, either. Only where that can be seen at a glance.
        bool rules_say_all;
    };
    std::optional<InMasses> in_masses = {};  // nothing: rows come in one by one
    bool only_id_names = false;  // else a code, a name or the like does, too; see only_grows
};

// All kinds, in the order in which they can be brought into an empty catalogue.
[[nodiscard]] std::span<const Kind> all_kinds();
// A Problem says which kinds there are.
[[nodiscard]] Result<const Kind*> kind_named(std::string_view name);

// The cells of one thing, one for each column.
using KindRow = std::vector<db::Value>;

class KindRepository {
  public:
    KindRepository(const db::Database& database, const Kind& kind);

    [[nodiscard]] const Kind& kind() const { return kind_; }

    // Calls `use` with every row, in an order that bringing them in keeps. A picture that is not
    // there, or not as it was, is missing in its row. Throws Error.
    void each(const std::function<void(const KindRow&)>& use);

    struct Found {
        KindRow row;
        bool is_undone;
        bool lacks_picture = false;  // that the asking row has: it is filled in
    };
    // The row of the catalogue that `row` means, by its id or by what else names it.
    [[nodiscard]] std::optional<Found> find(const KindRow& row);

    // Of kinds that come in masses: the number of the last row, 0 where there is none; the greatest
    // id, "" where there is none; and all names that stand.
    [[nodiscard]] std::int64_t last_rid() const;
    [[nodiscard]] std::string greatest_id() const;
    void each_name(const std::function<void(std::string_view name)>& use) const;

    // Throw Error where the catalogue refuses the row. REQUIRES: the row passed its rules.
    void insert(Act& act, const KindRow& row);
    void change(Act& act, const KindRow& row);
    // Where a row that is there comes with its picture, and the catalogue lacks that or has it
    // damaged, it is kept, and the history notes it: then true.
    bool bring_picture_back(Act& act, const KindRow& row);

    // Many rows, several times as fast. Gives how many of them are in: all, or fewer where the
    // catalogue refuses one among the next. Throws Error where the disk does. REQUIRES: the kind
    // has in_masses; the rows passed their rules.
    [[nodiscard]] std::size_t insert_all(Act& act, std::span<const KindRow> rows);

  private:
    // A statement with the parameters that it asks for, by the columns that they are named after.
    struct Bound {
        db::Statement statement;
        std::vector<std::pair<std::size_t, std::string>> parameters;
    };
    [[nodiscard]] static Bound bound(const db::Database& database, const Kind& kind,
                                     const char* sql);
    static db::Statement& bind(Bound& bound, const KindRow& row);
    [[nodiscard]] KindRow row_from(const db::Row& row);
    [[nodiscard]] std::size_t rows_of_a_statement() const;
    [[nodiscard]] db::Statement inserting(std::size_t rows) const;
    [[nodiscard]] bool insert_together(Act& act, std::span<const KindRow> rows);

    const Kind& kind_;
    const db::Database& database_;
    db::Statement list_;
    Bound find_;
    std::vector<Bound> insert_;
    std::vector<Bound> change_;
    std::optional<db::Statement> insert_most_;  // rows_of_a_statement() rows
    // Of kinds that have a picture.
    struct Picture {
        PictureRepository kept;
        std::size_t column, digest_column;
    };
    std::optional<Picture> picture_;
};

}  // namespace coilbook::store
