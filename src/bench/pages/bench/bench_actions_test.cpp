#include "bench/pages/bench/bench_actions.h"

#include <doctest/doctest.h>

#include <set>

#include "bench/pages/bench/a_view.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bench_page;

namespace {

std::vector<Command> posted_by(std::string_view action, const View& view) {
    Form form;
    Outbox<Command> outbox;
    perform(action, view, form, outbox);
    return outbox.take();
}

bool is_possible(const View& view, std::string_view name) {
    for (const Action& action : bench_actions(view)) {
        if (action.name == name) return action.is_possible;
    }
    FAIL("no action ", name);
    return false;
}

}  // namespace

TEST_SUITE("What can be done at the bench") {
    TEST_CASE("no two actions have the same name, words or key") {
        std::set<std::string_view> names, words;
        std::set<std::string> chords;
        const auto actions = bench_actions(a_view());
        std::size_t with_key = 0;
        for (const Action& action : actions) {
            names.insert(action.name);
            words.insert(action.says);
            if (action.chord.key == 0) continue;
            ++with_key;
            chords.insert(name_of(action.chord));
        }
        CHECK(names.size() == actions.size());
        CHECK(words.size() == actions.size());
        CHECK(chords.size() == with_key);
    }

    TEST_CASE("an action is done by its name") {
        CHECK(posted_by("confirm", a_view()) == std::vector<Command>{Confirm{"T-11"}});
        CHECK(posted_by("next coil", a_view()) == std::vector<Command>{NextCoil{}});
        CHECK(posted_by("no such thing", a_view()).empty());
    }

    TEST_CASE("what cannot be done now is not done") {
        View view = a_view();
        view.has_coil = false;
        CHECK_FALSE(is_possible(view, "confirm"));
        CHECK(is_possible(view, "find"));
        CHECK(posted_by("confirm", view).empty());
        CHECK(posted_by("best next reading", view).empty());
    }
}
