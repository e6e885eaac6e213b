#include "app/import_table.h"

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

#include "app/codes.h"
#include "app/kind_rules.h"
#include "app/kind_text.h"
#include "app/named_things.h"
#include "app/read_ahead.h"
#include "app/refused_rows.h"
#include "app/rows_alike.h"
#include "app/surely_new.h"
#include "app/waiting_rows.h"
#include "base/text.h"
#include "exchange/csv.h"
#include "exchange/records.h"

namespace coilbook::app {
namespace {

using exchange::Record;
using exchange::RecordsHead;
using store::ColumnUse;

enum class Change { add, change, same };
const char* name_of(Change change) {
    switch (change) {
        case Change::add:
            return "add";
        case Change::change:
            return "change";
        case Change::same:
            return "same";
    }
    return "?";
}

struct Done {
    Change change;
    std::string thing;
    std::string detail;
};

// The cells of a row, and which columns it has at all.
struct Given {
    store::KindRow cells;
    std::vector<bool> is_there;
};

// A row of the file, and what its cells say where it could be made out.
struct Understood {
    Result<Record> record;
    Result<Given> given;
};

// One run over a file, inside an act.
class Import {
  public:
    Import(Workshop& workshop, const ImportRequest& request, std::ostream& results,
           const ImportReports& reports, store::Act& act, RefusedRows* refused)
        : workshop_(workshop),
          request_(request),
          kind_(*request.kind),
          reports_(reports),
          act_(act),
          table_(workshop.catalogue().table_of(kind_)),
          refused_(refused) {
        if (!request.is_dry_run) return;
        writer_.emplace(results,
                        std::vector<Column>{{"line", true}, {"change"}, {"thing"}, {"detail"}},
                        request.format, request.terminal_width);
    }

    Result<void> begin(const RecordsHead& head) {
        head_ = head;
        for (const auto& name : head.columns) {
            places_.push_back(column_named(name));
            if (name == RefusedRows::reason_column || column_named(name)) continue;
            return problem(name, "the column is unknown", "one of " + columns_in_words());
        }
        return {};
    }

    // On the reading thread, once begun: asks nothing of the catalogue.
    [[nodiscard]] Understood understood(Result<Record>&& record) const {
        auto given = record ? given_by(*record) : Result<Given>();
        return {std::move(record), std::move(given)};
    }

    void use(Understood&& row) {
        ++rows_;
        if (!row.record) {
            bring_in_waiting();
            refuse(nullptr, row.record.error());
        } else if (auto done = take(row.record->line, std::move(row.given)); !done) {
            refuse(*row.record, done.error());
        } else if (*done) {
            tell(row.record->line, **done);
        }
        if (reports_.progress) reports_.progress(rows_);
    }

    [[nodiscard]] ImportCounts finish() {
        bring_in_waiting();
        if (writer_) writer_->finish();
        if (refused_ != nullptr) refused_->finish();
        return counts_;
    }
    // How many rows could not even be parted into cells, so that none can be put aside.
    [[nodiscard]] std::size_t unreadable() const { return unreadable_; }

  private:
    [[nodiscard]] std::optional<std::size_t> column_named(std::string_view name) const {
        const auto found = std::ranges::find(kind_.columns, name, &store::KindColumn::name);
        if (found == kind_.columns.end()) return std::nullopt;
        return static_cast<std::size_t>(found - kind_.columns.begin());
    }
    [[nodiscard]] std::string columns_in_words() const {
        std::vector<std::string> names;
        for (const auto& column : kind_.columns) names.emplace_back(column.name);
        return listed(names);
    }

    [[nodiscard]] Result<Given> given_by(const Record& record) const {
        Given given{store::KindRow(kind_.columns.size()),
                    std::vector<bool>(kind_.columns.size(), false)};
        for (std::size_t i = 0; i < record.cells.size(); ++i) {
            const auto& cell = record.cells[i];
            const auto at = places_.empty() ? column_named(cell.name) : places_[i];
            if (!at && cell.name == RefusedRows::reason_column) continue;
            if (!at) {
                return problem(std::string(cell.name), "the column is unknown",
                               "one of " + columns_in_words());
            }
            const auto& column = kind_.columns[*at];
            given.is_there[*at] = true;
            if (cell.text) {
                auto value = value_from(column, *cell.text, head_);
                if (!value) return tl::unexpected(value.error());
                given.cells[*at] = std::move(*value);
            } else if (column.type == store::ColumnType::text && !column.may_be_missing) {
                given.cells[*at] = std::string();
            }
        }
        return given;
    }

