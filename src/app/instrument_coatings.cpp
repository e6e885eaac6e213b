#include "app/instrument_coatings.h"

#include <cmath>

#include "identify/facts.h"
#include "quantity/print.h"
#include "store/check_repository.h"
#include "store/instrument_repository.h"
#include "store/reading_repository.h"

namespace coilbook::app {

Result<CoatedCoils> coated_coils(Workshop& workshop, const std::string& code) {
    const auto instruments = workshop.catalogue().instruments().all();
    const auto micrometer = micrometer_of(instruments, code);
    if (!micrometer) return tl::unexpected(micrometer.error());
    CoatedCoils coils;
    for (const auto& entry : workshop.catalogue().readings().bin()) {
        auto readings = entry.readings;
        if (readings.diameters.empty() || readings.micrometer != code) continue;
        if (readings.taper == Taper::tapered) continue;  // a diameter is not the mean of the coil
        const Length shown = mean_diameter(readings).mean;
        const double count = static_cast<double>(readings.diameters.size());
        const Length own = own_uncertainty(*micrometer) / std::sqrt(count);
        readings.diameters.clear();
        readings.sink_time.reset();  // a timed drop leans on the drag law
        if (!readings.submerged_weight) {
            if (readings.sample_weight && readings.sample_length) {
                coils.lack_of_water.push_back(entry.coil.code);
            }
            continue;
        }
        const auto evidence = evidence_of(readings, workshop.instruments());
        if (!evidence) continue;
        const auto fit = fit_facts(*evidence, fresh_water_at_10_C());
        if (!fit.facts.diameter || fit.contradictory) continue;
        coils.usable.push_back({*fit.facts.diameter, {shown, own}});
    }
    return coils;
}

Result<std::string> check_on_coatings(Workshop& workshop, const std::string& code) {
    const auto coils = coated_coils(workshop, code);
    if (!coils) return tl::unexpected(coils.error());
    if (!coils->are_enough()) {
        return problem("micrometer",
                       std::to_string(coils->usable.size()) +
                           " coils were read with it and weighed in air "
                           "and under water",
                       "three such coils or more, not tapered");
    }
    const auto found = coating_offset(coils->usable);
    const auto micrometer = micrometer_of(workshop.catalogue().instruments().all(), code);
    const auto done = workshop.catalogue().act(
        workshop.note("try " +
                      (code.empty() ? std::string("the micrometer") : "micrometer " + code) +
                      " on coatings"),
        [&](store::Act& act) -> Result<void> {
            const auto put = workshop.catalogue().instruments().put(
                act, workshop.new_id<store::BenchInstrument>(), *micrometer);
            if (!put) return put;
            workshop.catalogue().checks().add(act, {workshop.new_id<store::CoatingRecord>(), code,
                                                    workshop.surroundings().now(), found});
            return {};
        });
    if (!done) return tl::unexpected(done.error());
    workshop.refresh();
    const bool is_low = found.offset.si() < 0.0;
    const Length size = is_low ? -found.offset : found.offset;
    return "On the coatings of " + std::to_string(found.coils) + " coils it reads too " +
           (is_low ? "low" : "high") + " by " +
           in_unit_with_uncertainty(size, found.offset_uncertainty, {"mm", millimetre}) +
           ", and coils differ by " + significant(found.spread.in(millimetre), 2) +
           " mm. Diameters are put right from now on.";
}

}  // namespace coilbook::app
