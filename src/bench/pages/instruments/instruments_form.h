// What the person is typing on the page of the instruments, and where the keyboard is.
//
// A value without a window: drawing edits the texts and calls the functions here when Enter or a
// key of an action is pressed; tests do the same. A check that is begun stays with its instrument,
// and a study stays too, whatever else is looked at meanwhile.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/instrument_changes.h"
#include "app/instrument_check.h"
#include "app/instruments.h"
#include "app/reading_study.h"
#include "app/unfinished_study.h"
#include "base/result.h"
#include "bench/outbox.h"
#include "bench/pages/instruments/instruments_commands.h"
#include "bench/pages/instruments/instruments_view.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench::instruments_page {

// The fields, task by task.
enum class Spot {
    code,
    // of a check
    stated,
    sure,
    reading,
    // of the maker's figures
    kind,
    new_code,
    resolution,
    limit,
    scatter,
    // of a study
    study_kind,
    people,
    coils,
    times,
    study_reading
};

// A text with what is wrong with it. What was refused is told when something else takes its place.
struct TypedText {
    std::string text;
    std::optional<Problem> problem;

    bool operator==(const TypedText&) const = default;
};

// A check of one instrument, on its way.
struct CheckDraft {
    std::string unit;  // of bare numbers: what the instrument shows
    std::vector<app::StandardRead> standards;
    std::optional<std::size_t> at;  // the standard that lies there; nothing: the next is not stated
    TypedText stated, sure, reading;
    app::StatedAs as = app::StatedAs::tolerance;

    // Those that were read, which alone count.
    [[nodiscard]] std::vector<app::StandardRead> read() const;
    [[nodiscard]] bool is_begun() const;

    bool operator==(const CheckDraft&) const = default;
};

struct FiguresDraft {
    bool is_new = false;
    app::InstrumentKind kind = app::InstrumentKind::scale;
    std::string unit;
    std::string kind_text;
    TypedText code, resolution, limit, scatter;

    bool operator==(const FiguresDraft&) const = default;
};

struct StudyDraft {
    app::InstrumentKind kind = app::InstrumentKind::micrometer;
    std::string kind_text;
    std::string unit = "mm";
    TypedText people, coils, times{"3", {}}, reading;
    bool is_shuffled = true;
    // Once it has begun:
    std::vector<std::string> people_names, coil_codes;
    std::vector<app::Turn> turns;
    std::vector<app::ShownFigure> readings;  // one for each of the first turns
    std::vector<std::string> as_written;
    std::optional<std::size_t> again;  // one of them that is read once more, in its place
    std::string kept_as;               // the file, once it is written

    [[nodiscard]] bool is_going() const { return !turns.empty(); }
    [[nodiscard]] bool is_done() const { return is_going() && readings.size() == turns.size(); }

    bool operator==(const StudyDraft&) const = default;
};

struct Form {
    std::string code;               // being typed or scanned; also filters the list
    bool code_was_emptied = false;  // in this frame, by a key
    std::string asked_code;         // a new code that Enter was pressed on once
    std::optional<Spot> rewritten;  // its text was changed in this frame, not by typing
    std::optional<app::InstrumentKey> in_hand;
    Task task = Task::look;
    std::map<app::InstrumentKey, CheckDraft> checks;  // of every instrument that one was begun of
    FiguresDraft figures;
    StudyDraft study;
    Spot spot = Spot::code;
    int frames_to_focus = 0;           // above 0: the field there is being given the keyboard
    std::string shown_in_list;         // the row that was scrolled into sight
    std::optional<PlotWindow> window;  // what is seen of the plot; nothing: all
    Units units = grains_and_feet;     // of bare numbers, where an instrument has none of its own
    std::map<app::InstrumentKey, std::string> units_of_known;  // as app::unit_to_type says

    bool operator==(const Form&) const = default;
};

