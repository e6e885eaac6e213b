// A failure of the machine: a disk, a database, a display. Thrown, never returned, and caught only
// in the command line's main, in the window's command runner and in tests.
#pragma once

#include <stdexcept>
#include <string>

namespace coilbook {

// Carries one sentence that grows to the left on its way up, so that it reads from the act down to
// the cause: "saving the readings of A7K3: inserting into reading: disk is full".
class Error : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;

    // This error as seen by a caller who was doing `act`.
    [[nodiscard]] Error during(const std::string& act) const { return Error(act + ": " + what()); }
};

}  // namespace coilbook
