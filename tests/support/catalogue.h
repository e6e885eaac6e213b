// What tests with a catalogue share: ids and moments that count up, and things with defaults.
#pragma once

#include <doctest/doctest.h>

#include <cstdint>
#include <functional>
#include <string>

#include "base/error.h"
#include "catalog/coil.h"
#include "store/act.h"
#include "store/catalogue.h"
#include "support/temporary_folder.h"
#include "support/words.h"

namespace coilbook::store {

inline Instant moment(int second = 0) {
    return instant_from_text("2026-11-25T09:00:00Z").value() + std::chrono::seconds{second};
}

// A new id with every call: tests need different ones, not random ones.
inline std::uint32_t count_of_ids = 0;
template <class Thing>
Id<Thing> next_id() {
    const auto count = ++count_of_ids;
    RandomBytes bytes{};
    for (std::size_t at = 0; at < 4; ++at) {
        bytes[9 - at] = static_cast<std::uint8_t>(count >> (8 * at));
    }
    return Id<Thing>::make(moment(), bytes);
}

inline ActNote note_for(std::string what) {
    return {.id = next_id<Act>(),
            .at = moment(3600),
            .who = "the guide",
            .program = "coilbook test",
            .what = std::move(what),
            .why = ""};
}

inline Coil a_coil(std::string code, std::string notes = "") {
    return {.id = next_id<Coil>(),
            .code = std::move(code),
            .notes = std::move(notes),
            .made_at = moment(),
            .is_retired = false};
}

// Runs one writing function in an act of its own.
template <class Write>
auto in_an_act(Catalogue& catalogue, Write write) {
    return catalogue.act(note_for("try"), write);
}

}  // namespace coilbook::store
