#include "base/result.h"

namespace coilbook {

std::string to_line(const Problem& problem) {
    std::string line;
    if (!problem.field.empty()) line += problem.field + ": ";
    line += problem.sentence;
    if (!problem.suggestion.empty()) line += "; expected " + problem.suggestion;
    return line;
}

}  // namespace coilbook
