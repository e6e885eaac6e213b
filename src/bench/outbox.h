// What a page asks for while it is drawn, to be done after the frame.
//
// Drawing shows a View, edits a Form and posts Commands; it never does them. The shell takes them
// out when the frame is over and carries them out one after another, in the order of posting.
#pragma once

#include <utility>
#include <vector>

namespace coilbook::bench {

template <class Command>
struct Outbox {
    std::vector<Command> commands;

    template <class Posted>
    void post(Posted&& command) {
        commands.emplace_back(std::forward<Posted>(command));
    }
    // All commands posted so far; afterwards the outbox is empty.
    [[nodiscard]] std::vector<Command> take() { return std::exchange(commands, {}); }
};

}  // namespace coilbook::bench
