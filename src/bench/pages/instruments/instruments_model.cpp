#include "bench/pages/instruments/instruments_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "bench/number_words.h"
#include "bench/words.h"
#include "catalog/coil.h"

namespace coilbook::bench::instruments_page {
namespace {

StateView state_view(app::CheckState state) {
    const std::string word(app::name_of(state));
    switch (state) {
        case app::CheckState::never:
            return {Mark::ring, Tone::muted, word};
        case app::CheckState::counts:
            return {Mark::check, Tone::good, word};
        case app::CheckState::again:
            return {Mark::warning, Tone::warn, word};
    }
    return {};
}

std::string_view group_of(app::InstrumentKind kind) {
    switch (kind) {
        case app::InstrumentKind::scale:
            return "Scales";
        case app::InstrumentKind::tape:
            return "Tapes";
        case app::InstrumentKind::micrometer:
            return "Micrometers";
        case app::InstrumentKind::stopwatch:
            return "Stopwatches";
        case app::InstrumentKind::thermometer:
            return "Thermometers";
    }
    return {};
}

std::string plural(std::size_t count, std::string_view thing) {
    return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

std::string sentence(const std::string& words) {
    return words.empty() ? words : with_capital(words) + ".";
}

const std::vector<std::string_view>& kind_names() {
    static const std::vector<std::string_view> names = [] {
        std::vector<std::string_view> all;
        for (const auto kind : app::all_instrument_kinds) all.push_back(app::name_of(kind));
        return all;
    }();
    return names;
}

std::string squeeze_words(const Situation& situation) {
    if (!situation.squeeze_found.empty()) return situation.squeeze_found;
    if (!situation.coated) return {};
    const auto& coils = *situation.coated;
    const std::size_t usable = coils.usable.size();
    if (coils.are_enough()) {
        return fmt::format(
            "{} of your coils were read with it and weighed under water: enough to "
            "find how far it squeezes a soft coating.",
            usable);
    }
    const std::size_t missing = app::least_coated_coils - usable;
    std::string words = fmt::format(
        "How far it squeezes a soft coating can be found from {} level coils that were read with "
        "it and weighed in air and under water. {} missing.",
        app::least_coated_coils,
        missing == 1 ? "One is" : fmt::format("{} are", missing == 2 ? "Two" : "Three"));
    if (coils.lack_of_water.empty()) return words;
    std::vector<std::string> some(
        coils.lack_of_water.begin(),
        coils.lack_of_water.begin() +
            static_cast<std::ptrdiff_t>(std::min<std::size_t>(coils.lack_of_water.size(), 4)));
    return words + fmt::format(" {} {} only the weighing under water.", listed(some),
                               some.size() == 1 ? "lacks" : "lack");
}

AboutView about_view(const Form& form, const Situation& situation,
                     const app::KnownInstrument& known) {
    AboutView about;
    about.title = title_of(known.key);
    about.state = state_view(known.state);
    const auto words =
        app::in_words(known, situation.now, app::unit_to_type(known, situation.units));
    const auto add = [&](const std::string& each, Number number, Tone tone = Tone::normal) {
        if (each.empty()) return;
        about.sentences.push_back({sentence(each), tone, {}, help_on(number, situation.units)});
    };
    add(words.reads, Number::reads_too_much);
    add(words.checked, Number::checked,
        known.state == app::CheckState::again ? Tone::warn : Tone::normal);
    add(words.scatters, Number::scatter, Tone::muted);
    add(words.shows, Number::resolution, Tone::muted);
    add(words.on_soft, Number::reads_too_much, Tone::muted);
    const CheckDraft* check = check_at_hand(form);
    about.check_label = check != nullptr && check->is_begun() ? "Go on with the check" : "Check it";
    about.is_micrometer = known.key.kind == app::InstrumentKind::micrometer;
    if (about.is_micrometer) {
        about.squeeze = squeeze_words(situation);
        about.can_find_squeeze = situation.coated && situation.coated->are_enough();
    }
    about.how = how_to_check(known.key.kind);
    return about;
}

FiguresView figures_view(const Form& form, const app::KnownInstrument* known) {
    const FiguresDraft& draft = form.figures;
    FiguresView view;
    view.is_new = draft.is_new || known == nullptr;
    view.title = view.is_new ? "A new instrument" : "Figures of " + title_of(known->key);
    view.kinds = kind_names();
    view.kind = static_cast<int>(draft.kind);
    view.other_unit = other_unit(draft.kind, draft.unit);
    const auto field = [&](const char* label, const TypedText& typed, Spot spot, const char* note) {
        return Field{label, draft.unit, ordinary_figure(draft, spot) + " if empty", note,
                     words_of(typed.problem)};
    };
    view.code = {"Code", "", "short, to write on it", "", words_of(draft.code.problem)};
    view.resolution = field("One step", draft.resolution, Spot::resolution,
                            "the least change that its display shows");
    view.limit = field("Good to ±", draft.limit, Spot::limit, "its maker's limit of error");
    view.scatter =
        field("Repeats to", draft.scatter, Spot::scatter, "standard deviation of one reading");
    const bool was_checked = known != nullptr && !view.is_new && !known->as_written.empty();
    view.note = was_checked
                    ? "Its check is surer than its maker: only the step can be changed here."
                    : "What its maker says counts until it is checked. What nobody says is that of "
                      "an ordinary one, not zero.";
    view.save_label = view.is_new ? "Add it" : "Save";
    return view;
}

}  // namespace

std::string words_of(const std::optional<Problem>& problem) {
    return problem ? bench::words_of(*problem) : "";
}

std::string unit_word(std::string_view unit) {
    if (unit == "gr") return "grains";
    if (unit == "g") return "grams";
    if (unit == "in") return "inches";
    return std::string(unit);
}

std::string other_unit(app::InstrumentKind kind, std::string_view unit) {
    for (const auto each : app::units_of(kind)) {
        if (each != unit) return unit_word(each);
    }
    return {};
}

std::string with_capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    }
    return text;
}

