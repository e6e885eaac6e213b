// Words that several pages say in the same way.
#pragma once

#include <algorithm>
#include <concepts>
#include <string>

#include "base/result.h"
#include "catalog/readings.h"

namespace coilbook::bench {

// A problem beside its field or in a message: "'-3 gr' is negative: a weight above zero".
[[nodiscard]] inline std::string words_of(const Problem& problem) {
    return problem.suggestion.empty() ? problem.sentence
                                      : problem.sentence + ": " + problem.suggestion;
}

// "sample weight" for messages.
[[nodiscard]] inline std::string spoken(ReadingField field) {
    std::string words(name_of(field));
    std::ranges::replace(words, '_', ' ');
    return words;
}

// "1 coil", "3 coils"; with `what` before it, "3 confirmed coils" of "confirmed ".
template <std::integral Count>
[[nodiscard]] std::string coils(Count count, const std::string& what = "") {
    return std::to_string(count) + " " + what + (count == 1 ? "coil" : "coils");
}

}  // namespace coilbook::bench
