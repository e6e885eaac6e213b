// What can be asked for on every page.
#pragma once

namespace coilbook::bench {

// Takes back the last change of the catalogue that stands, whoever made it, and does it again.
struct Undo {
    bool operator==(const Undo&) const = default;
};
struct Redo {
    bool operator==(const Redo&) const = default;
};
struct CloseFailure {
    bool operator==(const CloseFailure&) const = default;
};

}  // namespace coilbook::bench
