// The advice on the next reading in plain words: what to do, what it costs, what it is good for.
#pragma once

#include <string>

#include "catalog/reference_class.h"
#include "identify/verdict.h"

namespace coilbook::bench::bench_page {

struct NextWords {
    std::string what;        // "Next, measure the diameter in three places."
    std::string cost;        // "About 1 minute, with 1 chance in 8 to change the answer."
    bool is_enough = false;  // `what` says that nothing more is needed
};

// What to read next for `question`, about which `verdict` was asked. Without advice it is empty,
// unless it is enough; readings that contradict one another or cannot be are never enough.
[[nodiscard]] NextWords next_words(const Verdict& verdict, const Question& question,
                                   const ReferenceLibrary& library);

// "a few seconds", "half a minute", "1 minute", "3 minutes": about that long.
[[nodiscard]] std::string about(Duration time);
// "1 chance in 8", "an even chance"; from 0 to 1.
[[nodiscard]] std::string chance_in_words(double probability);

// What is asked, for a button: "Which line", "Fishes like T-11?".
[[nodiscard]] std::string asked(const Question& question, const ReferenceLibrary& library);
// Which reading comes first, for another: "Most telling first".
[[nodiscard]] std::string order_asked(const Question& question);

}  // namespace coilbook::bench::bench_page