std::string title_of(const app::InstrumentKey& key) {
    if (key.code.empty()) return fmt::format("The usual {}", app::name_of(key.kind));
    return with_capital(app::in_words(key));
}

std::vector<std::string> how_to_check(app::InstrumentKind kind) {
    switch (kind) {
        case app::InstrumentKind::scale:
            return {"Switch it on a while before, and let the weights come to the room's warmth.",
                    "Zero it once, empty, before you begin; never between readings.",
                    "Lift the weight off and lay it on anew for each reading; do not touch it "
                    "with bare fingers.",
                    "Two or three weights over the range that you use tell most."};
        case app::InstrumentKind::tape:
            return {"Lay it beside a steel rule, or a length that is known, on a flat table.",
                    "Read it as you read coils: the same end, the same pull.",
                    "Take it off and lay it down anew for each reading."};
        case app::InstrumentKind::micrometer:
            return {"Wipe both faces with clean paper, close them, and look that it shows zero.",
                    "Use hard pins or blocks. A soft coating gives way and says nothing of it.",
                    "Turn by the ratchet, always with the same feel; open it between readings.",
                    "Let pins and micrometer come to the room's warmth, and hold them little."};
        case app::InstrumentKind::stopwatch:
            return {
                "Stop the seconds of a clock that is known, as you stop a drop: by eye and "
                "thumb.",
                "Use times like those of a drop, and read at least five."};
        case app::InstrumentKind::thermometer:
            return {"Crushed ice in a little fresh water, stirred, is 0 °C to ± 0.1.",
                    "Wait until it stands still; do not touch the side.",
                    "A second one near the warmth of a river, beside a thermometer that is known."};
    }
    return {};
}

const app::KnownInstrument* known(const Situation& situation, const app::InstrumentKey& key) {
    const auto found = std::ranges::find(situation.instruments, key, &app::KnownInstrument::key);
    return found == situation.instruments.end() ? nullptr : &*found;
}

const app::KnownInstrument* in_hand(const Form& form, const Situation& situation) {
    return form.in_hand ? known(situation, *form.in_hand) : nullptr;
}

ListView list_view(const Form& form, const Situation& situation) {
    ListView list;
    const std::string code(trimmed(form.code));
    const std::string needle = lower_ascii(code);
    std::size_t again = 0;
    std::optional<app::InstrumentKind> last;
    bool is_known = false;
    for (const auto& each : situation.instruments) {
        if (each.state == app::CheckState::again) ++again;
        is_known = is_known || (!code.empty() && each.key.code == code);
        const auto words =
            app::in_words(each, situation.now, app::unit_to_type(each, situation.units));
        InstrumentRow row;
        row.key = each.key;
        row.id = app::in_words(each.key);
        row.name = each.key.code.empty() ? title_of(each.key) : each.key.code;
        row.state = state_view(each.state);
        row.reads = words.reads;
        // The state stands beside it already.
        if (const auto colon = row.reads.find(": "); row.reads.starts_with("never checked")) {
            row.reads.erase(0, colon + 2);
        }
        const auto all = lower_ascii(row.id + "\n" + row.name + "\n" + row.state.word);
        if (!needle.empty() && all.find(needle) == std::string::npos) continue;
        if (last != each.key.kind) row.group = group_of(each.key.kind);
        last = each.key.kind;
        row.in_hand = form.in_hand == each.key;
        const auto draft = form.checks.find(each.key);
        row.has_draft = draft != form.checks.end() && draft->second.is_begun();
        row.whole = title_of(each.key) + ", " + row.state.word + "\n" + sentence(words.reads);
        if (!words.checked.empty()) row.whole += "\n" + sentence(words.checked);
        list.rows.push_back(std::move(row));
    }
    list.summary = plural(situation.instruments.size(), "instrument");
    if (again > 0) list.summary += fmt::format(", {} to check again", again);
    if (code.empty()) return list;
    if (list.rows.empty()) list.nothing = "No instrument with these letters.";
    if (is_known) {
        list.code_note = "Enter takes it.";
    } else if (const auto fine = coil_code_from(code); !fine) {
        list.code_error = words_of(fine.error());
    } else {
        list.code_note = form.asked_code == code
                             ? fmt::format("Enter again: {} is new.", coilbook::quoted(code))
                         : list.rows.empty() ? "Enter asks for a new one."
                                             : "";
    }
    return list;
}

View view_of(const Form& form, const Situation& situation) {
    View view;
    view.list = list_view(form, situation);
    view.task = form.task;
    view.failure = situation.failure;
    view.message = situation.message;
    const auto* instrument = in_hand(form, situation);
    view.has_instrument = instrument != nullptr;
    if (form.task == Task::study) {
        view.title = "A study of readings";
        view.study = study_view(form);
        if (situation.unfinished)
            view.study.unfinished = words_of_unfinished(*situation.unfinished);
        return view;
    }
    if (form.task == Task::figures) {
        view.figures = figures_view(form, instrument);
        view.title = view.figures.title;
    }
    if (instrument == nullptr) return view;
    if (view.title.empty()) view.title = title_of(instrument->key);
    view.about = about_view(form, situation, *instrument);
    if (form.task == Task::check && check_at_hand(form) != nullptr) {
        view.check = check_view(form, *instrument);
        view.result = check_result(form, *instrument);
    } else {
        view.result = last_check(*instrument, situation.units);
    }
    return view;
}

}  // namespace coilbook::bench::instruments_page
