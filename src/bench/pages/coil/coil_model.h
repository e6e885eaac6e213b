// From what is known about one coil to what the page shows. Pure: no window, no database, no clock.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/bin.h"
#include "app/coil_place.h"
#include "app/fact_sources.h"
#include "app/sink_by_water.h"
#include "bench/pages/coil/coil_form.h"
#include "bench/pages/coil/coil_view.h"
#include "catalog/coil_care.h"
#include "quantity/unit_set.h"

namespace coilbook::bench::coil_page {

// One entry of the history, as the page needs it.
struct Deed {
    Instant at;
    std::string what, who, why;
    bool was_undone = false;
};

struct CoilAtHand {
    Coil coil;
    app::CoilState state = app::CoilState::unmeasured;
    app::CoilLabel label;
    std::string doubt;
    std::vector<app::FactSource> facts;
    app::CoilPlace place;
    app::CoilBalance balance;
    std::vector<app::SinkInWater> sinks;
    std::vector<Condition> conditions_now, all_conditions;
    std::vector<Photograph> photographs;  // the last one first
    std::shared_ptr<const Photo> photo;   // of the one that is shown
    std::string photo_trouble;            // why it cannot be shown; may be empty
    std::vector<Deed> history;            // the last one first
};

struct Situation {
    std::optional<CoilAtHand> coil;
    Units units = grains_and_feet;  // that all numbers are shown in
    std::string failure, message;
};

[[nodiscard]] View view_of(const Form& form, const Situation& situation);

// Which photograph is shown: the form's, as far as there are so many.
[[nodiscard]] std::size_t shown_photograph(const Form& form, const CoilAtHand& coil);

}  // namespace coilbook::bench::coil_page
