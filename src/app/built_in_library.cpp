#include "app/built_in_library.h"

#include <sstream>
#include <string>

#include "base/error.h"
#include "exchange/library_file.h"

extern "C" const unsigned char coilbook_reference_library_begin[], coilbook_reference_library_end[];

namespace coilbook::app {

ReferenceLibrary built_in_library() {
    std::istringstream stream(
        std::string(coilbook_reference_library_begin, coilbook_reference_library_end));
    auto library = exchange::read_library(stream, "the built-in reference library");
    if (!library) throw Error("reading " + to_line(library.error().front()));
    return std::move(*library);
}

}  // namespace coilbook::app
