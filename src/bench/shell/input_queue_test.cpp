#include "bench/shell/input_queue.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "bench/widgets/keys.h"

using namespace coilbook::bench;

namespace {

void press(InputQueue& queue, int key) {
    queue.push(KeyEvent{key, true});
    queue.push(KeyEvent{key, false});
}
void type(InputQueue& queue, char32_t character) {
    queue.push(KeyEvent{static_cast<int>(character), true});
    queue.push(CharacterEvent{character});
    queue.push(KeyEvent{static_cast<int>(character), false});
}
// The characters of a frame, and '\n' where Enter goes down.
std::u32string text_of(const std::vector<InputEvent>& events) {
    std::u32string text;
    for (const InputEvent& event : events) {
        if (const auto* typed = std::get_if<CharacterEvent>(&event)) text += typed->character;
        if (const auto* key = std::get_if<KeyEvent>(&event);
            key != nullptr && key->down && key->key == key::enter) {
            text += U'\n';
        }
    }
    return text;
}

}  // namespace

TEST_SUITE("Devices that type") {
    TEST_CASE("digits and Enter come out whole and in order, with a pause after each Enter") {
        InputQueue queue;
        for (const char32_t c : {U'3', U'.', U'2'}) type(queue, c);
        press(queue, key::enter);
        type(queue, U'7');
        press(queue, key::enter);

        std::vector<std::u32string> frames;
        for (int frame = 0; frame < 20; ++frame) frames.push_back(text_of(queue.next_frame(true)));
        CHECK(queue.is_idle());

        std::u32string all;
        for (const auto& frame : frames) all += frame;
        CHECK(all == U"3.2\n7\n");
        for (std::size_t at = 0; at + 3 < frames.size(); ++at) {
            if (frames[at].ends_with(U'\n')) {
                CHECK(frames[at + 1].empty());
                CHECK(frames[at + 2].empty());
                CHECK(frames[at + 3].empty());
            }
        }
    }

    TEST_CASE("a key never goes down and up within one frame") {
        InputQueue queue;
        press(queue, key::backspace);
        CHECK(queue.next_frame(true) == std::vector<InputEvent>{KeyEvent{key::backspace, true}});
        CHECK(queue.next_frame(true) == std::vector<InputEvent>{KeyEvent{key::backspace, false}});
    }

    TEST_CASE("the same digit twice is two digits") {
        InputQueue queue;
        type(queue, U'1');
        type(queue, U'1');
        std::u32string all;
        for (int frame = 0; frame < 4; ++frame) all += text_of(queue.next_frame(true));
        CHECK(all == U"11");
    }

    TEST_CASE("a number is dealt out in one frame, so that a slow screen does not fall behind") {
        InputQueue queue;
        for (const char32_t c : {U'1', U'1', U'.', U'1', U'1'}) type(queue, c);
        CHECK(text_of(queue.next_frame(true)) == U"11.11");
        CHECK(queue.is_idle());
    }

    TEST_CASE("the same command twice is two commands") {
        InputQueue queue;
        queue.push(KeyEvent{key::left_control, true});
        press(queue, 'N');
        press(queue, 'N');
        int seen = 0;
        for (int frame = 0; frame < 20; ++frame) {
            const auto dealt = queue.next_frame(true);
            const auto count = std::ranges::count(dealt, InputEvent{KeyEvent{'N', true}});
            CHECK(count + std::ranges::count(dealt, InputEvent{KeyEvent{'N', false}}) <= 1);
            seen += static_cast<int>(count);
        }
        CHECK(seen == 2);
    }

    TEST_CASE("a released Enter is told at once, so that it does not seem to be held") {
        InputQueue queue;
        press(queue, key::enter);
        CHECK(queue.next_frame(true).size() == 1);
        CHECK(queue.next_frame(true) == std::vector<InputEvent>{KeyEvent{key::enter, false}});
    }

    TEST_CASE("what is typed before a command is not swallowed by its Ctrl") {
        InputQueue queue;
        type(queue, U'5');
        queue.push(KeyEvent{key::left_control, true});
        queue.push(KeyEvent{key::enter, true});
        const auto first = queue.next_frame(true);
        CHECK(text_of(first) == U"5");
        CHECK(std::ranges::find(first, InputEvent{KeyEvent{key::left_control, true}}) ==
              first.end());
        const auto second = queue.next_frame(true);
        CHECK(text_of(second) == U"\n");
    }

    TEST_CASE("characters wait for a field, but not for ever") {
        InputQueue queue;
        queue.push(CharacterEvent{U'8'});
        for (int frame = 0; frame < InputQueue::patience_frames; ++frame) {
            CHECK(queue.next_frame(false).empty());
        }
        CHECK(text_of(queue.next_frame(false)) == U"8");
    }

    TEST_CASE("characters that waited go into the field as soon as it takes text") {
        InputQueue queue;
        queue.push(CharacterEvent{U'8'});
        CHECK(queue.next_frame(false).empty());
        CHECK(text_of(queue.next_frame(true)) == U"8");
    }

    TEST_CASE("a click ends its frame, and moves are merged") {
        InputQueue queue;
        queue.push(PointerEvent{1, 1});
        queue.push(PointerEvent{2, 2});
        queue.push(ButtonEvent{0, true});
        queue.push(ButtonEvent{0, false});
        CHECK(queue.next_frame(false) ==
              std::vector<InputEvent>{PointerEvent{2, 2}, ButtonEvent{0, true}});
        CHECK(queue.next_frame(false) == std::vector<InputEvent>{ButtonEvent{0, false}});
    }

    TEST_CASE("while keys wait, Esc and the mouse go past them, and nothing else is lost") {
        InputQueue queue;
        for (const char c : std::string("24")) {
            queue.push(CharacterEvent{static_cast<char32_t>(c)});
        }
        queue.push(KeyEvent{key::enter, true});
        queue.push(PointerEvent{5, 6});
        queue.push(KeyEvent{key::escape, true});
        queue.push(KeyEvent{key::escape, false});
        queue.push(KeyEvent{key::enter, false});
        CHECK(queue.past_the_keys() ==
              std::vector<InputEvent>{PointerEvent{5, 6}, KeyEvent{key::escape, true}});
        CHECK(queue.past_the_keys() == std::vector<InputEvent>{KeyEvent{key::escape, false}});
        CHECK(queue.past_the_keys().empty());
        // Ctrl P began what is waited for; its keys are let go while it goes on.
        queue.push(KeyEvent{key::left_control, false});
        queue.push(KeyEvent{'P', false});
        CHECK(queue.past_the_keys() ==
              std::vector<InputEvent>{KeyEvent{key::left_control, false}, KeyEvent{'P', false}});
        CHECK(queue.next_frame(true) == std::vector<InputEvent>{CharacterEvent{U'2'},
                                                                CharacterEvent{U'4'},
                                                                KeyEvent{key::enter, true}});
    }

    TEST_CASE("an Esc pressed before keys had to wait waits with them, and a later one does not") {
        InputQueue queue;
        queue.push(PointerEvent{5, 6});
        queue.push(KeyEvent{key::escape, true});
        queue.push(KeyEvent{key::escape, false});
        queue.keep_waiting();
        queue.push(KeyEvent{key::f5, true});
        CHECK(queue.past_the_keys() == std::vector<InputEvent>{PointerEvent{5, 6}});
        CHECK(queue.past_the_keys().empty());
        queue.push(KeyEvent{key::escape, true});
        CHECK(queue.past_the_keys() == std::vector<InputEvent>{KeyEvent{key::escape, true}});
        CHECK(queue.next_frame(false) == std::vector<InputEvent>{KeyEvent{key::escape, true}});
    }
}
