#include "bench/shell/input_queue.h"

#include <algorithm>

#include "bench/widgets/keys.h"

namespace coilbook::bench {
namespace {

bool is_modifier(int key) {
    return key >= key::first_modifier && key <= key::last_modifier;
}
bool is_control(int key) {
    return key == key::left_control || key == key::right_control;
}
bool is_alt(int key) {
    return key == key::left_alt || key == key::right_alt;
}
// Keys that only produce a character, which comes as an event of its own.
bool types_only(int key) {
    return key < key::escape || (key >= 320 && key < key::pad_enter);  // letters, keypad
}
// Keys that change the text of the field they meet but leave the focus where it is.
bool edits_only(int key) {
    return key == key::backspace || key == key::del || key == key::insert || key == key::left ||
           key == key::right || key == key::home || key == key::end;
}
bool is_release(const InputEvent& event) {
    const auto* key = std::get_if<KeyEvent>(&event);
    const auto* button = std::get_if<ButtonEvent>(&event);
    return (key != nullptr && !key->down) || (button != nullptr && !button->down);
}

}  // namespace

void InputQueue::push(const InputEvent& event) {
    if (!waiting_.empty()) {  // only the last of several positions matters
        auto* last = std::get_if<PointerEvent>(&waiting_.back());
        if (const auto* now = std::get_if<PointerEvent>(&event);
            last != nullptr && now != nullptr) {
            *last = *now;
            return;
        }
    }
    waiting_.push_back(event);
}

std::vector<InputEvent> InputQueue::next_frame(bool field_takes_text) {
    std::vector<InputEvent> dealt;
    std::vector<int> changed_keys;
    bool characters = false;
    kept_ = 0;
    const bool holding = hold_ > 0;
    if (holding) --hold_;

    while (!waiting_.empty()) {
        const InputEvent event = waiting_.front();
        if (holding && !is_release(event)) break;
        bool last_of_frame = false;

        if (const auto* key = std::get_if<KeyEvent>(&event)) {
            // Without Ctrl or Alt such a key means nothing beside its character.
            if (key->down && types_only(key->key) && !control_ && !alt_) {
                waiting_.pop_front();
                continue;
            }
            // A key that goes down and up within one frame would never have been pressed.
            const bool was_typed = types_only(key->key) && !key->down;
            if (!was_typed && std::ranges::find(changed_keys, key->key) != changed_keys.end()) {
                break;
            }
            const bool chord = is_control(key->key) || is_alt(key->key);
            if (chord && characters) break;  // characters beside Ctrl are taken for a command
            changed_keys.push_back(key->key);
            if (is_control(key->key)) control_ = key->down;
            if (is_alt(key->key)) alt_ = key->down;
            if (key->down && !is_modifier(key->key)) {
                const bool commands = control_ || alt_;
                last_of_frame = commands || !types_only(key->key);
                if (commands || !(types_only(key->key) || edits_only(key->key))) {
                    hold_ = hold_frames;
                }
            }
        } else if (std::holds_alternative<CharacterEvent>(event)) {
            if (!field_takes_text && waited_ < patience_frames) {
                ++waited_;
                break;
            }
            waited_ = 0;
            characters = true;
        } else if (const auto* button = std::get_if<ButtonEvent>(&event)) {
            last_of_frame = button->down;
        }

        dealt.push_back(event);
        waiting_.pop_front();
        if (last_of_frame) break;
    }
    return dealt;
}

std::vector<InputEvent> InputQueue::past_the_keys() {
    std::vector<InputEvent> dealt;
    std::vector<int> waiting_keys;  // that went down in what waits
    std::size_t place = 0;
    const auto waits = [&](const InputEvent& event) {
        if (std::holds_alternative<CharacterEvent>(event)) return true;
        const auto* it = std::get_if<KeyEvent>(&event);
        if (it == nullptr || (it->key == key::escape && place >= kept_)) return false;
        if (it->down) waiting_keys.push_back(it->key);
        return std::ranges::find(waiting_keys, it->key) != waiting_keys.end();
    };
    for (auto at = waiting_.begin(); at != waiting_.end();) {
        if (waits(*at)) {
            ++at;
            ++place;
            continue;
        }
        if (place < kept_) --kept_;
        const InputEvent event = *at;
        at = waiting_.erase(at);
        dealt.push_back(event);
        const auto* it = std::get_if<KeyEvent>(&event);
        const auto* button = std::get_if<ButtonEvent>(&event);
        if (it != nullptr && is_control(it->key)) control_ = it->down;
        if (it != nullptr && is_alt(it->key)) alt_ = it->down;
        // What goes down is let go in another frame, or it was never pressed.
        if ((it != nullptr && it->down) || (button != nullptr && button->down)) break;
    }
    return dealt;
}

}  // namespace coilbook::bench