    // A thing's id, where only the words beside it are there.
    struct Named {
        const NamedThing* thing;
        std::size_t id, words;                            // its columns
        std::pair<std::string, std::string> agreed = {};  // the last id and words of one thing
    };
    [[nodiscard]] std::vector<Named> named_in_columns() const {
        std::vector<Named> found;
        for (const auto& thing : named_things) {
            const auto id = column_named(thing.id_column);
            const auto words = column_named(thing.words_column);
            if (id && words) found.push_back({&thing, *id, *words});
        }
        return found;
    }
    [[nodiscard]] Result<void> name_thing(Given& given, Named& at) {
        const auto* text = std::get_if<std::string>(&given.cells[at.words]);
        if (text == nullptr) return {};
        if (const auto* id = std::get_if<std::string>(&given.cells[at.id])) {
            return check_agree(at, {*id, *text});
        }
        const auto& named = *at.thing;
        const auto found = named.id_of(workshop_, *text);
        if (!found) return tl::unexpected(found.error());
        if (!*found) {
            return problem(
                std::string(named.words_column),
                "there is no " + std::string(named.thing) + " " + coilbook::quoted(*text),
                std::string(named.accepted));
        }
        given.cells[at.id] = **found;
        given.is_there[at.id] = true;
        return {};
    }

    // Words that nothing is called by any more are as good as none.
    [[nodiscard]] Result<void> check_agree(Named& at, std::pair<std::string, std::string> said) {
        if (said == at.agreed) return {};
        const auto& [id, words] = said;
        const auto& named = *at.thing;
        const auto own = named.words_of(workshop_, id);
        if (own && at.id == coil_at_) kept_coil_ = id;
        if (own && *own != words) {
            const auto called_so = named.id_of(workshop_, words);
            if (called_so && *called_so && **called_so != id) {
                return problem(
                    std::string(named.words_column),
                    coilbook::quoted(words) + " is another " + std::string(named.thing) + " than " +
                        std::string(named.id_column) + " says",
                    "both of one " + std::string(named.thing) + ", or one of them empty");
            }
        }
        at.agreed = std::move(said);
        return {};
    }

    // What is retired has left its code or name to others: a row without an id, of a thing that
    // does not stand, means the one that was called so and retired at the same moment.
    void name_retired(Given& given) {
        if (!retired_at_ || !is_missing(given.cells.front())) return;
        if (is_missing(given.cells[*retired_at_])) return;
        bring_in_waiting();
        if (find(given.cells)) return;  // this retires it
        if (!retired_) {
            retired_.emplace();
            table_.each([&](const store::KindRow& row) {
                if (!is_missing(row[*retired_at_]))
                    retired_->emplace(retired_name(row), row.front());
            });
        }
        const auto found = retired_->find(retired_name(given.cells));
        if (found != retired_->end()) given.cells.front() = found->second;
    }
    [[nodiscard]] std::string retired_name(const store::KindRow& row) const {
        return std::string(text_at(row, retired_at_)) += trimmed(text_at(row, name_at_));
    }

    void name_alike(Given& given) {
        if (!kind_.only_grows && !kind_.only_id_names) return;
        if (!is_missing(given.cells.front())) return;
        auto wanted = given.cells;
        fill_texts(wanted);
        if (auto id = rows_alike_.next_id(wanted)) given.cells.front() = std::move(*id);
    }

    static bool is_missing(const db::Value& value) {
        return std::holds_alternative<std::monostate>(value);
    }
    // "" where there is no text, or no such column.
    static std::string_view text_at(const store::KindRow& row, std::optional<std::size_t> column) {
        const auto* text = column ? std::get_if<std::string>(&row[*column]) : nullptr;
        return text ? std::string_view(*text) : std::string_view();
    }

