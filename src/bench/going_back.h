// Ctrl Z and Ctrl Shift Z, the same on every page: the last change of the catalogue that stands is
// undone, whoever made it, or done again.
#pragma once

#include <string>

#include "app/undo.h"
#include "app/workshop.h"
#include "bench/words.h"

namespace coilbook::bench {

struct WentBack {
    bool has_happened = false;  // then the page has to look again
    std::string words;          // "Undone: confirm coil A7 as T-11", or why not
};

namespace detail {

inline WentBack told(const Result<store::HistoryEntry>& done, const char* word) {
    if (done) return {true, std::string(word) + ": " + done->note.what};
    return {false, words_of(done.error())};
}

}  // namespace detail

// Both throw Error where the catalogue cannot be written.
[[nodiscard]] inline WentBack go_back(app::Workshop& workshop) {
    return detail::told(app::undo(workshop), "Undone");
}
[[nodiscard]] inline WentBack go_forth(app::Workshop& workshop) {
    return detail::told(app::redo(workshop), "Done again");
}

}  // namespace coilbook::bench
