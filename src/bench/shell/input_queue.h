// Keys and mouse between the window system and the widgets, dealt out frame by frame.
//
// Scales, micrometers and scanners that type for you send digits and Enter within milliseconds,
// much faster than a window draws. Handed over at once, they lose keys: a widget library sees only
// the state of a key per frame, and after Enter the next field needs two frames to get the focus.
// So everything waits here in order, and each frame takes as much as it can understand: any number
// of characters, but one editing key; after a key that may move the focus, nothing but releases for
// `hold_frames` frames; and characters wait for a while until some field takes text.
#pragma once

#include <cstddef>
#include <deque>
#include <variant>
#include <vector>

namespace coilbook::bench {

// A key went down or up; `key` as in widgets/keys.h. Repeats of a held key are not events.
struct KeyEvent {
    int key = 0;
    bool down = false;
    bool operator==(const KeyEvent&) const = default;
};
// A character was typed.
struct CharacterEvent {
    char32_t character = 0;
    bool operator==(const CharacterEvent&) const = default;
};
// A mouse button (0 left, 1 right, 2 middle) went down or up.
struct ButtonEvent {
    int button = 0;
    bool down = false;
    bool operator==(const ButtonEvent&) const = default;
};
// The mouse is now here, in pixels of the window.
struct PointerEvent {
    float x = 0, y = 0;
    bool operator==(const PointerEvent&) const = default;
};
struct WheelEvent {
    float x = 0, y = 0;
    bool operator==(const WheelEvent&) const = default;
};
using InputEvent = std::variant<KeyEvent, CharacterEvent, ButtonEvent, PointerEvent, WheelEvent>;

class InputQueue {
  public:
    // Frames without input after a key that may move the focus. The next field takes text from the
    // third frame on, counting the one with Enter as the first (measured); 3 leaves one to spare.
    static constexpr int hold_frames = 3;
    // Frames that a character waits for a field; then it goes out even if nobody listens.
    static constexpr int patience_frames = 12;

    void push(const InputEvent& event);

    // What the next frame gets, in order. `field_takes_text`: whether a text field was active at
    // the end of the last frame.
    [[nodiscard]] std::vector<InputEvent> next_frame(bool field_takes_text);

    // The same while all keys shall wait: Esc and the mouse go past them, and so does the release
    // of a key that was dealt out when it went down, or it would count as held all the while.
    [[nodiscard]] std::vector<InputEvent> past_the_keys();
    // An Esc that waits already is not meant for what keeps the keys waiting: it waits like others.
    void keep_waiting() { kept_ = waiting_.size(); }

    // Nothing waits, and no frame has to be drawn for the sake of the queue.
    [[nodiscard]] bool is_idle() const { return waiting_.empty() && hold_ == 0; }
    [[nodiscard]] std::size_t size() const { return waiting_.size(); }

  private:
    std::deque<InputEvent> waiting_;
    bool control_ = false, alt_ = false;  // held, as dealt out so far
    std::size_t kept_ = 0;                // so many of the first that wait were there before
    int hold_ = 0;
    int waited_ = 0;
};

}  // namespace coilbook::bench
