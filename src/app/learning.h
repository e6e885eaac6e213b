// What the classes of a catalogue have learned from its confirmed coils.
#pragma once

#include <ostream>
#include <string>

#include "app/class_rows.h"
#include "app/table.h"
#include "catalog/coil.h"
#include "identify/learning.h"
#include "metrology/instrument.h"
#include "store/catalogue.h"

namespace coilbook::app {

class Workshop;

// The catalogue's library after all that is confirmed now, retired coils included. A coil whose
// readings cannot be weighed up teaches nothing. Throws Error where the file cannot be read.
[[nodiscard]] LearnedLibrary learned_library(store::Catalogue& catalogue,
                                             const Instruments& instruments);

// The classes beside what they were before they learned.
[[nodiscard]] std::vector<ClassListing> listings_of(const LearnedLibrary& learned);

// The confirmed coils that now look wrong, the worst of each class first: `code, confirmed_class,
// chance, better_class`. `chance` is how often a right coil would lie as far out.
void list_doubtful(Workshop& workshop, std::ostream& out, Format format,
                   std::size_t terminal_width = 0);

// One sentence on a confirmed coil that looks wrong; empty for any other.
[[nodiscard]] std::string doubt_about(const Workshop& workshop, const Id<Coil>& coil);

}  // namespace coilbook::app
