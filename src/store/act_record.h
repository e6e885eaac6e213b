// An act with all that it wrote, apart from any file: what goes from one copy of a catalogue to
// another. Rows that it points to are named by their ids, row numbers are left out.
//
// What a client is called belongs to no act: it goes beside them, as a PersonRecord.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "catalog/outing.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/history_repository.h"

namespace coilbook::store {

// A row that is never changed (growing_tables.h), with its cells in the order of the columns.
struct GrownRow {
    std::string table;
    std::vector<db::Value> cells;

    bool operator==(const GrownRow&) const = default;
};

// A part of a photograph's bytes, as the table picture_piece has it. They are not sealed but by the
// digest that the photograph's row names, and belong to the act that took the photograph in.
struct PicturePiece {
    std::string sha256;
    std::int64_t position = 0;
    std::string bytes;

    bool operator==(const PicturePiece&) const = default;
};

struct ActRecord {
    ActNote note;
    std::optional<Id<Act>> undoes = {};
    std::int64_t clock_ms = 0;       // its place in the order, with its id
    std::vector<Id<Act>> seen = {};  // what it was built on, in the order of ids
    int seal_form = 2;
    std::string seal;  // empty where it was never sealed
    std::vector<FieldChange> changes = {};
    std::vector<GrownRow> rows = {};  // in the order of the changes that say so
    std::int64_t pieces = 0;          // how many its photographs have (ActSource::next_piece)

    bool operator==(const ActRecord&) const = default;
};

// The picture that a row of the table photograph names by its digest; empty where it names none,
// and for rows of other tables.
[[nodiscard]] std::string picture_named_by(const GrownRow& row);

// What is known of a client: it has no history, and what was told last counts.
struct PersonRecord {
    Id<Client> client;
    std::string told_at;  // a moment as text; empty where that is not known
    std::string name;
    std::optional<std::int64_t> line_size;
    std::string hand;
    std::string notes;

    bool operator==(const PersonRecord&) const = default;
};

// Acts, each after all that it has seen, one at a time.
class ActSource {
  public:
    virtual ~ActSource() = default;

    struct Head {
        Id<Act> id;
        std::string seal;
    };
    // Goes to the next act; nothing at the end. A Problem where what comes is none. Throws Error.
    [[nodiscard]] virtual Result<std::optional<Head>> next() = 0;
    // The act that next() went to.
    [[nodiscard]] virtual ActRecord record() = 0;
    // The next piece of that act's photographs, nothing behind the last one: all together may be
    // more than fits into memory. Whoever does not want them need not ask. A Problem where what
    // comes is none. To be asked after record().
    [[nodiscard]] virtual Result<std::optional<PicturePiece>> next_piece() = 0;
    // To be asked when there is no further act.
    [[nodiscard]] virtual std::vector<PersonRecord> persons() = 0;
};

// The acts of one database, in their order. Throws Error where it cannot be read.
class RecordedActs : public ActSource {
  public:
    explicit RecordedActs(const db::Database& database);

    [[nodiscard]] Result<std::optional<Head>> next() override;
    [[nodiscard]] ActRecord record() override;
    [[nodiscard]] Result<std::optional<PicturePiece>> next_piece() override;
    [[nodiscard]] std::vector<PersonRecord> persons() override;

  private:
    db::Statement next_;
    db::Statement act_;
    db::Statement seen_;
    db::Statement changes_;
    std::map<std::string, db::Statement, std::less<>> rows_;  // by table
    db::Statement count_pieces_;
    db::Statement piece_;
    db::Statement persons_;
    std::int64_t at_ = 0;                // rid of the act that next() went to
    std::vector<std::string> pictures_;  // of that act, as far as they were not given, from behind
    std::int64_t last_position_ = -1;    // that was given of the next one
};

// Writes acts into a database, row by row, without their place in the order: that is replay()'s.
// REQUIRES, of its functions: db::RawWriting, and that `transaction` is of that database.
class ActWriter {
  public:
    explicit ActWriter(const db::Database& database);

    // Gives its row number. A Problem where it names tables, fields or acts that there are not, or
    // its clock does not follow from what it has seen, and for a row that is there with other
    // cells. One that is there with the same cells came in twice, as when a table is taken to both
    // laptops: it is one row. Throws Error where the database refuses it.
    [[nodiscard]] Result<std::int64_t> add(db::Transaction& transaction, const ActRecord& record);
    // A piece of one of its photographs. A Problem where no photograph of `record` has it.
    [[nodiscard]] Result<void> add(db::Transaction& transaction, const ActRecord& record,
                                   const PicturePiece& piece);
    // Takes over what was told later than what is there; nothing of a client who was forgotten or
    // is not there. Gives whether it did.
    bool add(db::Transaction& transaction, const PersonRecord& person);

  private:
    [[nodiscard]] Result<void> check_clock(const ActRecord& record);
    [[nodiscard]] Result<void> add_changes(db::Transaction& transaction, std::int64_t act,
                                           const ActRecord& record);
    void add_born(db::Transaction& transaction, const std::vector<FieldChange>& changes,
                  std::size_t at);
    [[nodiscard]] Result<void> add_row(db::Transaction& transaction, const ActRecord& record,
                                       const GrownRow& row);

    db::Statement find_;
    db::Statement act_;
    db::Statement seen_;
    db::Statement undo_;
    db::Statement seal_;
    db::Statement change_;
    std::map<std::string, db::Statement, std::less<>> born_;  // by changing table
    std::map<std::string, db::Statement, std::less<>> has_;
    std::map<std::string, db::Statement, std::less<>> rows_;   // by growing table
    std::map<std::string, db::Statement, std::less<>> there_;  // the same, to read
    db::Statement put_piece_;
    db::Statement has_person_;
    db::Statement put_person_;
};

}  // namespace coilbook::store