// The study as it is kept while it goes on, and as it goes on from there.
[[nodiscard]] app::UnfinishedStudy unfinished_of(const StudyDraft& study);
[[nodiscard]] StudyDraft draft_of(const app::UnfinishedStudy& unfinished);

// The keyboard goes to `spot`.
void go_to(Form& form, Spot spot);
// The field below or above it in the task at hand; from the last on to the first.
void go_to_neighbour(Form& form, int step);
// The text of a spot, and what is wrong with it.
[[nodiscard]] std::string& text_at(Form& form, Spot spot);

// Enter in the field for codes: looked up after the frame, since a scanner's code and its Enter may
// come within one.
void enter_code(const View& view, Form& form, Outbox<Command>& outbox);

// A check -----------------------------------------------------------------------------------------

// The check of the instrument in hand, begun or gone on with. Nothing without one.
void begin_check(Form& form);
[[nodiscard]] CheckDraft* check_at_hand(Form& form);
[[nodiscard]] const CheckDraft* check_at_hand(const Form& form);
// Enter in the three fields. A standard is laid on when its value and how sure it is are
// understood; a reading is added to it, and the field waits for the next; Enter on an empty field
// goes on to the next standard. What cannot be understood stays with its problem, selected whole,
// so that the next number of a device takes its place.
void enter_stated(Form& form);
void enter_sure(Form& form);
void enter_reading(Form& form);
void next_standard(Form& form);
// Goes back to one of the standards, to read it again.
void lay_on(Form& form, std::size_t standard);
void take_out(Form& form, std::size_t reading);
// Takes back what is typed in the field at hand, or else the last reading, or else the standard.
void take_back(Form& form);
// The next of the three ways in which a standard's uncertainty is stated.
void state_otherwise(Form& form, app::StatedAs as);
// Bare numbers are in the next of the kind's units from now on, in the task at hand.
void take_other_unit(Form& form);
void throw_check_away(Form& form);

// The maker's figures -----------------------------------------------------------------------------

// `figures` are those of the instrument in hand; nothing begins a new one, of the same kind.
void begin_figures(Form& form, const app::AnyInstrument* instrument);
// What is typed, in the catalogue's terms; nothing where something cannot be understood, which then
// stands beside its field. A text that shows a figure of `instrument` means that figure, unrounded;
// an empty one means that of an ordinary instrument, since an unknown error is not zero.
[[nodiscard]] std::optional<app::MakersFigures> figures_of(FiguresDraft& draft,
                                                           const app::AnyInstrument* instrument);
// The ordinary figure for one of its fields, as it would be typed.
[[nodiscard]] std::string ordinary_figure(const FiguresDraft& draft, Spot spot);
void pick_kind(Form& form, app::InstrumentKind kind);
// Enter in one of its fields: on to the next, and from the last one saves.
void enter_figure(Form& form, Spot spot, Outbox<Command>& outbox);

// A study -----------------------------------------------------------------------------------------

void begin_study_task(Form& form);
void enter_study_field(Form& form, Spot spot, Outbox<Command>& outbox);
// Its people, coils and repeats as typed; a Problem in the field that is wrong.
struct StudyPlan {
    std::vector<std::string> people, coils;
    int times = 0;
};
[[nodiscard]] std::optional<StudyPlan> plan_of(StudyDraft& study);
void enter_study_reading(Form& form);
// One reading that looks wrong is read once more: the next one takes its place.
void read_again(Form& form, std::size_t reading);
void new_study(Form& form);

// All of them -------------------------------------------------------------------------------------

// Back to what is known of the instrument; what is begun stays.
void back_to_look(Form& form);
// Ctrl+Enter in the task at hand.
void save(const View& view, Form& form, Outbox<Command>& outbox);
// Ctrl+Z and Ctrl+Shift+Z; while something is typed in the field at hand, they are the field's own.
void go_back_or_forth(const Form& form, bool forth, Outbox<Command>& outbox);

}  // namespace coilbook::bench::instruments_page
