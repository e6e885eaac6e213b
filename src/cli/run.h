// The command line as a function: arguments in, exit status out.
#pragma once

#include "cli/terminal.h"

namespace coilbook::cli {

// Exit statuses, part of the contract.
inline constexpr int done = 0;
inline constexpr int could_not_be_done = 1;  // with the reason on `err`
inline constexpr int wrong_usage = 2;

// Carries out one command. Never throws: failures of the machine are told and give 1.
[[nodiscard]] int run(int argc, const char* const* argv, const Terminal& terminal);

}  // namespace coilbook::cli
