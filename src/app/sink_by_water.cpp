#include "app/sink_by_water.h"

#include <cmath>

#include "identify/evidence.h"
#include "identify/facts.h"
#include "quantity/print.h"
#include "store/reading_repository.h"

namespace coilbook::app {

std::vector<SinkInWater> sink_by_water(Workshop& workshop, const Coil& coil) {
    const auto evidence =
        evidence_of(workshop.catalogue().readings().readings_of(coil.id), workshop.instruments());
    if (!evidence) return {};
    const auto sea = Salinity::from_practical(35.0).value();
    std::vector<SinkInWater> course;
    for (int celsius = 0; celsius <= 25; ++celsius) {
        const auto temperature = Temperature::from_celsius(celsius);
        const auto in_fresh = fit_facts(*evidence, water_at(temperature).value()).facts.sink_rate;
        const auto in_sea =
            fit_facts(*evidence, water_at(temperature, sea).value()).facts.sink_rate;
        if (!in_fresh || !in_sea) return {};
        course.push_back({temperature, *in_fresh, *in_sea});
    }
    return course;
}

Result<void> write_sink_by_water(Workshop& workshop, const Coil& coil, std::ostream& out,
                                 Format format, std::size_t terminal_width) {
    const auto course = sink_by_water(workshop, coil);
    if (course.empty()) {
        return problem("code", "the readings of coil " + coil.code + " do not tell how it sinks",
                       "a coil whose weight per foot and diameter are known");
    }
    const auto in_s = [](Speed speed) { return speed.in(inch_per_second); };
    if (format == Format::table) {
        RowWriter writer(out, {{"water, C", true}, {"fresh, in/s", true}, {"sea, in/s", true}},
                         format, terminal_width);
        for (const auto& row : course) {
            writer.add({std::to_string(std::lround(row.temperature.celsius())),
                        with_uncertainty(in_s(row.fresh.value), in_s(row.fresh.uncertainty)),
                        with_uncertainty(in_s(row.sea.value), in_s(row.sea.uncertainty))});
        }
        writer.finish("± is one standard deviation (k = 1). Sea water of salinity 35.");
        return {};
    }
    RowWriter writer(out,
                     {{"temperature_c", true},
                      {"fresh_in_s", true},
                      {"fresh_in_s_u", true},
                      {"sea_in_s", true},
                      {"sea_in_s_u", true}},
                     format);
    for (const auto& row : course) {
        writer.add({std::int64_t{std::lround(row.temperature.celsius())}, in_s(row.fresh.value),
                    in_s(row.fresh.uncertainty), in_s(row.sea.value), in_s(row.sea.uncertainty)});
    }
    writer.finish();
    return {};
}

}  // namespace coilbook::app
