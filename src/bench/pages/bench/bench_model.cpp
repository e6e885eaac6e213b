#include "bench/pages/bench/bench_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <functional>
#include <map>

#include "base/text.h"
#include "bench/pages/bench/next_words.h"
#include "bench/pages/bench/verdict_model.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::bench_page {
namespace {

// How a field is called at the bench, and what is said beside it while it is empty.
struct FieldWords {
    ReadingField field;
    const char* label;
    const char* unit;  // as shown; read_values knows it as usual_unit
    const char* note;
};
constexpr std::array field_words{
    FieldWords{ReadingField::sample_length, "Sample length", "in", "of the piece you weigh"},
    FieldWords{ReadingField::sample_weight, "Sample weight", "gr", "the same piece, dry"},
    FieldWords{ReadingField::diameters, "Diameter", "mm", "in three places"},
    FieldWords{ReadingField::submerged_weight, "Weight under water", "gr",
               "the same piece, hanging"},
    FieldWords{ReadingField::sink_distance, "Drop distance", "in", "of still water"},
    FieldWords{ReadingField::sink_time, "Drop time", "s", "of a level piece"},
    FieldWords{ReadingField::water_temperature, "Water temperature", "°C", "10 °C if not read"},
    FieldWords{ReadingField::tint, "Tint", "", ""},
    FieldWords{ReadingField::taper, "Taper", "", ""},
    FieldWords{ReadingField::floats, "Floats", "", ""},
    FieldWords{ReadingField::whole_length, "Whole length", "ft", "of the coil"},
    FieldWords{ReadingField::whole_weight, "Whole weight", "gr", "of the coil"},
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

// As written, without the unit if it is the one that stands beside the field.
std::string without_usual_unit(const Reading& reading) {
    std::string_view text = trimmed(reading.as_written);
    const std::string_view unit = usual_unit(reading.field);
    if (!unit.empty() && text.ends_with(unit)) {
        const std::string_view number = trimmed(text.substr(0, text.size() - unit.size()));
        if (parse_number(number)) text = number;
    }
    return std::string(text);
}

// The value in the unit shown: "22.4", for people who wrote it in another.
std::string in_shown_unit(ReadingField field, const ReadingValue& value) {
    const auto mass = [](Mass each) { return significant(each.in(grain), 4); };
    if (const auto* stated = std::get_if<Stated<Mass>>(&value)) return mass(stated->value);
    if (const auto* stated = std::get_if<Stated<Length>>(&value)) {
        const std::string_view unit = usual_unit(field);
        const Length shown = unit == "mm" ? millimetre : unit == "ft" ? foot : inch;
        return significant(stated->value.in(shown), 4);
    }
    if (const auto* stated = std::get_if<Stated<Duration>>(&value)) {
        return significant(stated->value.in(second), 4);
    }
    if (const auto* stated = std::get_if<Stated<Temperature>>(&value)) {
        return significant(stated->value.celsius(), 3);
    }
    return {};
}

std::string with_unit(const std::string& number, const FieldWords& words) {
    return words.unit[0] == '\0' ? number : number + " " + words.unit;
}

// "0.942, 0.945: mean 0.944" for two; from three on "0.941 to 0.948, mean 0.943 of 7", which stays
// short enough to stand beside the field and still shows one that is far off.
std::string list_note(const CoilInHand& coil, const FieldWords& words) {
    std::vector<double> numbers;
    std::string all;
    for (const Stated<Length>& each : coil.values.diameters) {
        numbers.push_back(each.value.in(millimetre));
        all += (all.empty() ? "" : ", ") + significant(numbers.back(), 3);
    }
    if (numbers.empty()) return words.note;
    double sum = 0;
    for (const double number : numbers) sum += number;
    const std::string mean = significant(sum / static_cast<double>(numbers.size()), 3);
    if (numbers.size() == 1) return all + " " + words.unit;
    if (numbers.size() == 2) return fmt::format("{}: mean {}", all, mean);
    const auto [least, greatest] = std::ranges::minmax(numbers);
    return fmt::format("{} to {}, mean {} of {}", significant(least, 3), significant(greatest, 3),
                       mean, numbers.size());
}

// What is said beside a field that has no problem.
std::string note_of(const CoilInHand& coil, const ReadingRow& row, const std::string& typed,
                    const FieldWords& words) {
    const std::string text(trimmed(typed));
    const bool is_new = row.is_list ? !text.empty() : text != row.stored;
    if (is_new && text.empty()) return "Enter takes it back";
    if (is_new) {
        if (!row.choices.empty()) return row.picked >= 0 ? "Enter saves" : "";
        const auto values = read_values(row.field, text, style_of(row.field));
        if (!values || values->empty()) return {};
        const std::string number = in_shown_unit(row.field, values->front());
        return (row.is_list ? "Enter adds " : "Enter saves ") + with_unit(number, words);
    }
    if (row.is_list) return list_note(coil, words);
    if (row.is_saved && row.choices.empty()) {
        const auto last = std::ranges::find(coil.readings, row.field, &Reading::field);
        if (last != coil.readings.end() && last->value && !parse_number(row.stored)) {
            return "= " + with_unit(in_shown_unit(row.field, *last->value), words);
        }
        return {};
    }
    return words.note;
}

std::vector<ReadingRow> reading_rows(const Form& form, const Situation& situation,
                                     const CoilInHand& coil) {
    const Typed stored = typed_of(coil);
    const auto wanted = wanted_field(situation, coil);
    std::vector<ReadingRow> rows;
    for (const ReadingField field : bench_order) {
        const FieldWords& words = words_of(field);
        ReadingRow row{.field = field,
                       .label = words.label,
                       .unit = words.unit,
                       .hint = {},
                       .note = {},
                       .error = {},
                       .stored = stored.text(field),
                       .choices = choices_of(field),
                       .picked = -1,
                       .is_list = field == ReadingField::diameters,
                       .is_saved = has(coil.values, field),
                       .is_wanted = wanted == field};
        const std::string& typed = form.typed.text(field);
        row.picked = picked_word(typed, row.choices);
        if (row.is_list && row.is_saved) row.hint = "one more";
        if (const auto& problem = form.typed.problem(field)) {
            row.error = problem->sentence + ": " + problem->suggestion;
        } else {
            row.note = note_of(coil, row, typed, words);
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

BinView bin_view(const Form& form, const Situation& situation) {
    BinView bin;
    const std::string code(trimmed(form.code));
    const std::string needle = lower_ascii(code);
    std::size_t confirmed = 0;
    for (const BinCoil& coil : situation.bin) {
        if (coil.state == CoilState::confirmed) ++confirmed;
        const StateView state = state_sign(coil.state);
        if (coil.what.size() > bin.longest.size()) bin.longest = coil.what;
        const std::string all = lower_ascii(coil.code + "\n" + coil.what + "\n" + state.word);
        if (!needle.empty() && all.find(needle) == std::string::npos) continue;
        BinRow row{.id = coil.id,
                   .code = coil.code,
                   .state = state,
                   .what = coil.what.empty() ? state.word : coil.what,
                   .amount = coil.state == CoilState::confirmed ? state.word : coil.amount,
                   .whole = coil.code + ", " + state.word,
                   .in_hand = situation.in_hand && situation.in_hand->coil.id == coil.id};
        if (!coil.what.empty()) row.whole += "\n" + coil.what;
        if (!coil.amount.empty()) row.whole += ", " + coil.amount;
        bin.rows.push_back(std::move(row));
    }
    const std::size_t count = situation.bin.size();
    bin.summary =
        fmt::format("{} {}, {} confirmed", count, count == 1 ? "coil" : "coils", confirmed);
    if (count > 0) {
        bin.legend = {state_sign(CoilState::needs_reading), state_sign(CoilState::ready)};
    }
    if (situation.bin.empty()) {
        bin.nothing = "No coils yet. Type or scan the code of the first one above.";
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

const BinCoil* coil_with_code(const std::vector<BinCoil>& bin, std::string_view code) {
    const auto exact = std::ranges::find(bin, code, &BinCoil::code);
    if (exact != bin.end()) return &*exact;
    const std::string lower = lower_ascii(code);
    const BinCoil* found = nullptr;
    for (const BinCoil& coil : bin) {
        if (lower_ascii(coil.code) != lower) continue;
        if (found != nullptr) return nullptr;  // two coils differ by capitals alone
        found = &coil;
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

Typed typed_of(const CoilInHand& coil) {
    Typed typed;
    for (const Reading& reading : coil.readings) {
        if (reading.field == ReadingField::diameters) continue;
        typed.text(reading.field) = without_usual_unit(reading);
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