    // Nothing where the row waits for others.
    [[nodiscard]] Result<std::optional<Done>> take(std::size_t line, Result<Given>&& given) {
        if (!given) return tl::unexpected(given.error());
        for (auto& named : named_) {
            if (auto wrong = name_thing(*given, named); !wrong) {
                return tl::unexpected(wrong.error());
            }
        }
        const bool has_own_id =
            kind_.columns.front().use == ColumnUse::identity && !is_missing(given->cells.front());
        name_retired(*given);
        name_alike(*given);
        const bool is_new = is_surely_new(given->cells);
        if (!is_new) bring_in_waiting();
        const auto found = is_new ? std::nullopt : find(given->cells);
        auto row = found ? merged(*given, found->row) : std::move(given->cells);
        if (found && !found->is_undone && is_same(row, found->row)) {
            if (!found->lacks_picture) return Done{Change::same, thing_of(row), ""};
            table_.bring_picture_back(act_, row);
            return Done{Change::change, thing_of(row), "its picture is whole again"};
        }
        if (found && kind_.only_grows && !is_same(row, found->row)) {
            return problem(std::string(first_difference(row, found->row)),
                           "a " + std::string(kind_.thing) + " is never changed",
                           "a further row without an id");
        }
        if (!found) {
            if (auto wrong = fill(row); !wrong) return tl::unexpected(wrong.error());
        }
        const bool is_of_kept_coil = !kept_coil_.empty() && text_at(row, coil_at_) == kept_coil_;
        const Known known{
            .has_new_name = is_new, .coil_is_kept = is_of_kept_coil, .has_own_id = has_own_id};
        if (auto wrong = check_row(workshop_, kind_, row, known); !wrong) {
            return tl::unexpected(wrong.error());
        }
        if (!is_of_kept_coil) kept_coil_ = text_at(row, coil_at_);
        if (is_new) {
            if (waiting_.is_full()) bring_in_waiting();
            given->cells = waiting_.add(line, std::move(row));
            return std::optional<Done>();
        }
        if (auto wrong = keep(row, found.has_value()); !wrong) {
            return tl::unexpected(wrong.error());
        }
        if (surely_new_) surely_new_->note_name_of(row);
        if (!found) return Done{Change::add, thing_of(row), ""};
        if (found->is_undone) return Done{Change::add, thing_of(row), "it was undone before"};
        return Done{Change::change, thing_of(row), differences(found->row, row)};
    }

    // What the catalogue calls nothing and what it calls an empty text are told apart only by the
    // column; a row is looked for as if its missing texts were empty.
    [[nodiscard]] std::optional<store::KindRepository::Found> find(const store::KindRow& row) {
        auto wanted = row;
        fill_texts(wanted);
        return table_.find(wanted);
    }

    // False in files that have few rows so far, for themselves or beside the table's own, all of
    // which must be read before this can be told.
    [[nodiscard]] bool is_surely_new(const store::KindRow& row) {
        if (!kind_.in_masses || head_.format != exchange::RecordFormat::csv) return false;
        if (!few_rows_) {
            few_rows_ =
                std::max<std::size_t>(1000, static_cast<std::size_t>(table_.last_rid()) / 100);
        }
        if (rows_ <= *few_rows_) return false;
        if (!surely_new_) surely_new_.emplace(table_);
        return surely_new_->note(row);
    }
    // Those that the catalogue refuses together with others come in one by one, and those that it
    // refuses then are told.
    void bring_in_waiting() {
        const auto [lines, rows] = waiting_.take();
        const auto are_in = rows.size() < worth_together ? 0 : table_.insert_all(act_, rows);
        for (std::size_t at = 0; at < rows.size(); ++at) {
            const auto wrong = at < are_in ? Result<void>() : keep(rows[at], false);
            if (wrong) {
                tell(lines[at], {Change::add, writer_ ? thing_of(rows[at]) : std::string(), ""});
            } else {
                refuse(record_of(lines[at], rows[at]), wrong.error());
            }
        }
    }
    // A row of the file as it would say what `row` holds.
    [[nodiscard]] Record record_of(std::size_t line, const store::KindRow& row) const {
        Record record{line, {}};
        for (const auto& name : head_.columns) {
            const auto at = column_named(name);
            if (!at) continue;
            record.cells.push_back(
                {name, is_missing(row[*at])
                           ? std::nullopt
                           : std::optional(written(kind_.columns[*at], row[*at]))});
        }
        return record;
    }

    void fill_texts(store::KindRow& row) const {
        for (std::size_t i = 0; i < row.size(); ++i) {
            const auto& column = kind_.columns[i];
            if (is_missing(row[i]) && column.type == store::ColumnType::text &&
                !column.may_be_missing) {
                row[i] = std::string();
            }
        }
    }

    // What the row says, over what is there. A missing cell says nothing where it cannot be meant:
    // of things that only grow, and in columns where nothing can be missing.
    [[nodiscard]] store::KindRow merged(const Given& given, const store::KindRow& there) const {
        auto row = there;
        for (std::size_t i = 0; i < row.size(); ++i) {
            const auto& column = kind_.columns[i];
            const bool says_nothing =
                is_missing(given.cells[i]) &&
                (kind_.only_grows || !column.may_be_missing || column.use != ColumnUse::kept);
            if (!given.is_there[i] || !store::is_kept(column.use) || says_nothing) continue;
            row[i] = given.cells[i];
        }
        return row;
    }

