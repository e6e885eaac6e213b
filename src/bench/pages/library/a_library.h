// What the page is about, for tests: a small library with two confirmed coils, all of it invented.
#pragma once

#include <cmath>

#include "bench/pages/library/library_map.h"
#include "bench/pages/library/library_model.h"

namespace coilbook::bench::library_page {

// A line of that weight and density; 3 % and 8 % spread, uncorrelated.
[[nodiscard]] inline LineDistribution a_line(double grains_per_foot, double g_per_cm3) {
    return {std::log(grains_per_foot), 0.03, std::log(g_per_cm3), 0.08, 0.0};
}

[[nodiscard]] inline app::ClassSheet a_sheet(const char* name, std::optional<Family> family,
                                             double grains_per_foot, double g_per_cm3) {
    app::ClassSheet sheet{};
    sheet.now.name = name;
    sheet.now.family = family;
    sheet.now.weight = 1.0;
    sheet.now.line = sheet.before = a_line(grains_per_foot, g_per_cm3);
    sheet.now.basis = "invented";
    sheet.middle = sheet.middle_before = app::middle_of(sheet.before);
    return sheet;
}

[[nodiscard]] inline Id<Coil> coil_id(std::uint8_t number) {
    return Id<Coil>::make(Instant(std::chrono::milliseconds(1'700'000'000'000)),
                          RandomBytes{0, 0, 0, 0, 0, 0, 0, 0, 0, number});
}

[[nodiscard]] inline app::ConfirmedExample an_example(std::uint8_t number, const char* code,
                                                      const char* class_name,
                                                      const LineDistribution& line) {
    return {.coil = {coil_id(number), code, "", Instant{}, false},
            .class_name = class_name,
            .line = line,
            .better_class = {},
            .doubt = {}};
}

// T-11 learned from A1 to be 5 % heavier, and B7 does not look like it; nothing is confirmed as any
// other.
[[nodiscard]] inline Situation a_situation() {
    Situation situation;
    situation.classes = {a_sheet("T-8", Family::level_line, 8, 4.2),
                         a_sheet("T-11", Family::level_line, 11, 4.2),
                         a_sheet("size 11 type 6 tip", Family::matched_tip, 11.2, 3.9),
                         a_sheet("leader 5 in/s", Family::sinking_leader, 4, 4.0),
                         a_sheet("floating line", std::nullopt, 8, 0.8),
                         a_sheet("unlisted", Family::unlisted, 6, 2.5)};
    auto& t_11 = situation.classes[1];
    t_11.now.grain_class = GrainClass{11};
    t_11.now.density_grade = DensityGrade::type(7);
    t_11.now.line = a_line(11.55, 4.2);
    t_11.now.line.ln_grains_per_foot_sd = 0.02;
    t_11.now.confirmed = 2;
    t_11.middle = app::middle_of(t_11.now.line);
    t_11.learned_from = 1;
    t_11.set_aside = 1;
    situation.classes[2].now.density_grade = DensityGrade::type(6);
    situation.classes[2].now.line_size = LineSize{11};
    situation.examples = {an_example(1, "A1", "T-11", a_line(11.6, 4.2)),
                          an_example(2, "B7", "T-11", a_line(8.05, 4.3))};
    auto& wrong = situation.examples[1];
    wrong.is_set_aside = true;
    wrong.chance = 1e-5;
    wrong.better_class = "T-8";
    wrong.doubt = "It does not look like the other coils confirmed as T-11.";
    situation.ground = ground_of(situation.classes, situation.examples);
    return situation;
}

// `coils` of them, right in so many, each time said to be so sure.
[[nodiscard]] inline app::ConfirmedScore a_score(std::size_t coils, std::size_t right,
                                                 double certainty) {
    app::ConfirmedScore score;
    for (auto& answers : score.answers) {
        for (std::size_t at = 0; at < coils; ++at) {
            answers.push_back({certainty, at < right, 0.0, 0.0});
        }
    }
    score.listed = coils;
    return score;
}

}  // namespace coilbook::bench::library_page
