#include "bench/pages/bench/bench_actions.h"

#include <algorithm>
#include <array>

namespace coilbook::bench::bench_page {
namespace {

// Where things happen.
struct Place {
    const View& view;
    Form& form;
    Outbox<Command>& outbox;
};

struct Entry {
    Action action;
    bool (*is_possible)(const View& view);
    void (*run)(const Place& at);
};

bool always(const View&) {
    return true;
}
bool with_coil(const View& view) {
    return view.has_coil;
}

const auto& entries() {
    static const std::array all{
        Entry{{"confirm", "Confirm what the coil is", control(key::enter)},
              [](const View& view) { return view.has_coil && view.verdict.confirms.has_value(); },
              [](const Place& at) { confirm(at.view, at.outbox); }},
        Entry{{"take back the confirmation", "Take back what the coil was confirmed as", {}},
              [](const View& view) { return view.has_coil && view.verdict.may_take_back; },
              [](const Place& at) { at.outbox.post(TakeBackConfirmation{}); }},
        Entry{{"next coil", "Go to the next coil that is not confirmed", control('N')},
              always,
              [](const Place& at) { at.outbox.post(NextCoil{}); }},
        Entry{{"coil below", "Go to the coil below in the bin", control(key::down)},
              always,
              [](const Place& at) { at.outbox.post(StepCoil{1}); }},
        Entry{{"coil above", "Go to the coil above in the bin", control(key::up)},
              always,
              [](const Place& at) { at.outbox.post(StepCoil{-1}); }},
        Entry{{"find", "Find a coil or begin a new one", control('F')},
              always,
              [](const Place& at) {
                  at.form.code.clear();
                  at.form.code_was_emptied = true;
                  go_to(at.form, Spot{});
              }},
        Entry{{"give a code", "Begin a coil and let it be given a code", control('K')},
              always,
              [](const Place& at) { at.outbox.post(GiveCode{}); }},
        Entry{{"label", "Write the label of the coil as a PDF file", control('L')},
              with_coil,
              [](const Place& at) { at.outbox.post(WriteLabel{}); }},
        Entry{{"save picture", "Save the plot as SVG, PDF and PNG files", control('S')},
              with_coil,
              [](const Place& at) { at.outbox.post(SavePicture{}); }},
        Entry{{"correct the unit", "Take the weight for grams instead of grains, or the other way",
               control('U')},
              [](const View& view) { return view.has_coil && !view.verdict.correct_units.empty(); },
              [](const Place& at) { at.outbox.post(CorrectUnits{}); }},
        Entry{{"take back the odd one", "Take back the diameter that is far off the others",
               control('O')},
              [](const View& view) {
                  return std::ranges::any_of(view.readings,
                                             [](const auto& row) { return row.odd.has_value(); });
              },
              [](const Place& at) { take_back_odd(at.view, at.outbox); }},
        Entry{
            {"stopwatch", "Start or stop the stopwatch of the timed drop: Space in its field", {}},
            with_coil,
            [](const Place& at) { at.outbox.post(PressStopwatch{}); }},
        Entry{{"best next reading", "Go to the reading that would help most", control('G')},
              [](const View& view) { return view.has_coil && view.verdict.next_field.has_value(); },
              [](const Place& at) { go_to(at.form, *at.view.verdict.next_field); }},
        Entry{{"take back", "Take back the reading in this field", control('T')},
              with_coil,
              [](const Place& at) { take_back(at.view, at.form, at.outbox); }},
        Entry{{"undo", "Undo the last change", control('Z')},
              always,
              [](const Place& at) { go_back_or_forth(at.view, at.form, false, at.outbox); }},
        Entry{{"redo", "Do it again", control_shift('Z')},
              always,
              [](const Place& at) { go_back_or_forth(at.view, at.form, true, at.outbox); }},
        Entry{{"ask", "Choose what you want to know: line, class, grade, fishes like",
               plain(key::f3)},
              always,
              [](const Place& at) { at.outbox.post(AskNext{}); }},
        Entry{{"order", "Most telling reading first, or most telling for its time", plain(key::f4)},
              always,
              [](const Place& at) { at.outbox.post(AskInOtherOrder{}); }},
        Entry{{"next tape", "Take the next tape measure", plain(key::f5)},
              with_coil,
              [](const Place& at) { use_next(at.view, at.form, Tool::tape); }},
        Entry{{"next scale", "Take the next scale", plain(key::f6)},
              with_coil,
              [](const Place& at) { use_next(at.view, at.form, Tool::scale); }},
        Entry{{"next micrometer", "Take the next micrometer", plain(key::f7)},
              with_coil,
              [](const Place& at) { use_next(at.view, at.form, Tool::micrometer); }},
        Entry{{"close failure", "Close the message about what went wrong", plain(key::f8)},
              [](const View& view) { return !view.failure.empty(); },
              [](const Place& at) { at.outbox.post(CloseFailure{}); }},
    };
    return all;
}

void watch_stopwatch(const View& view, Outbox<Command>& outbox) {
    const bool is_running = std::ranges::any_of(view.readings, &ReadingRow::is_running);
    if (is_running && pressed(plain(key::escape))) outbox.post(DropStopwatch{});
}

// In the field for codes the arrows walk through the bin, elsewhere through the fields.
void watch_arrows(Form& form, Outbox<Command>& outbox) {
    const bool down = pressed(plain(key::down)), up = pressed(plain(key::up));
    if (form.spot.is_code()) {
        if (down) outbox.post(StepCoil{1});
        if (up) outbox.post(StepCoil{-1});
    } else {
        if (down) go_to(form, spot_after(form.spot));
        if (up) go_to(form, spot_before(form.spot));
    }
}

}  // namespace

std::vector<Action> bench_actions(const View& view) {
    return offered(entries(), view);
}

void perform(std::string_view action, const View& view, Form& form, Outbox<Command>& outbox) {
    do_by_name(entries(), action, Place{view, form, outbox}, view);
}

void watch_keys(const View& view, Form& form, Outbox<Command>& outbox) {
    watch_chords(entries(), [&](std::string_view action) { perform(action, view, form, outbox); });
    for (std::size_t at = 0; at < view.verdict.bars.size() && at < 9; ++at) {
        if (pressed(control(static_cast<int>('1' + at))) &&
            !view.verdict.bars[at].class_name.empty()) {
            form.chosen_class = view.verdict.bars[at].class_name;
        }
    }
    watch_stopwatch(view, outbox);
    watch_arrows(form, outbox);
}

}  // namespace coilbook::bench::bench_page