    [[nodiscard]] bool is_same(const store::KindRow& a, const store::KindRow& b) const {
        return first_difference(a, b).empty();
    }
    [[nodiscard]] std::string_view first_difference(const store::KindRow& a,
                                                    const store::KindRow& b) const {
        for (std::size_t i = 0; i < a.size(); ++i) {
            if (store::is_kept(kind_.columns[i].use) && a[i] != b[i]) {
                return kind_.columns[i].name;
            }
        }
        return "";
    }
    [[nodiscard]] std::string differences(const store::KindRow& was,
                                          const store::KindRow& becomes) const {
        std::string text;
        for (std::size_t i = 0; i < was.size(); ++i) {
            const auto& column = kind_.columns[i];
            if (!store::is_kept(column.use) || was[i] == becomes[i]) continue;
            text += (text.empty() ? "" : "; ") + std::string(column.name) + ": " +
                    shown(column, was[i]) + " -> " + shown(column, becomes[i]);
        }
        return text;
    }

    // What a new thing needs and the row leaves open.
    [[nodiscard]] Result<void> fill(store::KindRow& row) const {
        fill_texts(row);
        for (std::size_t i = 0; i < row.size(); ++i) {
            const auto& column = kind_.columns[i];
            if (!is_missing(row[i])) continue;
            if (column.use == ColumnUse::identity) {
                row[i] = workshop_.new_id<Record>().text();
            } else if (column.may_be_missing) {
                continue;
            } else if (column.type == store::ColumnType::moment) {
                row[i] = to_text(workshop_.surroundings().now());
            } else {
                return problem(std::string(column.name), "this is empty", "a value");
            }
        }
        return {};
    }

    [[nodiscard]] Result<void> keep(const store::KindRow& row, bool is_there) {
        try {
            if (is_there) {
                table_.change(act_, row);
            } else {
                table_.insert(act_, row);
            }
        } catch (const Error& error) {
            // The disk's failures end the act; of a row in two tables one half may be there.
            if (!act_.transaction().is_open() || kind_.insert.size() > 1) throw;
            return problem("", std::string("the catalogue cannot keep this: ") + error.what(),
                           "another value");
        }
        return {};
    }

    // What a person calls it: the first text that names it, or its id.
    [[nodiscard]] std::string thing_of(const store::KindRow& row) const {
        for (const auto* name :
             {"code", "coil_code", "class", "name", "instrument", "micrometer"}) {
            const auto text = text_at(row, column_named(name));
            if (!text.empty()) return std::string(text);
        }
        return std::string(text_at(row, 0));
    }

    // In the order of the file.
    void tell(std::size_t line, const Done& done) {
        bring_in_waiting();
        switch (done.change) {
            case Change::add:
                ++counts_.added;
                break;
            case Change::change:
                ++counts_.changed;
                break;
            case Change::same:
                ++counts_.same;
                break;
        }
        const bool is_told = request_.format != Format::table || done.change != Change::same;
        if (writer_ && is_told) {
            writer_->add({static_cast<std::int64_t>(line), name_of(done.change),
                          cell_of(done.thing), cell_of(done.detail)});
        }
    }

    void refuse(const Record& record, const Problem& problem) {
        bring_in_waiting();
        refuse(&record, exchange::in_file(request_.file.string(), record.line, problem));
    }
    // `record` is null where not even the cells could be made out.
    void refuse(const Record* record, const Problem& problem) {
        ++counts_.refused;
        if (reports_.problem) reports_.problem(problem);
        if (writer_) {
            writer_->add({record ? Cell(static_cast<std::int64_t>(record->line)) : Cell{},
                          std::string("refused"), Cell{}, to_line(problem)});
        }
        if (record == nullptr) ++unreadable_;
        if (record != nullptr && refused_ != nullptr) put_aside(*record, problem);
    }

    void put_aside(const Record& record, Problem why) {
        why.field = why.field.substr(std::min(why.field.size(), place_length(record)));
        std::vector<std::string> columns = head_.columns;
        if (columns.empty()) {
            for (const auto& column : kind_.columns) columns.emplace_back(column.name);
        }
        refused_->add(record, columns, head_.format, to_line(why));
    }
    // Of "FILE:LINE: " before the column; the reason is told beside the row itself.
    [[nodiscard]] std::size_t place_length(const Record& record) const {
        return request_.file.string().size() + std::to_string(record.line).size() + 3;
    }

