#include "bench/pages/instruments/instruments_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "bench/widgets/field.h"
#include "quantity/parse.h"

namespace coilbook::bench::instruments_page {
namespace {

// The fields of the task at hand, from top to bottom.
std::vector<Spot> fields_of(const Form& form) {
    switch (form.task) {
        case Task::look:
            return {Spot::code};
        case Task::check: {
            const CheckDraft* check = check_at_hand(form);
            if (check != nullptr && check->at) return {Spot::stated, Spot::sure, Spot::reading};
            return {Spot::stated, Spot::sure};
        }
        case Task::figures:
            if (!form.figures.is_new) return {Spot::resolution, Spot::limit, Spot::scatter};
            return {Spot::kind, Spot::new_code, Spot::resolution, Spot::limit, Spot::scatter};
        case Task::study:
            if (form.study.is_done() && !form.study.again) return {Spot::code};
            if (form.study.is_going()) return {Spot::study_reading};
            return {Spot::study_kind, Spot::people, Spot::coils, Spot::times};
    }
    return {Spot::code};
}

// The unit of bare numbers about that instrument.
std::string unit_of(const Form& form, const app::InstrumentKey& key) {
    const auto known = form.units_of_known.find(key);
    return known != form.units_of_known.end()
               ? known->second
               : std::string(app::unit_to_type(key.kind, form.units));
}

void set(Form& form, Spot spot, std::string text) {
    text_at(form, spot) = std::move(text);
    if (form.spot == spot) form.rewritten = spot;
}

// A figure as a field shows it.
std::string shown(const app::ShownFigure& figure, std::string_view unit) {
    return fmt::format("{:.6g}", app::number_of_span(figure, unit));
}

// Whether `typed` is `figure` as a field shows it, to six figures.
bool is_shown_as(const app::ShownFigure& figure, const app::ShownFigure& typed,
                 std::string_view unit) {
    const double exactly = app::number_of_span(figure, unit);
    return std::abs(app::number_of_span(typed, unit) - exactly) <= 1e-5 * exactly;
}

// "100" becomes "100 gr", so that it goes on to mean that when bare numbers mean something else.
void say_unit(std::string& text, std::string_view unit) {
    if (parse_number(trimmed(text))) text = fmt::format("{} {}", trimmed(text), unit);
}

std::string_view unit_after(app::InstrumentKind kind, std::string_view unit) {
    const auto units = app::units_of(kind);
    const auto here = std::ranges::find(units, unit);
    const bool is_last = here == units.end() || here + 1 == units.end();
    return is_last ? units.front() : *(here + 1);
}

std::vector<std::string> words_in(std::string_view text) {
    std::vector<std::string> words;
    for (const auto word : pieces(text, " ,;|\t")) words.emplace_back(word);
    return words;
}

bool has_doubles(std::vector<std::string> words) {
    std::ranges::sort(words);
    return std::ranges::adjacent_find(words) != words.end();
}

}  // namespace

std::vector<app::StandardRead> CheckDraft::read() const {
    std::vector<app::StandardRead> those;
    for (const auto& standard : standards) {
        if (!standard.readings.empty()) those.push_back(standard);
    }
    return those;
}

bool CheckDraft::is_begun() const {
    return !standards.empty() || !trimmed(stated.text).empty() || !trimmed(sure.text).empty();
}

void go_to(Form& form, Spot spot) {
    form.spot = spot;
    form.frames_to_focus = frames_to_take_focus;
}

void go_to_neighbour(Form& form, int step) {
    const auto fields = fields_of(form);
    const auto here = std::ranges::find(fields, form.spot);
    if (here == fields.end()) return go_to(form, fields.front());
    const int count = static_cast<int>(fields.size());
    const int at = static_cast<int>(here - fields.begin());
    go_to(form, fields[static_cast<std::size_t>((at + step + count) % count)]);
}

std::string& text_at(Form& form, Spot spot) {
    static std::string nowhere;  // what is typed without a check goes nowhere
    nowhere.clear();
    CheckDraft* check = check_at_hand(form);
    switch (spot) {
        case Spot::code:
            return form.code;
        case Spot::stated:
            return check != nullptr ? check->stated.text : nowhere;
        case Spot::sure:
            return check != nullptr ? check->sure.text : nowhere;
        case Spot::reading:
            return check != nullptr ? check->reading.text : nowhere;
        case Spot::kind:
            return form.figures.kind_text;
        case Spot::new_code:
            return form.figures.code.text;
        case Spot::resolution:
            return form.figures.resolution.text;
        case Spot::limit:
            return form.figures.limit.text;
        case Spot::scatter:
            return form.figures.scatter.text;
        case Spot::study_kind:
            return form.study.kind_text;
        case Spot::people:
            return form.study.people.text;
        case Spot::coils:
            return form.study.coils.text;
        case Spot::times:
            return form.study.times.text;
        case Spot::study_reading:
            return form.study.reading.text;
    }
    return nowhere;
}

void enter_code(const View& view, Form& form, Outbox<Command>& outbox) {
    const std::string code(trimmed(form.code));
    go_to(form, Spot::code);
    if (!code.empty()) {
        outbox.post(EnterCode{code});
    } else if (view.task != Task::look) {
        go_to(form, fields_of(form).front());
    }
}

// A check -----------------------------------------------------------------------------------------

CheckDraft* check_at_hand(Form& form) {
    if (!form.in_hand) return nullptr;
    const auto found = form.checks.find(*form.in_hand);
    return found == form.checks.end() ? nullptr : &found->second;
}
const CheckDraft* check_at_hand(const Form& form) {
    if (!form.in_hand) return nullptr;
    const auto found = form.checks.find(*form.in_hand);
    return found == form.checks.end() ? nullptr : &found->second;
}

void begin_check(Form& form) {
    if (!form.in_hand) return;
    auto& check = form.checks[*form.in_hand];
    if (check.unit.empty()) check.unit = unit_of(form, *form.in_hand);
    form.task = Task::check;
    go_to(form, check.at ? Spot::reading : Spot::stated);
}

void enter_stated(Form& form) {
    CheckDraft* check = check_at_hand(form);
    if (check == nullptr) return;
    check->stated.problem.reset();
    if (trimmed(check->stated.text).empty()) {  // nothing more to lay on: back to what lies there
        if (check->at)
            go_to(form, Spot::reading);
        else
            go_to(form, Spot::stated);
        return;
    }
    const auto value = app::reading_from(form.in_hand->kind, check->stated.text, check->unit);
    if (!value) {
        check->stated.problem = value.error();
        return go_to(form, Spot::stated);
    }
    go_to(form, Spot::sure);
}

void enter_sure(Form& form) {
    CheckDraft* check = check_at_hand(form);
    if (check == nullptr) return;
    check->stated.problem.reset();
    check->sure.problem.reset();
    if (trimmed(check->sure.text).empty()) {
        check->sure.problem = Problem{"standard_u", "how sure is it?", "0 if you take it as exact"};
        return go_to(form, Spot::sure);
    }
    auto standard = app::standard_of(form.in_hand->kind, check->stated.text, check->sure.text,
                                     check->as, check->unit);
    if (!standard) {
        const bool is_stated = standard.error().field == "standard";
        (is_stated ? check->stated : check->sure).problem = standard.error();
        return go_to(form, is_stated ? Spot::stated : Spot::sure);
    }
    // The same weight again goes on with its readings; a mended one keeps those that it has.
    const auto same = std::ranges::find_if(check->standards, [&](const auto& each) {
        return each.stated == standard->stated &&
               each.stated_uncertainty == standard->stated_uncertainty;
    });
    if (same != check->standards.end()) {
        check->at = static_cast<std::size_t>(same - check->standards.begin());
    } else if (check->at) {
        auto& here = check->standards[*check->at];
        standard->readings = std::move(here.readings);
        standard->as_written = std::move(here.as_written);
        here = std::move(*standard);
    } else {
        check->standards.push_back(std::move(*standard));
        check->at = check->standards.size() - 1;
    }
    go_to(form, Spot::reading);
}

void enter_reading(Form& form) {
    CheckDraft* check = check_at_hand(form);
    if (check == nullptr || !check->at) return;
    check->reading.problem.reset();
    auto& standard = check->standards[*check->at];
    if (trimmed(check->reading.text).empty()) {
        if (!standard.readings.empty()) return next_standard(form);
        check->reading.problem = Problem{"reading", "nothing is read yet", "what it shows"};
        return go_to(form, Spot::reading);
    }
    const auto added =
        app::add_reading(standard, form.in_hand->kind, check->reading.text, check->unit);
    if (!added) {
        check->reading.problem = added.error();
    } else {
        set(form, Spot::reading, "");
    }
    go_to(form, Spot::reading);
}

void next_standard(Form& form) {
    CheckDraft* check = check_at_hand(form);
    if (check == nullptr) return;
    std::erase_if(check->standards, [](const auto& each) { return each.readings.empty(); });
    check->at.reset();
    check->stated.problem.reset();
    check->sure.problem.reset();
    check->reading.problem.reset();
    set(form, Spot::stated, "");
    set(form, Spot::sure, "");
    set(form, Spot::reading, "");
    go_to(form, Spot::stated);
}

void lay_on(Form& form, std::size_t standard) {
    CheckDraft* check = check_at_hand(form);
    if (check == nullptr || standard >= check->standards.size()) return;
    check->at = standard;
    const auto& here = check->standards[standard];
    const auto comma = here.written.rfind(',');
    check->as = app::StatedAs::standard_uncertainty;
    check->stated = {here.written.substr(0, comma), {}};
    check->sure = {here.written.substr(comma + 1), {}};
    check->reading = {};
    go_to(form, Spot::reading);
}

void take_out(Form& form, std::size_t reading) {
    CheckDraft* check = check_at_hand(form);
    if (check == nullptr || !check->at) return;
    auto& standard = check->standards[*check->at];
    if (reading >= standard.readings.size()) return;
    const auto at = static_cast<std::ptrdiff_t>(reading);
    standard.readings.erase(standard.readings.begin() + at);
    standard.as_written.erase(standard.as_written.begin() + at);
    go_to(form, Spot::reading);
}

void take_back(Form& form) {
    if (form.spot != Spot::code && !trimmed(text_at(form, form.spot)).empty() &&
        form.task != Task::figures && !(form.task == Task::check && form.spot != Spot::reading)) {
        if (form.spot == Spot::study_reading) form.study.reading.problem.reset();
        if (CheckDraft* check = check_at_hand(form)) check->reading.problem.reset();
        return set(form, form.spot, "");
    }
    if (form.task == Task::study && form.study.again) {
        form.study.again.reset();
        return go_to(form, form.study.is_done() ? Spot::code : Spot::study_reading);
    }
    if (form.task == Task::study && form.study.is_going() && !form.study.readings.empty()) {
        form.study.readings.pop_back();
        form.study.as_written.pop_back();
        form.study.kept_as.clear();
        return go_to(form, Spot::study_reading);
    }
    CheckDraft* check = check_at_hand(form);
    if (form.task != Task::check || check == nullptr || !check->at) return;
    auto& standard = check->standards[*check->at];
    if (!standard.readings.empty()) return take_out(form, standard.readings.size() - 1);
    check->standards.erase(check->standards.begin() + static_cast<std::ptrdiff_t>(*check->at));
    next_standard(form);
}

void state_otherwise(Form& form, app::StatedAs as) {
    if (CheckDraft* check = check_at_hand(form)) check->as = as;
    if (form.task == Task::check) go_to(form, Spot::sure);
}

void take_other_unit(Form& form) {
    if (form.task == Task::check && form.in_hand) {
        CheckDraft* check = check_at_hand(form);
        if (check == nullptr) return;
        for (TypedText* each : {&check->stated, &check->sure, &check->reading}) {
            say_unit(each->text, check->unit);
        }
        check->unit = unit_after(form.in_hand->kind, check->unit);
    } else if (form.task == Task::figures) {
        for (TypedText* each :
             {&form.figures.resolution, &form.figures.limit, &form.figures.scatter}) {
            say_unit(each->text, form.figures.unit);
        }
        form.figures.unit = unit_after(form.figures.kind, form.figures.unit);
    } else if (form.task == Task::study && !form.study.is_going()) {
        form.study.unit = unit_after(form.study.kind, form.study.unit);
    }
    form.rewritten = form.spot;
    go_to(form, form.spot);
}

void throw_check_away(Form& form) {
    if (!form.in_hand) return;
    form.checks.erase(*form.in_hand);
    if (form.task == Task::check) begin_check(form);
}

// The maker's figures -----------------------------------------------------------------------------

void begin_figures(Form& form, const app::AnyInstrument* instrument) {
    const auto kind = form.in_hand ? form.in_hand->kind : app::InstrumentKind::scale;
    form.figures = {};
    form.figures.is_new = instrument == nullptr;
    form.task = Task::figures;
    form.figures.kind = kind;
    form.figures.kind_text = app::name_of(kind);
    form.figures.unit = instrument != nullptr && form.in_hand
                            ? unit_of(form, *form.in_hand)
                            : std::string(app::unit_to_type(kind, form.units));
    if (instrument != nullptr) {
        const auto figures = app::makers_figures(*instrument);
        form.figures.resolution.text = shown(figures.resolution, form.figures.unit);
        form.figures.limit.text = shown(figures.limit_of_error, form.figures.unit);
        form.figures.scatter.text = shown(figures.repeatability, form.figures.unit);
    }
    go_to(form, instrument == nullptr ? Spot::new_code : Spot::resolution);
}

std::string ordinary_figure(const FiguresDraft& draft, Spot spot) {
    const auto ordinary = app::instrument_of(default_instruments(), {draft.kind, ""});
    if (!ordinary) return "0";
    const auto figures = app::makers_figures(*ordinary);
    return shown(spot == Spot::resolution ? figures.resolution
                 : spot == Spot::limit    ? figures.limit_of_error
                                          : figures.repeatability,
                 draft.unit);
}

std::optional<app::MakersFigures> figures_of(FiguresDraft& draft,
                                             const app::AnyInstrument* instrument) {
    std::optional<app::MakersFigures> before;
    if (instrument != nullptr) before = app::makers_figures(*instrument);
    bool is_fine = true;
    const auto read = [&](TypedText& typed, const app::ShownFigure* old, Spot spot) {
        typed.problem.reset();
        const std::string text =
            trimmed(typed.text).empty() ? ordinary_figure(draft, spot) : typed.text;
        const auto figure = app::span_from(draft.kind, text, draft.unit);
        if (figure && old != nullptr && is_shown_as(*old, *figure, draft.unit)) return *old;
        if (figure) return *figure;
        typed.problem = figure.error();
        is_fine = false;
        return app::ShownFigure{};
    };
    const app::MakersFigures figures{
        read(draft.resolution, before ? &before->resolution : nullptr, Spot::resolution),
        read(draft.limit, before ? &before->limit_of_error : nullptr, Spot::limit),
        read(draft.scatter, before ? &before->repeatability : nullptr, Spot::scatter)};
    if (!is_fine) return std::nullopt;
    return figures;
}

void pick_kind(Form& form, app::InstrumentKind kind) {
    if (form.task == Task::study) {
        if (form.study.kind == kind) return;
        form.study.kind = kind;
        form.study.unit = app::unit_to_type(kind, form.units);
    } else if (form.figures.kind != kind) {
        form.figures.kind = kind;
        form.figures.unit = app::unit_to_type(kind, form.units);
    }
}

void enter_figure(Form& form, Spot spot, Outbox<Command>& outbox) {
    if (spot == Spot::scatter) {
        outbox.post(SaveFigures{});
        return go_to(form, spot);
    }
    go_to(form, spot);
    go_to_neighbour(form, 1);
}

// A study -----------------------------------------------------------------------------------------

void begin_study_task(Form& form) {
    form.task = Task::study;
    if (form.study.kind_text.empty()) form.study.kind_text = app::name_of(form.study.kind);
    go_to(form, form.study.again        ? Spot::study_reading
                : form.study.is_done()  ? Spot::code
                : form.study.is_going() ? Spot::study_reading
                                        : Spot::people);
}

void enter_study_field(Form& form, Spot spot, Outbox<Command>& outbox) {
    if (spot == Spot::times) {
        outbox.post(BeginStudy{});
        return go_to(form, spot);
    }
    go_to(form, spot);
    go_to_neighbour(form, 1);
}

std::optional<StudyPlan> plan_of(StudyDraft& study) {
    StudyPlan plan{words_in(study.people.text), words_in(study.coils.text), 0};
    study.people.problem.reset();
    study.coils.problem.reset();
    study.times.problem.reset();
    if (plan.people.empty()) {
        study.people.problem = Problem{"person", "who reads?", "one name or more"};
    } else if (has_doubles(plan.people)) {
        study.people.problem = Problem{"person", "one name stands twice", "different names"};
    }
    if (plan.coils.empty()) {
        study.coils.problem = Problem{"coil", "which coils?", "one code or more"};
    } else if (has_doubles(plan.coils)) {
        study.coils.problem = Problem{"coil", "one coil stands twice", "different coils"};
    }
    const auto times = parse_number(trimmed(study.times.text));
    if (!times || *times != static_cast<int>(*times) || *times < 2 || *times > 20) {
        study.times.problem = Problem{"times", "a whole number", "2 to 20, mostly 3"};
    } else {
        plan.times = static_cast<int>(*times);
    }
    if (study.people.problem || study.coils.problem || study.times.problem) return std::nullopt;
    return plan;
}

void enter_study_reading(Form& form) {
    StudyDraft& study = form.study;
    if (!study.is_going() || (study.is_done() && !study.again)) return;
    study.reading.problem.reset();
    const auto reading = app::reading_from(study.kind, study.reading.text, study.unit);
    if (!reading) {
        study.reading.problem =
            trimmed(study.reading.text).empty()
                ? Problem{"reading", "nothing is typed", "what the instrument shows"}
                : reading.error();
        return go_to(form, Spot::study_reading);
    }
    std::string text(trimmed(study.reading.text));
    if (study.again) {
        study.readings[*study.again] = *reading;
        study.as_written[*study.again] = std::move(text);
        study.again.reset();
        study.kept_as.clear();
    } else {
        study.readings.push_back(*reading);
        study.as_written.push_back(std::move(text));
    }
    set(form, Spot::study_reading, "");
    go_to(form, study.is_done() ? Spot::code : Spot::study_reading);
}

void read_again(Form& form, std::size_t reading) {
    if (reading >= form.study.readings.size()) return;
    form.study.again = reading;
    form.study.reading = {};
    go_to(form, Spot::study_reading);
}

app::UnfinishedStudy unfinished_of(const StudyDraft& study) {
    return {study.kind,       study.unit,  study.people_names,
            study.coil_codes, study.turns, study.as_written};
}

StudyDraft draft_of(const app::UnfinishedStudy& unfinished) {
    StudyDraft study;
    study.kind = unfinished.kind;
    study.kind_text = app::name_of(unfinished.kind);
    study.unit = unfinished.unit;
    study.people_names = unfinished.people;
    study.coil_codes = unfinished.coils;
    study.turns = unfinished.turns;
    for (const auto& text : unfinished.as_written) {
        const auto reading = app::reading_from(study.kind, text, study.unit);
        if (!reading) break;  // what follows is read once more
        study.readings.push_back(*reading);
        study.as_written.push_back(text);
    }
    return study;
}

void new_study(Form& form) {
    StudyDraft& study = form.study;
    study.turns.clear();
    study.readings.clear();
    study.as_written.clear();
    study.reading = {};
    study.again.reset();
    study.kept_as.clear();
    go_to(form, Spot::people);
}

// All of them -------------------------------------------------------------------------------------

void back_to_look(Form& form) {
    form.task = Task::look;
    go_to(form, Spot::code);
}

void save(const View& view, Form& form, Outbox<Command>& outbox) {
    switch (form.task) {
        case Task::look:
            return;
        case Task::check:
            if (view.check.can_save) outbox.post(SaveCheck{});
            return;
        case Task::figures:
            outbox.post(SaveFigures{});
            return;
        case Task::study:
            if (!form.study.is_going()) outbox.post(BeginStudy{});
            if (form.study.is_done() && !form.study.again) outbox.post(KeepStudy{});
            return;
    }
}

void go_back_or_forth(const Form& form, bool forth, Outbox<Command>& outbox) {
    Form copy = form;
    // The figures' fields show what is kept, so there the catalogue goes first.
    if (form.task != Task::figures && !text_at(copy, form.spot).empty()) return;
    if (forth) {
        outbox.post(Redo{});
    } else {
        outbox.post(Undo{});
    }
}

}  // namespace coilbook::bench::instruments_page
