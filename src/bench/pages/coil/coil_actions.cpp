#include "bench/pages/coil/coil_actions.h"

#include <algorithm>
#include <array>

namespace coilbook::bench::coil_page {
namespace {

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
bool with_photo(const View& view) {
    return view.has_coil && !view.photo.caption.empty();
}
bool with_photos(const View& view) {
    return view.has_coil && view.photo.has_more;
}

void step_fact(const Place& at, int step) {
    const auto last = static_cast<int>(at.view.facts.size()) - 1;
    at.form.fact = static_cast<std::size_t>(
        std::clamp(static_cast<int>(at.form.fact) + step, 0, std::max(last, 0)));
}

const auto& entries() {
    static const std::array all{
        Entry{{"fact below", "Go to the figure below, and where it comes from", plain(key::down)},
              with_coil,
              [](const Place& at) { step_fact(at, 1); }},
        Entry{{"fact above", "Go to the figure above, and where it comes from", plain(key::up)},
              with_coil,
              [](const Place& at) { step_fact(at, -1); }},
        Entry{{"coil below", "Go to the coil below in the bin", control(key::down)},
              always,
              [](const Place& at) { at.outbox.post(StepCoil{1}); }},
        Entry{{"coil above", "Go to the coil above in the bin", control(key::up)},
              always,
              [](const Place& at) { at.outbox.post(StepCoil{-1}); }},
        Entry{{"find", "Find another coil by its code", control('F')},
              always,
              [](const Place& at) {
                  at.form.code.clear();
                  at.form.rewritten = Spot::code;
                  go_to(at.form, Spot::code);
              }},
        Entry{{"to the bench", "Take this coil to the bench, to read it", control('B')},
              with_coil,
              [](const Place& at) { at.outbox.post(TakeToTheBench{}); }},
        Entry{{"notes", "Write its notes", control('E')},
              with_coil,
              [](const Place& at) { go_to(at.form, Spot::notes); }},
        Entry{{"note a condition", "Note what is wrong with it", control('D')},
              with_coil,
              [](const Place& at) { go_to(at.form, Spot::condition); }},
        Entry{{"good again", "Note that what was noted last is good again", control('G')},
              [](const View& view) { return !view.care.now.empty(); },
              [](const Place& at) { at.outbox.post(NoteGoodAgain{at.view.care.now.back().what}); }},
        Entry{{"add photograph", "Take in a photograph, by its path", control('P')},
              with_coil,
              [](const Place& at) { go_to(at.form, Spot::photograph); }},
        Entry{{"earlier photograph", "Show the photograph before", plain(key::f5)},
              with_photos,
              [](const Place& at) { ++at.form.photo; }},
        Entry{{"later photograph", "Show the photograph after", plain(key::f6)},
              with_photos,
              [](const Place& at) {
                  if (at.form.photo > 0) --at.form.photo;
              }},
        Entry{{"put photograph away", "Show this photograph no more", plain(key::f9)},
              with_photo,
              [](const Place& at) { at.outbox.post(PutPhotographAway{}); }},
        Entry{{"table or plot", "Show how it sinks as a table, or as a plot", plain(key::f3)},
              with_coil,
              [](const Place& at) { at.form.shows_table = !at.form.shows_table; }},
        Entry{{"save picture", "Save the plot of how it sinks as a file", control('S')},
              [](const View& view) { return !view.sink.rows.empty(); },
              [](const Place& at) { at.outbox.post(SavePicture{}); }},
        Entry{{"undo", "Undo the last change", control('Z')},
              always,
              [](const Place& at) { at.outbox.post(Undo{}); }},
        Entry{{"redo", "Do it again", control_shift('Z')},
              always,
              [](const Place& at) { at.outbox.post(Redo{}); }},
        Entry{{"close failure", "Close the message about what went wrong", plain(key::f8)},
              [](const View& view) { return !view.failure.empty(); },
              [](const Place& at) { at.outbox.post(CloseFailure{}); }},
    };
    return all;
}

}  // namespace

std::vector<Action> coil_actions(const View& view) {
    return offered(entries(), view);
}

void perform(std::string_view action, const Place& at) {
    do_by_name(entries(), action, at, at.view);
}

void watch_keys(const Place& at) {
    watch_chords(entries(), [&](std::string_view action) { perform(action, at); });
}

}  // namespace coilbook::bench::coil_page
