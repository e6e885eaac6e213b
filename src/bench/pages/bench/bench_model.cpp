#include "bench/pages/bench/bench_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>

#include "base/text.h"
#include "bench/number_words.h"
#include "bench/pages/bench/next_words.h"
#include "bench/pages/bench/verdict_model.h"
#include "catalog/reading_units.h"
#include "metrology/repeats.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::bench_page {
namespace {

// How a field is called at the bench, and what is said beside it while it is empty.
struct FieldWords {
    ReadingField field;
    const char* label;
    const char* note;
};
constexpr std::array field_words{
    FieldWords{ReadingField::sample_length, "Sample length", "of the piece you weigh"},
    FieldWords{ReadingField::sample_weight, "Sample weight", "the same piece, dry"},
    FieldWords{ReadingField::diameters, "Diameter", "in three places"},
    FieldWords{ReadingField::submerged_weight, "Weight under water", "the same piece, hanging"},
    FieldWords{ReadingField::sink_distance, "Drop distance", "of still water"},
    FieldWords{ReadingField::sink_time, "Drop time", "of a level piece"},
    FieldWords{ReadingField::water_temperature, "Water temperature", "10 °C if not read"},
    FieldWords{ReadingField::tint, "Tint", ""},
    FieldWords{ReadingField::taper, "Taper", ""},
    FieldWords{ReadingField::floats, "Floats", ""},
    FieldWords{ReadingField::whole_length, "Whole length", "of the coil"},
    FieldWords{ReadingField::whole_weight, "Whole weight", "of the coil"},
};
const FieldWords& words_of(ReadingField field) {
    return *std::ranges::find(field_words, field, &FieldWords::field);
}

std::vector<std::string_view> choices_of(ReadingField field) {
    switch (field) {
        case ReadingField::tint:
            return {"clear", "pale", "brown", "dark", "black"};
        case ReadingField::taper:
            return {"level", "tapered"};
        case ReadingField::floats:
            return {"yes", "no"};
        case ReadingField::sample_length:
        case ReadingField::sample_weight:
        case ReadingField::diameters:
        case ReadingField::submerged_weight:
        case ReadingField::sink_distance:
        case ReadingField::sink_time:
        case ReadingField::water_temperature:
        case ReadingField::whole_length:
        case ReadingField::whole_weight:
            return {};
    }
    return {};
}

// The value in that unit: "22.4", for people who wrote it in another.
std::string in_shown_unit(const ReadingValue& value, std::string_view unit) {
    const NumberStyle one_of_it{'.', unit};
    if (const auto* stated = std::get_if<Stated<Mass>>(&value)) {
        return significant(stated->value / parse_mass("1", one_of_it)->value, 4);
    }
    if (const auto* stated = std::get_if<Stated<Length>>(&value)) {
        return significant(stated->value / parse_length("1", one_of_it)->value, 4);
    }
    if (const auto* stated = std::get_if<Stated<Duration>>(&value)) {
        return significant(stated->value.in(second), 4);
    }
    if (const auto* stated = std::get_if<Stated<Temperature>>(&value)) {
        return significant(stated->value.celsius(), 3);
    }
    return {};
}

// As it stands beside a field.
std::string shown_name(std::string_view unit) {
    return unit == "C" ? "°C" : std::string(unit);
}

std::string with_unit(const std::string& number, const ReadingRow& row) {
    return row.unit.empty() ? number : number + " " + row.unit;
}

// "0.942, 0.945: mean 0.944" for two; from three on "mean 0.943 of 7, scatter 0.003", which stays
// short enough to stand beside the field. One that is far off is said instead.
std::string list_note(const CoilInHand& coil, const ReadingRow& row, const FieldWords& words,
                      std::string_view odd) {
    const Length unit = parse_length("1", {'.', row.bare_unit})->value;
    std::vector<double> numbers;
    std::string all;
    for (const Stated<Length>& each : coil.values.diameters) {
        numbers.push_back(each.value / unit);
        all += (all.empty() ? "" : ", ") + significant(numbers.back(), 3);
    }
    if (numbers.empty()) return words.note;
    double sum = 0;
    for (const double number : numbers) sum += number;
    const std::string mean = significant(sum / static_cast<double>(numbers.size()), 3);
    if (numbers.size() == 1) return with_unit(all, row);
    if (numbers.size() == 2) return fmt::format("{}: mean {}", all, mean);
    if (!odd.empty()) return fmt::format("{} is far off the others: Ctrl O takes it back", odd);
    double squares = 0;
    for (const double number : numbers) {
        squares += std::pow(number - sum / static_cast<double>(numbers.size()), 2);
    }
    const double scatter = std::sqrt(squares / static_cast<double>(numbers.size() - 1));
    return fmt::format("mean {} of {}, scatter {}", mean, numbers.size(), significant(scatter, 1));
}

// What is said beside a field that has no problem.
std::string note_of(const CoilInHand& coil, const ReadingRow& row, const std::string& typed,
                    const FieldWords& words, std::string_view odd) {
    const std::string text(trimmed(typed));
    const bool is_new = row.is_list ? !text.empty() : text != row.stored;
    if (is_new && text.empty()) return "Enter takes it back";
    if (is_new) {
        if (!row.choices.empty()) return row.picked >= 0 ? "Enter saves" : "";
        const auto values = read_values(row.field, text, {'.', row.bare_unit});
        if (!values || values->empty()) return {};
        const std::string number = in_shown_unit(values->front(), row.bare_unit);
        return (row.is_list ? "Enter adds " : "Enter saves ") + with_unit(number, row);
    }
    if (row.is_list) return list_note(coil, row, words, odd);
    if (row.is_saved && row.choices.empty()) {
        const auto last = std::ranges::find(coil.readings, row.field, &Reading::field);
        if (last != coil.readings.end() && last->value && !parse_number(row.stored)) {
            return "= " + with_unit(in_shown_unit(*last->value, row.bare_unit), row);
        }
        return {};
    }
    return words.note;
}

// The one diameter that looks like a slip, as the micrometer in use would have it; null if none or
// several do.
const Reading* odd_reading(const Situation& situation, const CoilInHand& coil) {
    std::vector<const Reading*> read;
    std::vector<Length> values;
    for (const Reading& reading : coil.readings) {
        if (reading.field != ReadingField::diameters || !reading.value) continue;
        read.push_back(&reading);
        values.push_back(std::get<Stated<Length>>(*reading.value).value);
    }
    if (values.empty()) return nullptr;
    const auto& known = situation.instruments.micrometers;
    const auto in_use = known.find(coil.values.micrometer);
    const Instrument<Length> micrometer =
        in_use == known.end() ? Instrument<Length>{} : Instrument<Length>(in_use->second);
    const auto repeats = repeats_of<Length>(micrometer, values);
    if (std::ranges::count(repeats.is_odd, true) != 1) return nullptr;
    const auto at = std::ranges::find(repeats.is_odd, true) - repeats.is_odd.begin();
    return read[static_cast<std::size_t>(at)];
}

// In the empty field for the time of a drop the space bar is a stopwatch.
void put_stopwatch(ReadingRow& row, const Form& form, const Situation& situation) {
    row.is_running = situation.watch.has_value();
    row.takes_space = !row.is_running && !form.typed.text(row.field).empty();
    if (row.is_running) row.hint = fmt::format("{:.1f}", situation.watch->in(second));
}
std::string stopwatch_words(const ReadingRow& row, const Form& form) {
    if (row.is_running) return "runs: Space stops it, Esc drops it";
    const bool is_here = form.spot == row.field && form.typed.text(row.field).empty();
    return is_here && !row.is_saved ? "Space starts a stopwatch" : "";
}

std::vector<ReadingRow> reading_rows(const Form& form, const Situation& situation,
                                     const CoilInHand& coil) {
    const FieldUnits units = field_units(form, situation);
    const Typed stored = typed_of(coil, units);
    const auto wanted = wanted_field(situation, coil);
    std::vector<ReadingRow> rows;
    for (const ReadingField field : bench_order) {
        const FieldWords& words = words_of(field);
        ReadingRow row{.field = field,
                       .label = words.label,
                       .unit = shown_name(units.of(field)),
                       .bare_unit = units.of(field),
                       .hint = {},
                       .note = {},
                       .error = {},
                       .stored = stored.text(field),
                       .choices = choices_of(field),
                       .picked = -1,
                       .is_list = field == ReadingField::diameters,
                       .is_saved = has(coil.values, field),
                       .is_wanted = wanted == field,
                       .help = help_on(field, situation.units)};
        const std::string& typed = form.typed.text(field);
        const Reading* odd = row.is_list ? odd_reading(situation, coil) : nullptr;
        if (odd != nullptr) row.odd = odd->id;
        if (field == ReadingField::sink_time) put_stopwatch(row, form, situation);
        row.kept = parse_number(row.stored) ? with_unit(row.stored, row) : row.stored;
        row.picked = picked_word(typed, row.choices);
        if (row.is_list && row.is_saved) row.hint = "one more";
        if (const auto& problem = form.typed.problem(field)) {
            row.error = problem->sentence + ": " + problem->suggestion;
        } else {
            row.note = note_of(coil, row, typed, words, odd ? odd->as_written : std::string_view());
            if (field == ReadingField::sink_time && !stopwatch_words(row, form).empty()) {
                row.note = stopwatch_words(row, form);
            }
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

NotesView notes_view(const Form& form, const CoilInHand& coil) {
    NotesView notes{.stored = coil.coil.notes, .note = {}, .error = {}};
    if (const auto& problem = form.typed.notes_problem) {
        notes.error = problem->sentence + ": " + problem->suggestion;
    } else if (trimmed(form.typed.notes) != notes.stored) {
        notes.note = trimmed(form.typed.notes).empty() ? "Enter takes them away" : "Enter saves";
    }
    return notes;
}

template <class Kind>
void add_tool(std::vector<ToolRow>& rows, Tool tool, const std::string& in_use, const char* name,
              const char* key, const std::map<std::string, Kind, std::less<>>& known) {
    if (known.size() < 2) return;
    ToolRow row{.tool = tool, .codes = {}, .says = {}, .key = key};
    for (const auto& each : known) row.codes.push_back(each.first);
    const bool is_known = known.contains(in_use);
    row.says = fmt::format("{} {}", name, in_use.empty() || !is_known ? "default" : in_use);
    rows.push_back(std::move(row));
}

std::vector<ToolRow> tool_rows(const Form& form, const Instruments& instruments) {
    const ToolsInUse& use = form.tools;
    std::vector<ToolRow> rows;
    add_tool(rows, Tool::tape, use.tape, "Tape", "F5", instruments.tapes);
    add_tool(rows, Tool::scale, use.scale, "Scale", "F6", instruments.scales);
    add_tool(rows, Tool::micrometer, use.micrometer, "Micrometer", "F7", instruments.micrometers);
    return rows;
}

BinRow bin_row(const BinLine& line, bool in_hand) {
    const StateView state = state_sign(line.summary.state);
    const auto& [name, amount] = line.summary.label;
    BinRow row{.id = line.coil,
               .code = line.code,
               .state = state,
               .what = name.empty() ? state.word : name,
               .amount = line.summary.state == CoilState::confirmed ? state.word : amount,
               .whole = line.code + ", " + state.word,
               .in_hand = in_hand};
    if (!name.empty()) row.whole += "\n" + name;
    if (!amount.empty()) row.whole += ", " + amount;
    return row;
}

// The lines that the text in the code field lets through.
std::vector<std::size_t> lines_shown(std::span<const BinLine> lines, const std::string& needle) {
    std::vector<std::size_t> shown;
    for (std::size_t at = 0; at < lines.size(); ++at) {
        if (needle.empty() || lines[at].text.find(needle) != std::string::npos) {
            shown.push_back(at);
        }
    }
    return shown;
}

// From an unlabelled coil to a name, for whoever opens the program for the first time.
std::vector<std::string> first_steps(const Units& units) {
    return {
        "Take a coil. Ctrl K gives it a code to write on a tag; or type one of your own at the "
        "left and press Enter twice.",
        fmt::format("Lay about {} of it straight, or take a piece of that length. Type its length, "
                    "then its weight in {}, Enter after each. A scale that types does the same.",
                    units.of("24 in", "60 cm"), units.of("grains", "grams")),
        "Measure the diameter in three places, Enter after each.",
        "What it is, and how sure that is, stands at the right, with what to read next. Ctrl "
        "Enter confirms it, Ctrl L writes its label.",
        fmt::format("To try it without a coil, type {}, then 0.94, 0.95 and 0.94: invented "
                    "readings. Ctrl Z takes them back.",
                    units.of("24, then 22.4", "61, then 1.45")),
        "If you cut: sinking lines hold lead or tungsten. Work over paper, do not breathe the "
        "dust, and wash your hands."};
}

BinView bin_view(const Form& form, const Situation& situation) {
    BinView bin;
    const std::string code(trimmed(form.code));
    const std::string needle = lower_ascii(code);
    const auto shown = lines_shown(situation.bin, needle);
    if (situation.in_hand) {
        const Id<Coil>& held = situation.in_hand->coil.id;
        const auto place = std::ranges::find(
            shown, held, [&](std::size_t at) -> const Id<Coil>& { return situation.bin[at].coil; });
        if (place != shown.end()) bin.in_hand = static_cast<std::size_t>(place - shown.begin());
    }
    bin.rows = {shown.size(), [lines = situation.bin, shown, held = bin.in_hand](std::size_t at) {
                    return bin_row(lines[shown[at]], held == at);
                }};
    std::size_t confirmed = 0;
    for (const BinLine& line : situation.bin) {
        if (line.summary.state == CoilState::confirmed) ++confirmed;
        const std::string& name = line.summary.label.name;
        if (name.size() > bin.longest.size()) bin.longest = name;
    }
    const std::size_t count = situation.bin.size();
    bin.summary =
        fmt::format("{} {}, {} confirmed", count, count == 1 ? "coil" : "coils", confirmed);
    if (count > 0) {
        bin.legend = {state_sign(CoilState::needs_reading), state_sign(CoilState::ready)};
    }
    if (situation.bin.empty()) {
        bin.nothing = "No coils yet. Type or scan the code of the first one above.";
        bin.first_steps = first_steps(situation.units);
    } else if (bin.rows.empty()) {
        bin.nothing = "No coil here matches.";
    }
    if (code.empty()) return bin;
    if (coil_with_code(situation.bin, code) != nullptr) {
        bin.code_note = "Enter picks it up";
        return bin;
    }
    const auto usable = coil_code_from(code);
    if (!usable) {
        bin.code_error = usable.error().sentence + ": " + usable.error().suggestion;
        return bin;
    }
    bin.code_note = form.asked_code == code ? "New code. Enter again makes this coil."
                                            : "No coil has this code. Enter twice makes it.";
    return bin;
}

}  // namespace

const BinLine* coil_with_code(std::span<const BinLine> bin, std::string_view code) {
    const auto exact = std::ranges::find(bin, code, &BinLine::code);
    if (exact != bin.end()) return &*exact;
    const std::string lower = lower_ascii(code);
    const BinLine* found = nullptr;
    for (const BinLine& line : bin) {
        if (line.code.size() != lower.size() || lower_ascii(line.code) != lower) continue;
        if (found != nullptr) return nullptr;  // two coils differ by capitals alone
        found = &line;
    }
    return found;
}

std::optional<std::size_t> class_to_compare(const Form& form, const Situation& situation) {
    const ReferenceLibrary& library = situation.library;
    if (!situation.in_hand) return std::nullopt;
    const auto chosen = std::ranges::find(library, form.chosen_class, &ReferenceClass::name);
    if (!form.chosen_class.empty() && chosen != library.end()) {
        return static_cast<std::size_t>(chosen - library.begin());
    }
    for (const std::size_t index : situation.in_hand->verdict.ranking) {
        if (library[index].family != Family::unlisted) return index;
    }
    return std::nullopt;
}

FieldUnits field_units(const Form& form, const Situation& situation) {
    FieldUnits units;
    const auto shown_by = [&](const auto& known, ReadingField field) {
        const auto found = known.find(form.tools.for_field(field));
        return found == known.end() ? std::string() : found->second;
    };
    for (const ReadingField field : all_reading_fields) {
        std::string unit;
        switch (field) {
            case ReadingField::sample_weight:
            case ReadingField::submerged_weight:
            case ReadingField::whole_weight:
                unit = shown_by(situation.scale_units, field);
                break;
            case ReadingField::diameters:
                unit = shown_by(situation.micrometer_units, field);
                break;
            default:
                break;
        }
        units.of(field) = unit.empty() ? std::string(unit_of(field, situation.units)) : unit;
    }
    return units;
}

Typed typed_of(const CoilInHand& coil, const FieldUnits& units) {
    Typed typed;
    for (const Reading& reading : coil.readings) {
        if (reading.field == ReadingField::diameters) continue;
        typed.text(reading.field) = without_unit(reading.as_written, units.of(reading.field));
    }
    typed.notes = coil.coil.notes;
    return typed;
}

View view_of(const Form& form, const Situation& situation) {
    View view;
    view.bin = bin_view(form, situation);
    view.question = {asked(situation.question, situation.library), order_asked(situation.question)};
    view.failure = situation.failure;
    view.message = situation.message;
    view.has_coil = situation.in_hand.has_value();
    if (!situation.in_hand) return view;
    const CoilInHand& coil = *situation.in_hand;
    view.coil_code = coil.coil.code;
    view.coil_state = state_sign(coil.state);
    view.readings = reading_rows(form, situation, coil);
    view.notes = notes_view(form, coil);
    view.tools = tool_rows(form, situation.instruments);
    view.verdict = verdict_view(form, situation, coil);
    const std::string& last = coil.confirmed_as ? view.coil_state.word : view.verdict.certainty;
    view.title = view.coil_code + ": " + view.verdict.headline;
    if (!last.empty()) view.title += ", " + last;
    return view;
}

}  // namespace coilbook::bench::bench_page
