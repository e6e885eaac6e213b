// How far a coil has come, said by a shape, a colour and a word: the same on every page.
#pragma once

#include <string>

#include "app/bin.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {

struct StateView {
    Mark mark = Mark::ring;
    Tone tone = Tone::muted;
    std::string word;  // "unmeasured", "needs a reading", "ready to confirm", "confirmed"
};

[[nodiscard]] inline StateView state_sign(app::CoilState state) {
    const std::string word(app::name_of(state));
    switch (state) {
        case app::CoilState::unmeasured:
            return {Mark::ring, Tone::muted, word};
        case app::CoilState::needs_reading:
            return {Mark::half, Tone::warn, word};
        case app::CoilState::ready:
            return {Mark::diamond, Tone::accent, word};
        case app::CoilState::confirmed:
            return {Mark::check, Tone::good, word};
    }
    return {};
}

}  // namespace coilbook::bench
