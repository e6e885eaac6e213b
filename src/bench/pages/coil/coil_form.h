// What the person has typed and chosen on the page of one coil. A value without a window.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "base/result.h"
#include "bench/outbox.h"
#include "bench/pages/coil/coil_commands.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench::coil_page {

// Where the keyboard is.
enum class Spot { code, notes, condition, condition_note, photograph };

struct Form {
    std::string code;                // being typed or scanned
    std::string notes;               // of the coil, as kept or being typed
    std::string condition;           // the first letters of one will do
    std::string condition_note;      // more about it
    std::string photograph;          // a path
    std::optional<Problem> problem;  // with what was entered last; its field says where it stands
    Spot spot = Spot::code;
    int frames_to_focus = 0;           // above 0: the spot is being given the keyboard
    std::optional<Spot> rewritten;     // in this frame, not by typing
    std::size_t fact = 0;              // the one whose sources are shown
    std::size_t photo = 0;             // which photograph; the last one is 0
    bool shows_table = false;          // in place of the plot
    std::optional<PlotWindow> window;  // what is seen of it; nothing: all

    bool operator==(const Form&) const = default;
};

void go_to(Form& form, Spot spot);

// The condition that the letters mean: all of its name, or the beginning of just one.
[[nodiscard]] std::optional<Wear> condition_typed(const std::string& text);

// Enter in a field.
void enter_code(Form& form, Outbox<Command>& outbox);
void enter_condition(Form& form, Outbox<Command>& outbox);
void enter_condition_note(Form& form, Outbox<Command>& outbox);
void enter_photograph(Form& form, Outbox<Command>& outbox);
// The condition is picked by mouse.
void pick_condition(Form& form, Wear wear);

}  // namespace coilbook::bench::coil_page
