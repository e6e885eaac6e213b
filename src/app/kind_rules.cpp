#include "app/kind_rules.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <utility>

#include "app/outfit_rules.h"
#include "base/text.h"
#include "catalog/coil.h"
#include "catalog/facets.h"
#include "quantity/parse.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"
#include "store/stored_value.h"

namespace coilbook::app {
namespace {

using Cells = const KindCells&;

Result<void> check_coil_is_kept(Workshop& workshop, Cells cells) {
    if (cells.known().coil_is_kept) return {};
    const auto id = Id<Coil>::from_text(cells.text("coil_id"));
    if (id && workshop.catalogue().coils().by_id(*id)) return {};
    return problem("coil_id", "there is no coil of that id",
                   "a coil of this catalogue; coils come in before what hangs on them");
}

Result<void> check_instrument_is_kept(Workshop& workshop, const char* column,
                                      const std::string& kind, const std::string& code) {
    if (is_kept(workshop, "instruments", {{"kind", kind}, {"code", code}})) return {};
    return problem(column,
                   "there is no " + (kind.empty() ? std::string("instrument") : kind) + " " +
                       coilbook::quoted(code),
                   "one of this catalogue; instruments come in before what they were used for");
}

// Every one of `columns` that is not missing is at least `least`, or above it.
Result<void> check_from(Cells cells, std::initializer_list<const char*> columns, double least,
                        bool is_excluded, double most = HUGE_VAL) {
    for (const auto* column : columns) {
        const auto number = cells.number(column);
        if (!number) continue;
        const bool is_low = is_excluded ? !(*number > least) : !(*number >= least);
        if (is_low || *number > most) {
            return problem(
                column, "this is out of its range",
                std::string("a number ") + (is_excluded ? "above " : "from ") +
                    std::to_string(static_cast<int>(least)) +
                    (std::isfinite(most) ? " to " + std::to_string(static_cast<int>(most)) : ""));
        }
    }
    return {};
}

Result<void> setting_rule(Workshop&, Cells cells) {
    if (cells.text("name").empty()) return problem("name", "the name is empty", "a name");
    if (cells.text("name") == "salvaged" || cells.text("name") == "pruned") {
        return problem("name",
                       coilbook::quoted(cells.text("name")) + " tells what happened to one file",
                       "another setting");
    }
    return {};
}

template <class FromName>
Result<void> check_name(Cells cells, const char* column, FromName from_name) {
    if (cells.is_missing(column)) return {};
    const auto known = from_name(cells.text(column));
    if (known && name_of(*known) == cells.text(column)) return {};
    if (known) return problem(column, "this name is written otherwise", name_of(*known));
    auto wrong = known.error();
    wrong.field = column;
    return tl::unexpected(std::move(wrong));
}

Result<void> class_names_rule(Cells cells) {
    if (const auto name = cells.text("class"); name.empty() || trimmed(name) != name) {
        return problem("class", "the name is empty or has blanks around it", "a name");
    }
    if (auto wrong = check_name(cells, "family", family_from); !wrong) return wrong;
    if (auto wrong = check_name(cells, "grain_class", grain_class_from); !wrong) return wrong;
    if (auto wrong = check_name(cells, "density_grade", density_grade_from); !wrong) return wrong;
    return check_name(cells, "line_size", line_size_from);
}

Result<void> class_figures_rule(Cells cells) {
    const auto sds = {"weight", "ln_grains_per_foot_sd", "ln_density_sd"};
    if (auto wrong = check_from(cells, sds, 0.0, true); !wrong) return wrong;
    const auto chances = {"tapered",    "tint_clear", "tint_pale",
                          "tint_brown", "tint_dark",  "tint_black"};
    if (auto wrong = check_from(cells, chances, 0.0, false, 1.0); !wrong) return wrong;
    if (!(std::abs(*cells.number("correlation")) < 1.0)) {
        return problem("correlation", "this is out of its range", "a number within -1 to 1");
    }
    double sum = 0.0;
    for (const auto* tint : {"tint_clear", "tint_pale", "tint_brown", "tint_dark", "tint_black"}) {
        sum += *cells.number(tint);
    }
    if (std::abs(sum - 1.0) > 1e-6) {
        return problem("tint_clear", "the tints' probabilities do not sum to 1", "a sum of 1");
    }
    if (cells.is_missing("usual_lengths_m") != cells.is_missing("usual_relative_sd")) {
        return problem("usual_relative_sd", "usual lengths and how far they vary go together",
                       "both or neither");
    }
    // A spreadsheet with decimal commas turns the one number of this text, too.
    auto lengths = cells.text("usual_lengths_m");
    if (std::ranges::replace(lengths, ',', '.'); lengths != cells.text("usual_lengths_m")) {
        cells["usual_lengths_m"] = lengths;
    }
    for (const auto piece : pieces(lengths, " ")) {
        const auto length = parse_number(piece);
        if (!length || !(*length > 0.0)) {
            return problem("usual_lengths_m", coilbook::quoted(piece) + " is no length",
                           "numbers of metres above zero, with blanks between");
        }
    }
    return check_from(cells, {"usual_relative_sd"}, 0.0, false);
}

// A library has one class for what is in no class, always.
Result<void> class_rule(Workshop& workshop, Cells cells) {
    if (auto wrong = class_names_rule(cells); !wrong) return wrong;
    if (auto wrong = class_figures_rule(cells); !wrong) return wrong;
    const auto unlisted = std::ranges::find(workshop.library(), std::optional{Family::unlisted},
                                            &ReferenceClass::family);
    // Where it was lost with a damaged file, it may come back.
    const bool is_lost = unlisted == workshop.library().end();
    const bool is_it = cells.text("class") == (is_lost ? "unlisted" : unlisted->name);
    const bool says_so = cells.text("family") == name_of(Family::unlisted) &&
                         cells["retired"] == db::Value{std::int64_t{0}};
    if (is_it != says_so) {
        return problem("family", "a library has exactly one class that is unlisted, and keeps it",
                       "level line, matched tip, sinking leader or none");
    }
    return {};
}

Result<void> instrument_rule(Workshop&, Cells cells) {
    constexpr std::array kinds{"scale", "tape", "micrometer", "stopwatch", "thermometer"};
    if (std::ranges::find(kinds, cells.text("kind")) == kinds.end()) {
        return problem("kind",
                       coilbook::quoted(cells.text("kind")) + " is not a kind of instrument",
                       "scale, tape, micrometer, stopwatch or thermometer");
    }
    if (const auto code = cells.text("code"); !code.empty()) {
        const auto accepted = coil_code_from(code);
        if (!accepted) return tl::unexpected(accepted.error());
        if (*accepted != code) return problem("code", "there are blanks around it", *accepted);
    }
    return check_from(
        cells, {"resolution_si", "limit_of_error_si", "repeatability_si", "offset_uncertainty_si"},
        0.0, false);
}

Result<void> check_rule(Workshop& workshop, Cells cells) {
    return check_instrument_is_kept(workshop, "instrument", cells.text("instrument_kind"),
                                    cells.text("instrument"));
}

Result<void> coating_rule(Workshop& workshop, Cells cells) {
    if (auto wrong = check_instrument_is_kept(workshop, "micrometer", "micrometer",
                                              cells.text("micrometer"));
        !wrong) {
        return wrong;
    }
    if (const auto* coils = std::get_if<std::int64_t>(&cells["coils"]); !coils || *coils < 2) {
        return problem("coils", "one coil says nothing about how coils differ", "2 or more");
    }
    return check_from(cells, {"offset_uncertainty_si", "spread_si"}, 0.0, false);
}

Result<void> coil_rule(Workshop& workshop, Cells cells) {
    const auto code = coil_code_from(cells.text("code"));
    if (!code) return tl::unexpected(code.error());
    cells["code"] = *code;
    if (cells.known().has_new_name || !cells.is_missing("retired_at")) return {};
    const auto other = workshop.catalogue().coils().by_code(*code);
    if (other && other->id.text() != cells.text("id")) {
        return problem("code", coilbook::quoted(*code) + " is the code of another coil",
                       "another code, or that coil's id");
    }
    return {};
}

// The value that the words say, read with either decimal mark.
Result<ReadingValue> value_in(ReadingField field, const std::string& words) {
    auto values = read_values(field, words);
    if (!values) {
        if (const auto with_comma = read_values(field, words, {',', {}})) values = with_comma;
    }
    if (!values) return tl::unexpected(values.error());
    if (values->size() != 1) {
        return problem("as_written", "these are several readings", "one row for each");
    }
    return values->front();
}

// A billionth is room for another way of rounding in another version of the program.
bool is_near(std::optional<double> a, std::optional<double> b) {
    if (!a || !b) return a.has_value() == b.has_value();
    return std::abs(*a - *b) <= 1e-9 * std::abs(*b);
}

// Fills in the value where only the words are there; else both must agree.
Result<void> put_value(Cells cells, const store::StoredValue& said) {
    const auto refusal = [&](const char* column) {
        return problem(column,
                       "this is not what " + coilbook::quoted(cells.text("as_written")) + " says",
                       "an empty cell, or the same in SI units");
    };
    const bool has_none = cells.is_missing("value_si") && cells.is_missing("value_text");
    if (!has_none && (!is_near(cells.number("value_si"), said.value_si) ||
                      cells.text("value_text") != said.value_text.value_or(""))) {
        return refusal("value_si");
    }
    const auto uncertainty = cells.number("standard_uncertainty_si");
    if ((uncertainty || !has_none) && !is_near(uncertainty, said.standard_uncertainty_si)) {
        return refusal("standard_uncertainty_si");
    }
    if (!has_none) return {};
    if (said.value_si) cells["value_si"] = *said.value_si;
    if (said.value_text) cells["value_text"] = *said.value_text;
    if (said.standard_uncertainty_si) {
        cells["standard_uncertainty_si"] = *said.standard_uncertainty_si;
    }
    return {};
}

Result<void> check_supersedes(Workshop& workshop, Cells cells) {
    const auto& kind = **store::kind_named("readings");
    if (auto there = kept_row(workshop, "readings", {{"id", cells.text("supersedes")}})) {
        const KindCells before(kind, *there);
        if (before.text("coil_id") == cells.text("coil_id") &&
            before.text("field") == cells.text("field")) {
            return {};
        }
    }
    return problem("supersedes", "this is no reading of that coil and field",
                   "the id of one; it comes in before what supersedes it");
}

Result<void> reading_rule(Workshop& workshop, Cells cells) {
    if (auto wrong = check_coil_is_kept(workshop, cells); !wrong) return wrong;
    const auto field = reading_field_from(cells.text("field"));
    if (!field) return tl::unexpected(field.error());
    Reading reading{.id = Id<Reading>::from_text(cells.text("id")).value(),
                    .coil = Id<Coil>::from_text(cells.text("coil_id")).value(),
                    .field = *field,
                    .as_written = cells.text("as_written"),
                    .value = {},
                    .instrument = cells.text("instrument"),
                    .taken_at = instant_from_text(cells.text("taken_at")).value(),
                    .supersedes = {}};
    if (!cells.is_missing("supersedes")) {
        reading.supersedes = Id<Reading>::from_text(cells.text("supersedes")).value();
    }
    if (!reading.as_written.empty()) {
        auto value = value_in(*field, reading.as_written);
        if (!value) {
            auto wrong = value.error();
            wrong.field = "as_written";
            return tl::unexpected(std::move(wrong));
        }
        if (auto wrong = put_value(cells, store::stored(*value)); !wrong) return wrong;
        reading.value = std::move(*value);
    } else if (!reading.supersedes || !cells.is_missing("value_si") ||
               !cells.is_missing("value_text") || !cells.is_missing("standard_uncertainty_si")) {
        return problem("as_written", "this says nothing",
                       "the words of a reading; without them a row withdraws what it supersedes");
    }
    const auto kind = store::instrument_kind_of(*field);
    if (!cells.is_missing("instrument") && kind) cells["instrument_kind"] = std::string(*kind);
    if (cells.is_missing("instrument")) cells["instrument_kind"] = db::Value{};
    using store::ReadingRepository;
    // Two copies that came together may hold two readings of one field, to be settled.
    const bool is_as_elsewhere = cells.known().has_own_id;
    if (is_as_elsewhere && reading.supersedes) {
        if (auto wrong = check_supersedes(workshop, cells); !wrong) return wrong;
    }
    const auto others = cells.known().has_new_name || is_as_elsewhere
                            ? ReadingRepository::OthersOfCoil::do_not_matter
                            : ReadingRepository::OthersOfCoil::ask;
    const auto can_be_added = workshop.catalogue().readings().check(reading, others);
    if (!can_be_added) return tl::unexpected(can_be_added.error());
    return {};
}

Result<void> verdict_rule(Cells cells) {
    constexpr std::array always{"verdict_at",
                                "best_class_probability",
                                "grain_class_probability",
                                "density_grade_probability",
                                "line_size_probability",
                                "family_probability",
                                "unlisted_probability",
                                "best_class",
                                "library",
                                "program"};
    for (const auto* column : always) {
        if (cells.is_missing(column) != cells.is_missing("verdict_id")) {
            return problem(column, "a verdict is whole or missing", "all of its cells or none");
        }
    }
    return check_from(
        cells,
        {"best_class_probability", "grain_class_probability", "density_grade_probability",
         "line_size_probability", "family_probability", "unlisted_probability"},
        0.0, false, 1.0);
}

Result<void> confirmation_rule(Workshop& workshop, Cells cells) {
    if (auto wrong = check_coil_is_kept(workshop, cells); !wrong) return wrong;
    if (auto wrong = verdict_rule(cells); !wrong) return wrong;
    if (!cells.is_missing("class")) {
        // A class that was retired since may still be what somebody said.
        if (is_kept(workshop, "classes", {{"class", cells.text("class")}})) return {};
        return problem("class",
                       coilbook::quoted(cells.text("class")) + " is not a class of this catalogue",
                       "a name that 'coilbook classes' shows; classes come in before");
    }
    const auto coil = Id<Coil>::from_text(cells.text("coil_id"));
    if (coil && workshop.catalogue().confirmations().current_of(*coil)) return {};
    return problem("class", "nothing is confirmed of this coil that could be taken back",
                   "a class");
}

using Rule = Result<void> (*)(Workshop&, Cells);
constexpr std::array<std::pair<std::string_view, Rule>, 16> rules{
    {{"settings", setting_rule},
     {"classes", class_rule},
     {"instruments", instrument_rule},
     {"checks", check_rule},
     {"coatings", coating_rule},
     {"coils", coil_rule},
     {"readings", reading_rule},
     {"confirmations", confirmation_rule},
     {"boats", boat_rule},
     {"rigs", rig_rule},
     {"clients", client_rule},
     {"outings", outing_rule},
     {"promises", promise_rule},
     {"handovers", handover_rule},
     {"conditions", condition_rule},
     {"photographs", photograph_rule}}};

}  // namespace

db::Value& KindCells::operator[](std::string_view column) const {
    const auto found = std::ranges::find(kind_.columns, column, &store::KindColumn::name);
    assert(found != kind_.columns.end() && "a rule names a column of its kind");
    return row_[static_cast<std::size_t>(found - kind_.columns.begin())];
}
bool KindCells::is_missing(std::string_view column) const {
    return std::holds_alternative<std::monostate>((*this)[column]);
}
std::string KindCells::text(std::string_view column) const {
    const auto* text = std::get_if<std::string>(&(*this)[column]);
    return text ? *text : std::string();
}
std::optional<double> KindCells::number(std::string_view column) const {
    const auto& value = (*this)[column];
    if (const auto* real = std::get_if<double>(&value)) return *real;
    if (const auto* integer = std::get_if<std::int64_t>(&value)) {
        return static_cast<double>(*integer);
    }
    return std::nullopt;
}

std::optional<store::KindRow> kept_row(
    Workshop& workshop, std::string_view kind_name,
    std::initializer_list<std::pair<std::string_view, std::string>> names) {
    const auto& kind = **store::kind_named(kind_name);
    store::KindRow row(kind.columns.size());
    const KindCells cells(kind, row);
    for (const auto& [column, text] : names) cells[column] = text;
    auto found = workshop.catalogue().table_of(kind).find(row);
    if (!found || found->is_undone) return std::nullopt;
    return std::move(found->row);
}

bool is_kept(Workshop& workshop, std::string_view kind_name,
             std::initializer_list<std::pair<std::string_view, std::string>> names) {
    return kept_row(workshop, kind_name, names).has_value();
}

Result<void> check_row(Workshop& workshop, const store::Kind& kind, store::KindRow& row,
                       Known known) {
    for (const auto& [name, rule] : rules) {
        if (name == kind.name) return rule(workshop, KindCells(kind, row, known));
    }
    assert(false && "every kind has its rule above");
    return {};
}

}  // namespace coilbook::app
