// What the person is typing at the bench, and where the keyboard is.
//
// A value without a window: drawing edits the texts and calls the functions here when Enter or an
// arrow is pressed; tests do the same.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "bench/outbox.h"
#include "bench/pages/bench/bench_commands.h"
#include "bench/pages/bench/bench_view.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench::bench_page {

// Where the keyboard is: in the field for codes, in one for a reading, or in the one for notes.
class Spot {
  public:
    Spot() = default;                            // the field for codes
    Spot(ReadingField field) : field_(field) {}  // implicit: a field is where the keyboard is
    [[nodiscard]] static Spot notes() {
        Spot spot;
        spot.in_notes_ = true;
        return spot;
    }
    [[nodiscard]] bool is_code() const { return !field_ && !in_notes_; }
    [[nodiscard]] bool is_notes() const { return in_notes_; }
    // Nothing in the two that are no readings.
    [[nodiscard]] const std::optional<ReadingField>& reading() const { return field_; }

    bool operator==(const Spot&) const = default;

  private:
    std::optional<ReadingField> field_;
    bool in_notes_ = false;
};

// The instruments that are told apart, and their codes in the catalogue; empty for the default one.
enum class Tool { tape, scale, micrometer };
inline constexpr std::array all_tools{Tool::tape, Tool::scale, Tool::micrometer};
struct ToolsInUse {
    std::string tape, scale, micrometer;

    [[nodiscard]] std::string& code(Tool tool);
    // The one that a field is read with; empty for the default one, and where none is told apart.
    [[nodiscard]] std::string for_field(ReadingField field) const;

    bool operator==(const ToolsInUse&) const = default;
};

// The texts of the reading fields of one coil, with what is wrong with them.
struct Typed {
    std::array<std::string, all_reading_fields.size()> texts;
    std::array<std::optional<Problem>, all_reading_fields.size()> problems;
    std::string notes;
    std::optional<Problem> notes_problem;
    // What was refused in a field and still waits for a better text.
    std::array<std::string, all_reading_fields.size()> refused_texts;

    [[nodiscard]] std::string& text(ReadingField field);
    [[nodiscard]] const std::string& text(ReadingField field) const;
    [[nodiscard]] std::optional<Problem>& problem(ReadingField field);
    [[nodiscard]] const std::optional<Problem>& problem(ReadingField field) const;
    [[nodiscard]] std::string& refused(ReadingField field);

    bool operator==(const Typed&) const = default;
};

struct Form {
    std::string code;                       // being typed or scanned; also filters the bin
    bool code_was_emptied = false;          // in this frame, by a key
    std::string asked_code;                 // a new code that Enter was pressed on once
    std::optional<ReadingField> rewritten;  // its text was changed in this frame, not by typing
    ToolsInUse tools;                       // on the bench now, for every coil
    Typed typed;                            // of the coil in hand
    std::map<Id<Coil>, Typed> put_aside;    // of other coils with something not saved
    std::string chosen_class;               // to be confirmed instead of the best one
    std::optional<PlotWindow> window;       // what is seen of the plot; nothing: all
    Spot spot;                              // where the keyboard is or should be
    int frames_to_focus = 0;                // above 0: the field there is being given the keyboard
    std::string shown_coil;                 // the one that was scrolled into sight in the bin

    bool operator==(const Form&) const = default;
};

// The unit of a bare number in each field, as a NumberStyle takes it; empty for fields of words.
class FieldUnits {
  public:
    [[nodiscard]] std::string& of(ReadingField field);
    [[nodiscard]] const std::string& of(ReadingField field) const;

    bool operator==(const FieldUnits&) const = default;

  private:
    std::array<std::string, all_reading_fields.size()> units_;
};
// What is typed keeps its meaning under other units of bare numbers: a bare number gets the unit
// that it had, and loses it again where that stands beside the field.
[[nodiscard]] Typed under_other_units(const Typed& typed, const FieldUnits& before,
                                      const FieldUnits& now);
// "22.4" of "22.4 gr" beside a field of gr; any other text as it is.
[[nodiscard]] std::string without_unit(std::string_view text, std::string_view unit);

// The order in which readings are taken at the bench, and shown.
inline constexpr std::array bench_order{
    ReadingField::sample_length,
    ReadingField::sample_weight,
    ReadingField::diameters,
    ReadingField::submerged_weight,
    ReadingField::sink_distance,
    ReadingField::sink_time,
    ReadingField::water_temperature,
    ReadingField::tint,
    ReadingField::taper,
    ReadingField::floats,
    ReadingField::whole_length,
    ReadingField::whole_weight,
};

// The keyboard goes to `spot`.
void go_to(Form& form, Spot spot);
// The spot after or before this one in the order of the bench: the field for codes, the readings,
// the notes, and the field for codes again.
[[nodiscard]] Spot spot_after(Spot spot);
[[nodiscard]] Spot spot_before(Spot spot);

// Enter in the field for codes. What is typed there is looked up after the frame and not in `view`,
// which was made before: a scanner's code and its Enter may come within one frame.
// Empty, it goes to the first reading of the coil in hand.
void enter_code(const View& view, Form& form, Outbox<Command>& outbox);

// Enter in the field of a reading: saves what is new and moves on. What cannot be understood stays
// with its problem, and so does the keyboard; the whole text is selected, so that the next number
// of a device takes its place and never stands behind it. What was replaced is told when a number
// is saved in its place, since that may have come from the next device already. A field for several
// readings is emptied and keeps the keyboard until Enter is pressed in it empty. What is no
// value may be a code that was scanned here: that is posted, to be looked for.
void enter_reading(const View& view, Form& form, ReadingField field, Outbox<Command>& outbox);

// Enter in the field for notes: saves what is new, and goes to the field for codes.
void enter_notes(const View& view, Form& form, Outbox<Command>& outbox);

// The next of the catalogue's instruments of that kind is on the bench from now on. Nothing where
// there is but one.
void use_next(const View& view, Form& form, Tool tool);

// Takes back what is typed in the field at hand and not saved, or else the reading saved there; of
// several the last. Nothing if there is neither, or the keyboard is in no reading's field.
void take_back(const View& view, Form& form, Outbox<Command>& outbox);
// Takes back the one reading of several that is far from the others, if there is one.
void take_back_odd(const View& view, Outbox<Command>& outbox);
// Ctrl+Z and Ctrl+Shift+Z. While something is typed and not saved in the field at hand, they are
// the field's own.
void go_back_or_forth(const View& view, const Form& form, bool forth, Outbox<Command>& outbox);

// Confirms what the view says that Confirm means; nothing if that is not possible.
void confirm(const View& view, Outbox<Command>& outbox);

// Which of `words` the typed text means: the one it equals or, if it is the beginning of exactly
// one, that one. Capitals are forgiven. -1 for none.
[[nodiscard]] int picked_word(std::string_view typed, const std::vector<std::string_view>& words);

}  // namespace coilbook::bench::bench_page
