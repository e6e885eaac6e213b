// Where this checkout and its build lie, for tests that read files of the one or write into the other.
#pragma once

#include <filesystem>

namespace coilbook {

[[nodiscard]] std::filesystem::path source_tree();
[[nodiscard]] std::filesystem::path build_tree();

}  // namespace coilbook
