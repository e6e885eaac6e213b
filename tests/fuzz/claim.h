// What must be true whatever the bytes are; stops the program where it is not.
#pragma once

#include <cstdio>
#include <cstdlib>

namespace coilbook {

inline void claim(bool is_true, const char* what) {
    if (is_true) return;
    std::fprintf(stderr, "claim failed: %s\n", what);
    std::abort();
}

}  // namespace coilbook
