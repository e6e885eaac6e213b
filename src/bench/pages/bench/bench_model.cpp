#include "bench/pages/bench/bench_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "app/verdict_rows.h"
#include "base/text.h"
#include "bench/pages/bench/bench_picture.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::bench_page {
namespace {

// A class is named as the answer from here on.
constexpr double likely_from = 0.5;

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

StateView state_view(CoilState state) {
    const std::string word(app::name_of(state));
    switch (state) {
        case CoilState::unmeasured:
            return {Mark::ring, Tone::muted, word};
        case CoilState::needs_reading:
            return {Mark::half, Tone::warn, word};
        case CoilState::ready:
            return {Mark::diamond, Tone::accent, word};
        case CoilState::confirmed:
            return {Mark::check, Tone::good, word};
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

// "0.942, 0.945 mm: mean 0.944" for few, "7 readings: mean 0.943 mm" for many.
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
    if (numbers.size() <= 3) return fmt::format("{}: mean {}", all, mean);
    return fmt::format("{} readings: mean {} {}", numbers.size(), mean, words.unit);
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

// The reading that the engine asks for; of a pair that says nothing alone, the first missing one.
ReadingField first_missing(ReadingField wanted, const CoilReadings& readings) {
    if (wanted == ReadingField::sample_weight && !readings.sample_length) {
        return ReadingField::sample_length;
    }
    if (wanted == ReadingField::sink_time && !readings.sink_distance) {
        return ReadingField::sink_distance;
    }
    if (wanted == ReadingField::whole_weight && !readings.whole_length) {
        return ReadingField::whole_length;
    }
    return wanted;
}

// What is expected to tell less than this is not asked for.
constexpr double telling_bits = 0.1;

std::optional<ReadingField> wanted_field(const CoilInHand& coil) {
    const auto& advice = coil.verdict.advice;
    if (coil.confirmed_as || advice.empty() || advice.front().bits < telling_bits) {
        return std::nullopt;
    }
    return first_missing(coil.verdict.advice.front().field, coil.values);
}

std::vector<ReadingRow> reading_rows(const Form& form, const CoilInHand& coil) {
    const Typed stored = typed_of(coil);
    const auto wanted = wanted_field(coil);
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

BinView bin_view(const Form& form, const Situation& situation) {
    BinView bin;
    const std::string code(trimmed(form.code));
    const std::string needle = lower_ascii(code);
    std::size_t confirmed = 0;
    for (const BinCoil& coil : situation.bin) {
        if (coil.state == CoilState::confirmed) ++confirmed;
        const StateView state = state_view(coil.state);
        const std::string all = lower_ascii(coil.code + "\n" + coil.what + "\n" + state.word);
        if (!needle.empty() && all.find(needle) == std::string::npos) continue;
        bin.rows.push_back({coil.id, coil.code, state, coil.what,
                            situation.in_hand && situation.in_hand->coil.id == coil.id});
    }
    const std::size_t count = situation.bin.size();
    bin.summary =
        fmt::format("{} {}, {} confirmed", count, count == 1 ? "coil" : "coils", confirmed);
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

template <class Value>
FactRow facet_row(const char* name, const Facet<Value>& facet) {
    return {name, facet.value ? name_of(*facet.value) : "none", app::percent(facet.probability),
            facet.value.has_value()};
}

template <class Q>
FactRow fact_row(const char* name, const std::optional<Measured<Q>>& fact, NamedUnit<Q> unit) {
    if (!fact) return {name, "not known yet", {}, false};
    return {name, in_unit_with_uncertainty(fact->value, fact->uncertainty, unit), {}, true};
}

std::vector<FactRow> fact_rows(const Facts& facts) {
    constexpr NamedUnit<LinearDensity> gr_per_ft{"gr/ft", grain_per_foot};
    constexpr NamedUnit<Length> mm{"mm", millimetre};
    constexpr NamedUnit<Density> g_per_cm3{"g/cm³", gram_per_cubic_centimetre};
    constexpr NamedUnit<Speed> in_per_s{"in/s", inch_per_second};
    const bool rises = facts.sink_rate && facts.sink_rate->value < Speed{};
    auto rate = facts.sink_rate;
    if (rises) rate->value = -rate->value;
    return {
        fact_row("Weight per foot", facts.linear_density, gr_per_ft),
        fact_row("Diameter", facts.diameter, mm), fact_row("Density", facts.density, g_per_cm3),
        fact_row(rises ? "Rises in still water at" : "Sinks in still water at", rate, in_per_s)};
}

std::string flag_words(Flag flag) {
    switch (flag) {
        case Flag::implausible:
            return "No fishing line is like this. Check the readings.";
        case Flag::unit_mixup:
            return "Grains or grams? Check the unit of the weight.";
        case Flag::inconsistent:
            return "The readings contradict one another.";
        case Flag::ambiguous:
            return "More than one kind of line fits.";
    }
    return {};
}

// The class that Confirm would confirm, as an index into the library.
std::optional<std::size_t> class_to_confirm(const Form& form, const ReferenceLibrary& library,
                                            const CoilInHand& coil) {
    const auto chosen = std::ranges::find(library, form.chosen_class, &ReferenceClass::name);
    if (!form.chosen_class.empty() && chosen != library.end()) {
        return static_cast<std::size_t>(chosen - library.begin());
    }
    if (coil.state == CoilState::unmeasured || coil.verdict.ranking.empty()) return std::nullopt;
    const std::size_t best = coil.verdict.best();
    // A guess is not confirmed by a slip of the finger: it has to be chosen first.
    if (coil.verdict.probabilities[best] < likely_from) return std::nullopt;
    if (library[best].family == Family::unlisted) return std::nullopt;
    return best;
}

std::vector<BarRow> bar_rows(const ReferenceLibrary& library, const Verdict& verdict,
                             std::optional<std::size_t> choice) {
    constexpr std::size_t most = 4;
    std::vector<BarRow> rows;
    double shown = 0;
    for (std::size_t rank = 0; rank < verdict.ranking.size(); ++rank) {
        const std::size_t index = verdict.ranking[rank];
        const double probability = verdict.probabilities[index];
        const bool among_best = rank < most && (rank == 0 || probability >= 0.005);
        if (!among_best && choice != index) continue;
        const FamilySign sign = sign_of(library[index]);
        const bool is_unlisted = library[index].family == Family::unlisted;
        rows.push_back({.class_name = is_unlisted ? std::string() : library[index].name,
                        .name = is_unlisted ? "none of the listed" : library[index].name,
                        .amount = app::percent(probability),
                        .share = probability,
                        .mark = sign.mark,
                        .series = sign.series,
                        .leading = rank == 0,
                        .is_choice = choice == index});
        shown += probability;
    }
    if (const double rest = 1.0 - shown; rest >= 0.005 && rows.size() < verdict.ranking.size()) {
        rows.push_back({.class_name = {},
                        .name = "all others",
                        .amount = app::percent(rest),
                        .share = rest,
                        .mark = Mark::ring,
                        .series = 4});
    }
    return rows;
}

std::string next_reading(const Verdict& verdict) {
    if (verdict.advice.empty()) return {};
    const ReadingAdvice& next = verdict.advice.front();
    // b bits are 2^b equally probable kinds told apart.
    if (next.bits < telling_bits) return "No further reading would tell much.";
    const double fold = std::exp2(next.bits);
    return fmt::format("Next, {}: narrows the choice about {:.1f}-fold.", next.how, fold);
}

std::string headline(const ReferenceLibrary& library, const CoilInHand& coil) {
    if (coil.confirmed_as) return *coil.confirmed_as;
    if (coil.state == CoilState::unmeasured) return "Nothing read yet";
    const std::size_t best = coil.verdict.best();
    const double probability = coil.verdict.probabilities[best];
    if (library[best].family == Family::unlisted) return "None of the listed";
    if (probability < likely_from) return "Cannot tell yet";
    return coil.verdict.has(Flag::ambiguous) ? "Perhaps " + library[best].name : library[best].name;
}

VerdictView verdict_view(const Form& form, const Situation& situation, const CoilInHand& coil) {
    const ReferenceLibrary& library = situation.library;
    const Verdict& verdict = coil.verdict;
    VerdictView view;
    view.state = state_view(coil.state);
    view.headline = headline(library, coil);
    view.picture = picture_of(library, verdict, coil.coil.code);
    view.facts = fact_rows(verdict.facts);
    if (verdict.ranking.empty()) {
        view.confirm_label = "No reference library";
        return view;
    }
    const bool tells = verdict.probabilities[verdict.best()] >= likely_from;
    if (coil.state != CoilState::unmeasured && tells) {
        view.certainty = app::percent(verdict.probabilities[verdict.best()]);
    }
    view.facets = {facet_row("Grain class", verdict.grain_class),
                   facet_row("Density grade", verdict.density_grade),
                   facet_row("Line size", verdict.line_size), facet_row("Family", verdict.family)};
    for (const Flag flag : verdict.flags) {
        const bool is_mild = flag == Flag::ambiguous;
        if (is_mild && coil.state == CoilState::unmeasured) continue;
        view.flags.push_back({is_mild ? Tone::warn : Tone::bad, flag_words(flag)});
    }
    if (!coil.confirmed_as) view.next_reading = next_reading(verdict);
    view.next_field = wanted_field(coil);
    const std::string advice = verdict.advice.empty()
                                   ? std::string("\n")
                                   : fmt::format("Next, {}", verdict.advice.front().how);
    for (const std::string& reason : verdict.because) {
        if (!reason.starts_with(advice)) view.because.push_back(reason);  // said above already
    }
    std::vector<std::string> alike;
    for (const std::size_t index : verdict.fishes_like) alike.push_back(library[index].name);
    if (!alike.empty() && coil.state != CoilState::unmeasured) {
        view.fishes_like = listed(alike) + ".";
    }

    const auto choice = class_to_confirm(form, library, coil);
    view.bars = bar_rows(library, verdict, choice);
    view.may_take_back = coil.confirmed_as.has_value();
    if (!choice) {
        view.confirm_label = coil.state == CoilState::unmeasured ? "Nothing to confirm yet"
                                                                 : "Pick a class to confirm";
    } else if (coil.confirmed_as == library[*choice].name) {
        view.confirm_label = "Confirmed as " + *coil.confirmed_as;
    } else {
        view.confirm_label = "Confirm " + library[*choice].name;
        view.confirms = library[*choice].name;
    }
    return view;
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

Typed typed_of(const CoilInHand& coil) {
    Typed typed;
    for (const Reading& reading : coil.readings) {
        if (reading.field == ReadingField::diameters) continue;
        typed.text(reading.field) = without_usual_unit(reading);
    }
    return typed;
}

View view_of(const Form& form, const Situation& situation) {
    View view;
    view.bin = bin_view(form, situation);
    view.failure = situation.failure;
    view.message = situation.message;
    view.has_coil = situation.in_hand.has_value();
    if (!situation.in_hand) return view;
    const CoilInHand& coil = *situation.in_hand;
    view.coil_code = coil.coil.code;
    view.coil_state = state_view(coil.state);
    view.readings = reading_rows(form, coil);
    view.verdict = verdict_view(form, situation, coil);
    const std::string& last = coil.confirmed_as ? view.coil_state.word : view.verdict.certainty;
    view.title = view.coil_code + ": " + view.verdict.headline;
    if (!last.empty()) view.title += ", " + last;
    return view;
}

}  // namespace coilbook::bench::bench_page
