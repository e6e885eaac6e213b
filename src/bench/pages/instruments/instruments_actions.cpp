#include "bench/pages/instruments/instruments_actions.h"

#include <array>

namespace coilbook::bench::instruments_page {
namespace {

struct Entry {
    Action action;
    bool (*is_possible)(const View& view);
    void (*run)(const Place& at);
};

bool always(const View&) {
    return true;
}
bool with_instrument(const View& view) {
    return view.has_instrument;
}
bool checking(const View& view) {
    return view.task == Task::check;
}
bool not_looking(const View& view) {
    return view.task != Task::look;
}

const auto& entries() {
    static const std::array all{
        Entry{{"check", "Check the instrument in hand", plain(key::f5)},
              with_instrument,
              [](const Place& at) { begin_check(at.form); }},
        Entry{{"figures", "Change what its maker says of it", plain(key::f6)},
              with_instrument,
              [](const Place& at) { begin_figures(at.form, at.instrument); }},
        Entry{{"squeeze", "Find how this micrometer squeezes soft coatings", plain(key::f7)},
              [](const View& view) { return view.about.can_find_squeeze; },
              [](const Place& at) { at.outbox.post(FindSqueeze{}); }},
        Entry{{"new instrument", "Add an instrument", control('N')},
              always,
              [](const Place& at) { begin_figures(at.form, nullptr); }},
        Entry{{"study", "Study how well people read", plain(key::f9)},
              always,
              [](const Place& at) { begin_study_task(at.form); }},
        Entry{{"save", "Save what is entered", control(key::enter)},
              not_looking,
              [](const Place& at) { save(at.view, at.form, at.outbox); }},
        Entry{{"next standard", "Go on to the next weight, pin or block", control('G')},
              checking,
              [](const Place& at) { next_standard(at.form); }},
        Entry{{"stated as", "Say in another way how sure the standard is", plain(key::f4)},
              checking,
              [](const Place& at) {
                  state_otherwise(at.form,
                                  static_cast<app::StatedAs>((at.view.check.stated_as + 1) % 3));
              }},
        Entry{{"other unit", "Type numbers in the other unit", plain(key::f3)},
              not_looking,
              [](const Place& at) { take_other_unit(at.form); }},
        Entry{{"take back", "Take back the last reading", control('T')},
              not_looking,
              [](const Place& at) { take_back(at.form); }},
        Entry{{"throw away", "Throw the begun check away", {}},
              [](const View& view) { return view.check.is_begun; },
              [](const Place& at) { throw_check_away(at.form); }},
        Entry{{"go on with study", "Go on with the study that was not finished", control('R')},
              [](const View& view) { return !view.study.unfinished.empty(); },
              [](const Place& at) { at.outbox.post(GoOnWithStudy{}); }},
        Entry{{"throw study away", "Throw the study away that was not finished", {}},
              [](const View& view) { return !view.study.unfinished.empty(); },
              [](const Place& at) { at.outbox.post(ThrowUnfinishedAway{}); }},
        Entry{{"new study", "Throw the study away and begin another", {}},
              [](const View& view) { return view.study.is_going; },
              [](const Place& at) { new_study(at.form); }},
        Entry{{"back", "Back to what is known of the instrument", plain(key::escape)},
              not_looking,
              [](const Place& at) { back_to_look(at.form); }},
        Entry{{"find", "Find an instrument or begin a new one", control('F')},
              always,
              [](const Place& at) {
                  at.form.code.clear();
                  at.form.code_was_emptied = true;
                  go_to(at.form, Spot::code);
              }},
        Entry{{"instrument below", "Go to the instrument below in the list", control(key::down)},
              always,
              [](const Place& at) { at.outbox.post(StepInstrument{1}); }},
        Entry{{"instrument above", "Go to the instrument above in the list", control(key::up)},
              always,
              [](const Place& at) { at.outbox.post(StepInstrument{-1}); }},
        Entry{
            {"save picture", "Save the plot of the check as SVG, PDF and PNG files", control('S')},
            [](const View& view) { return !view.result.plot.has_nothing(); },
            [](const Place& at) { at.outbox.post(SavePicture{}); }},
        Entry{{"undo", "Undo the last change", control('Z')},
              always,
              [](const Place& at) { go_back_or_forth(at.form, false, at.outbox); }},
        Entry{{"redo", "Do it again", control_shift('Z')},
              always,
              [](const Place& at) { go_back_or_forth(at.form, true, at.outbox); }},
        Entry{{"close failure", "Close the message about what went wrong", plain(key::f8)},
              [](const View& view) { return !view.failure.empty(); },
              [](const Place& at) { at.outbox.post(CloseFailure{}); }},
    };
    return all;
}

}  // namespace

std::vector<Action> instruments_actions(const View& view) {
    return offered(entries(), view);
}

void perform(std::string_view action, const Place& at) {
    do_by_name(entries(), action, at, at.view);
}

void watch_keys(const Place& at) {
    watch_chords(entries(), [&](std::string_view action) { perform(action, at); });
    const bool down = pressed(plain(key::down)), up = pressed(plain(key::up));
    if (at.form.spot == Spot::code) {
        if (down) at.outbox.post(StepInstrument{1});
        if (up) at.outbox.post(StepInstrument{-1});
    } else {
        if (down) go_to_neighbour(at.form, 1);
        if (up) go_to_neighbour(at.form, -1);
    }
}

}  // namespace coilbook::bench::instruments_page
