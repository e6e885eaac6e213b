// What a page asks for while it is drawn, to be done after the frame.
//
// Drawing shows a View, edits a Form and posts Commands; it never does them. The shell takes them
// out when the frame is over and carries them out one after another, in the order of posting.
#pragma once

#include <utility>
#include <variant>
#include <vector>

#include "base/broken_off.h"
#include "base/error.h"

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

// Takes out what was posted and does it, in order: `run` does one command of any kind. An Error of
// the machine goes to `failed`, and what comes after it is done all the same; where the person has
// had enough, `failed` is told that, too, and what comes after it is left. Gives whether there was
// anything.
template <class Command, class Run, class Failed>
bool carry_out(Outbox<Command>& outbox, const Run& run, const Failed& failed) {
    const std::vector<Command> commands = outbox.take();
    for (const Command& command : commands) {
        try {
            std::visit(run, command);
        } catch (const Error& error) {
            failed(error);
        } catch (const BrokenOff&) {
            failed(Error("That was broken off, and everything is as it was before"));
            break;
        }
    }
    return !commands.empty();
}

}  // namespace coilbook::bench
