// A bench with a choice: the catalogue gets a second scale, "S2", as good as the default one.
#pragma once

#include <doctest/doctest.h>

#include "app/workshop.h"
#include "store/instrument_repository.h"

namespace coilbook::app {

inline void put_second_scale(Workshop& workshop) {
    workshop.catalogue().act(workshop.note("a second scale"), [&](store::Act& act) {
        Scale scale = default_instruments().scales.at("");
        scale.code = "S2";
        const auto id = workshop.new_id<store::BenchInstrument>();
        REQUIRE(workshop.catalogue().instruments().put(act, id, scale).has_value());
    });
    workshop.refresh();
}

}  // namespace coilbook::app