    Workshop& workshop_;
    const ImportRequest& request_;
    const store::Kind& kind_;
    const ImportReports& reports_;
    store::Act& act_;
    store::KindRepository table_;
    std::optional<RowWriter> writer_;
    RecordsHead head_;
    std::vector<std::optional<std::size_t>>
        places_;  // of the head's columns in the kind's; JSON: none
    std::size_t rows_ = 0;
    ImportCounts counts_;
    std::size_t unreadable_ = 0;  // of the refused
    RefusedRows* refused_;        // null: they are only told
    RowsAlike rows_alike_{table_};
    WaitingRows waiting_;
    static constexpr std::size_t worth_together = 20;  // fewer are quicker one by one
    std::optional<std::size_t> few_rows_;
    std::optional<SurelyNew> surely_new_;
    std::string kept_coil_;  // that a row named last; the next one is often of the same
    std::optional<std::size_t> coil_at_ = column_named("coil_id");
    std::optional<std::size_t> retired_at_ = column_named("retired_at");
    // What a standing thing is called by: its code, or its name where it has none.
    std::optional<std::size_t> name_at_ =
        column_named("code") ? column_named("code") : column_named("name");
    std::optional<std::map<std::string, db::Value>> retired_;  // ids by moment and name
    std::vector<Named> named_ = named_in_columns();
};

// The largest picture takes 11 MiB in base64.
std::size_t longest_row_of(const store::Kind& kind) {
    const bool has_picture = std::ranges::find(kind.columns, store::ColumnType::picture,
                                               &store::KindColumn::type) != kind.columns.end();
    return (has_picture ? 12 : 1) * exchange::longest_csv_row;
}

// Begins and reads `source` through `read`, and keeps what came of it.
template <class Read>
Result<ImportCounts> import_from(Workshop& workshop, const ImportRequest& request,
                                 std::ostream& results, const ImportReports& reports, Read read) {
    if (request.refused_into && !request.is_dry_run) {
        std::error_code none;
        if (std::filesystem::exists(std::filesystem::symlink_status(*request.refused_into, none))) {
            return problem(
                "--keep-going",
                coilbook::quoted(request.refused_into->string(), 300) + " exists already",
                "another name");
        }
    }
    auto& catalogue = workshop.catalogue();
    ImportCounts counts;
    std::optional<Problem> unreadable;
    std::optional<RefusedRows> refused;
    if (request.refused_into && !request.is_dry_run) refused.emplace(*request.refused_into);
    const auto what =
        "import " + std::string(request.kind->name) + " from " + request.file.filename().string();
    // A Problem out of the act undoes all of it.
    const auto done = catalogue.act(workshop.note(what), [&](store::Act& act) -> Result<void> {
        Import import(workshop, request, results, reports, act, refused ? &*refused : nullptr);
        const auto whole = read_ahead<Understood>(
            [&](const auto& put) {
                return read(
                    [&](const RecordsHead& head) { return import.begin(head); },
                    [&](Result<Record>&& record) { put(import.understood(std::move(record))); });
            },
            [&](Understood&& row) { import.use(std::move(row)); }, WaitingRows::most_rows,
            [](const Understood& row) { return row.given ? text_bytes(row.given->cells) : 0; });
        if (!whole) {
            unreadable = whole.error();
            return whole;
        }
        counts = import.finish();
        if (refused && import.unreadable() > 0) {
            unreadable = Problem{request.file.string(),
                                 std::to_string(import.unreadable()) +
                                     " of its rows, told above, cannot be parted into cells, nor "
                                     "put aside; nothing was imported",
                                 "a table in which at least the cells can be made out"};
            return tl::unexpected(*unreadable);
        }
        if (request.is_dry_run || (counts.refused > 0 && !request.refused_into)) {
            return problem("", "nothing is changed", "");
        }
        return {};
    });
    if (unreadable) return tl::unexpected(std::move(*unreadable));
    if (done && refused) refused->keep();
    if (done && counts.added + counts.changed > 0) {
        workshop.refresh();
        // A table may say that somebody is to be forgotten.
        if (request.kind->name == "clients") catalogue.wipe_deleted();
    }
    return counts;
}

}  // namespace

Result<ImportCounts> import_table(Workshop& workshop, const ImportRequest& request,
                                  std::ostream& results, const ImportReports& reports) {
    return import_from(workshop, request, results, reports,
                       [&](const exchange::RecordBegin& begin, const exchange::RecordUse& use) {
                           return exchange::read_records(request.file, begin, use,
                                                         longest_row_of(*request.kind));
                       });
}

Result<ImportCounts> import_table(Workshop& workshop, const ImportRequest& request,
                                  std::istream& stream, std::ostream& results,
                                  const ImportReports& reports) {
    return import_from(workshop, request, results, reports,
                       [&](const exchange::RecordBegin& begin, const exchange::RecordUse& use) {
                           return exchange::read_records(stream, request.file.string(), begin, use,
                                                         longest_row_of(*request.kind));
                       });
}

}  // namespace coilbook::app
