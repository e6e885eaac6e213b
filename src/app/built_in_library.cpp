#include "app/built_in_library.h"

#include <sstream>

#include "app/embedded.h"
#include "base/error.h"
#include "exchange/library_file.h"

extern "C" {
extern const char coilbook_reference_library_begin[];
extern const char coilbook_reference_library_end[];
}

namespace coilbook::app {

const ReferenceLibrary& built_in_library() {
    static const ReferenceLibrary library = [] {
        std::istringstream text(
            embedded_text(coilbook_reference_library_begin, coilbook_reference_library_end));
        auto read = exchange::read_library(text, "the built-in reference library");
        if (!read) throw Error(to_line(read.error().front()));
        return *read;
    }();
    return library;
}

}  // namespace coilbook::app
