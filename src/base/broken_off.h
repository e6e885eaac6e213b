// Somebody has had enough of what takes its time.
#pragma once

namespace coilbook {

// Thrown in the middle of such work. It is no Error: whatever it passes undoes what was begun, and
// nobody reports it as a failure.
struct BrokenOff {};

}  // namespace coilbook
