// Answers that may be "no", told in words.
//
// A person types, and may have meant something else. That is expected, so functions that read what
// people wrote return a Result: the value, or one Problem that can be shown next to the field.
// A failure of the machine is not a Result but an Error (error.h).
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <utility>

namespace coilbook {

// What is wrong with something a person wrote, ready to be read out.
struct Problem {
    std::string field;       // where: a column, an option, a field of the window; may be empty
    std::string sentence;    // what is wrong: "'-3 gr' is negative"
    std::string suggestion;  // what would be accepted: "a weight above zero, such as 22.4 gr"

    bool operator==(const Problem&) const = default;
};

// C++23's std::expected under another name; change it here when the compiler has it.
template <class T>
using Result = tl::expected<T, Problem>;

// `return problem("sample_weight", "…", "…");` from any function that returns a Result.
[[nodiscard]] inline tl::unexpected<Problem> problem(std::string field, std::string sentence,
                                                     std::string suggestion) {
    return tl::unexpected<Problem>{{std::move(field), std::move(sentence), std::move(suggestion)}};
}

// One line for a terminal: "FIELD: what is wrong; what would be accepted".
[[nodiscard]] std::string to_line(const Problem& problem);

}  // namespace coilbook
