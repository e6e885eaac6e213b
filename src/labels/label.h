// What stands on a label, as finished words. Where they come from is told elsewhere.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/loop_mark.h"

namespace coilbook::labels {

struct LabelContent {
    std::string code;                  // in large type, and in the QR code; 1 to 40 characters
    std::string name;                  // what it is: "T-11, type 7"; may be empty
    std::vector<std::string> figures;  // a line each: "15 ft, 165 gr", "sinks 7.1 in/s"
    std::string notes;                 // any script; as much as there is room for
    std::optional<LoopMark> mark;

    bool operator==(const LabelContent&) const = default;
};

// A label to stick on, or a flag to fold round the line: two halves with the code, back to back.
enum class Shape { label, flag };

}  // namespace coilbook::labels
