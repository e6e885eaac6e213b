#include "bench/pages/library/library_actions.h"

#include "bench/widgets/field.h"

#include <array>

namespace coilbook::bench::library_page {
namespace {

// Where things happen.
struct At {
    const View& view;
    Form& form;
    Outbox<Command>& outbox;
};

struct Entry {
    Action action;
    bool (*is_possible)(const View& view, const Form& form);
    void (*run)(const At& at);
};

bool always(const View&, const Form&) {
    return true;
}
bool looking(const View&, const Form& form) {
    return form.task == Task::look;
}
bool at_own_class(const View& view, const Form& form) {
    return form.task == Task::look && view.is_own;
}
bool in_a_task(const View&, const Form& form) {
    return form.task != Task::look;
}

const auto& entries() {
    static const std::array all{
        Entry{{"class below", "Go to the class below", plain(key::down)},
              looking,
              [](const At& at) { at.outbox.post(StepClass{1}); }},
        Entry{{"class above", "Go to the class above", plain(key::up)},
              looking,
              [](const At& at) { at.outbox.post(StepClass{-1}); }},
        Entry{{"ten below", "Go ten classes down", plain(key::page_down)},
              looking,
              [](const At& at) { at.outbox.post(StepClass{10}); }},
        Entry{{"ten above", "Go ten classes up", plain(key::page_up)},
              looking,
              [](const At& at) { at.outbox.post(StepClass{-10}); }},
        Entry{
            {"find class", "Find a class, by its name or by a coil confirmed as it", control('F')},
            looking,
            [](const At& at) {
                at.form.filter.clear();
                at.form.filter_was_emptied = true;
                at.form.frames_to_focus = frames_to_take_focus;
            }},
        Entry{{"zoom to class", "Zoom the map to the chosen class", plain(key::f3)},
              [](const View& view, const Form&) { return view.close_up.has_value(); },
              [](const At& at) { zoom_to_chosen(at.view, at.form); }},
        Entry{{"coils on the map", "Show or hide the confirmed coils on the map", plain(key::f7)},
              always,
              [](const At& at) { at.form.shows_coils = !at.form.shows_coils; }},
        Entry{{"curves on the map", "Show or hide lines of equal density and sink rate",
               plain(key::f9)},
              always,
              [](const At& at) { at.form.shows_curves = !at.form.shows_curves; }},
        Entry{{"next doubt", "Go to the next class with a confirmed coil that looks wrong",
               control('G')},
              [](const View& view, const Form& form) {
                  return form.task == Task::look && view.has_doubts;
              },
              [](const At& at) { at.outbox.post(NextDoubt{}); }},
        Entry{{"take back doubtful", "Take back what the doubtful coil was confirmed as",
               control('T')},
              [](const View& view, const Form& form) {
                  return form.task == Task::look && view.doubtful.has_value();
              },
              [](const At& at) { at.outbox.post(TakeBack{*at.view.doubtful}); }},
        Entry{{"change class", "Change the chosen class: its name and its figures", control('E')},
              at_own_class,
              [](const At& at) { at.outbox.post(BeginTask{Task::change}); }},
        Entry{{"add class", "Add a class of your own", control('N')},
              looking,
              [](const At& at) { at.outbox.post(BeginTask{Task::add}); }},
        Entry{
            {"split class", "Split the chosen class in two, by its confirmed coils", control('D')},
            at_own_class,
            [](const At& at) { at.outbox.post(BeginTask{Task::split}); }},
        Entry{{"join classes", "Join another class with the chosen one", control('J')},
              at_own_class,
              [](const At& at) { at.outbox.post(BeginTask{Task::join}); }},
        Entry{{"do it", "Save what is typed of a class", control(key::enter)},
              in_a_task,
              [](const At& at) { at.outbox.post(FinishTask{}); }},
        Entry{{"leave it", "Leave the library as it is", plain(key::escape)},
              in_a_task,
              [](const At& at) { at.outbox.post(LeaveTask{}); }},
        Entry{{"save picture", "Save this picture of the map as a file", control('S')},
              always,
              [](const At& at) { at.outbox.post(SavePicture{}); }},
        Entry{{"undo", "Undo the last change", control('Z')},
              always,
              [](const At& at) { at.outbox.post(Undo{}); }},
        Entry{{"redo", "Do it again", control_shift('Z')},
              always,
              [](const At& at) { at.outbox.post(Redo{}); }},
        Entry{{"close failure", "Close the message about what went wrong", plain(key::f8)},
              [](const View& view, const Form&) { return !view.failure.empty(); },
              [](const At& at) { at.outbox.post(CloseFailure{}); }},
    };
    return all;
}

}  // namespace

std::vector<Action> library_actions(const View& view, const Form& form) {
    return offered(entries(), view, form);
}

void perform(std::string_view action, const View& view, Form& form, Outbox<Command>& outbox) {
    do_by_name(entries(), action, At{view, form, outbox}, view, form);
}

void watch_keys(const View& view, Form& form, Outbox<Command>& outbox) {
    watch_chords(entries(), [&](std::string_view action) { perform(action, view, form, outbox); });
}

void zoom_to_chosen(const View& view, Form& form) {
    if (!view.close_up) return;
    const PlotWindow whole{view.map.x, view.map.y};
    // Pushed into the whole, where the class lies at its edge.
    form.window = unless_whole(moved(*view.close_up, whole, 0.0, 0.0), whole);
}

}  // namespace coilbook::bench::library_page
