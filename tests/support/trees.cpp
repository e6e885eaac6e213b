#include "support/trees.h"

namespace coilbook {

std::filesystem::path source_tree() {
    return COILBOOK_SOURCE_DIR;
}

std::filesystem::path build_tree() {
    return COILBOOK_BINARY_DIR;
}

}  // namespace coilbook
