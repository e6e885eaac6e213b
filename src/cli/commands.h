// The commands, one file each. Each function adds its command to the program; when the person gives
// that command, it is carried out and its exit status put into `status`. Wrong values of options
// throw CLI::ParseError, as CLI11 itself does.
#pragma once

#include <CLI/CLI.hpp>

#include "cli/terminal.h"

namespace coilbook::cli {

void add_init(CLI::App& program, const Terminal& terminal, int& status);
void add_coils(CLI::App& program, const Terminal& terminal, int& status);
// condition, photograph and sink-rates, below `coils`
void add_coil_care(CLI::App& coils, const Terminal& terminal, int& status);
void add_find(CLI::App& program, const Terminal& terminal, int& status);
void add_code(CLI::App& program, const Terminal& terminal, int& status);
void add_label(CLI::App& program, const Terminal& terminal, int& status);
void add_readings(CLI::App& program, const Terminal& terminal, int& status);
void add_rig(CLI::App& program, const Terminal& terminal, int& status);
void add_boat(CLI::App& program, const Terminal& terminal, int& status);
void add_client(CLI::App& program, const Terminal& terminal, int& status);
void add_forget(CLI::App& program, const Terminal& terminal, int& status);
void add_outing(CLI::App& program, const Terminal& terminal, int& status);
// out, back, lend, lost, damaged and retired
void add_hand(CLI::App& program, const Terminal& terminal, int& status);
void add_where(CLI::App& program, const Terminal& terminal, int& status);
void add_stock(CLI::App& program, const Terminal& terminal, int& status);
void add_instruments(CLI::App& program, const Terminal& terminal, int& status);
void add_groups(CLI::App& program, const Terminal& terminal, int& status);
void add_history(CLI::App& program, const Terminal& terminal, int& status);
// undo and redo
void add_undo(CLI::App& program, const Terminal& terminal, int& status);
// check, backup, restore, prune and salvage
void add_care(CLI::App& program, const Terminal& terminal, int& status);
void add_merge(CLI::App& program, const Terminal& terminal, int& status);
void add_exchange(CLI::App& program, const Terminal& terminal, int& status);
void add_conflicts(CLI::App& program, const Terminal& terminal, int& status);
// export and import
void add_tables(CLI::App& program, const Terminal& terminal, int& status);
void add_identify(CLI::App& program, const Terminal& terminal, int& status);
void add_score(CLI::App& program, const Terminal& terminal, int& status);
void add_classes(CLI::App& program, const Terminal& terminal, int& status);
void add_sink(CLI::App& program, const Terminal& terminal, int& status);

}  // namespace coilbook::cli
