// What the page is about, for tests of the model: small invented libraries, verdicts and coils.
#pragma once

#include <cmath>
#include <numeric>

#include "bench/pages/bench/a_view.h"
#include "bench/pages/bench/bench_model.h"

namespace coilbook::bench::bench_page {

// A level line of that weight and density; 3 % and 8 % spread, uncorrelated.
[[nodiscard]] inline ReferenceClass a_class(const char* name, double grains_per_foot,
                                            double density) {
    ReferenceClass made{};
    made.name = name;
    made.family = Family::level_line;
    made.weight = 1.0;
    made.line = {std::log(grains_per_foot), 0.03, std::log(density), 0.08, 0.0};
    return made;
}

// All of `count` classes equally probable, and nothing measured.
[[nodiscard]] inline Verdict a_verdict(std::size_t count) {
    Verdict verdict;
    verdict.probabilities.assign(count, 1.0 / static_cast<double>(count));
    verdict.ranking.resize(count);
    std::iota(verdict.ranking.begin(), verdict.ranking.end(), std::size_t{0});
    return verdict;
}

// A reading of A8, as it is kept.
[[nodiscard]] inline Reading a_reading(ReadingField field, const char* as_written,
                                       std::uint8_t number) {
    const auto values = read_values(field, as_written);
    return {Id<Reading>::make(Instant(std::chrono::milliseconds(1'700'000'000'000)),
                              RandomBytes{0, 0, 0, 0, 0, 0, 0, 0, 1, number}),
            coil_id(2),
            field,
            as_written,
            values.value().front(),
            {},
            Instant{},
            {}};
}

// What the list says of a coil.
[[nodiscard]] inline BinLine a_line(std::uint8_t number, const char* code, CoilState state,
                                    const app::CoilLabel& label) {
    app::CoilSummary summary;
    summary.state = state;
    summary.label = label;
    return line_of({coil_id(number), code, "", Instant{}, false}, &summary);
}

// A bin of three with A8 in hand: two feet of it weigh 22.4 grains, and it is T-11 at 0.94.
[[nodiscard]] inline Situation a_situation() {
    Situation situation;
    situation.library = {a_class("T-8", 8, 4.2), a_class("T-11", 11, 4.2),
                         a_class("unlisted", 6, 2.5)};
    situation.library[2].family = Family::unlisted;
    static const std::vector<BinLine> bin{a_line(1, "A7", CoilState::confirmed, {"T-14", ""}),
                                          a_line(2, "A8", CoilState::ready, {"T-11", "94 %"}),
                                          a_line(3, "B12", CoilState::unmeasured, {"", ""})};
    situation.bin = bin;
    Verdict verdict = a_verdict(3);
    verdict.probabilities = {0.04, 0.94, 0.02};
    verdict.ranking = {1, 0, 2};
    verdict.advice = {
        {ReadingField::sink_time, 1.0, 0.2, 180.0 * second, "time a level piece sinking 24 in"}};
    verdict.because = {"It weighs 11.2 gr/ft.", "Next, time a level piece sinking 24 in: 1 bit."};
    situation.in_hand = CoilInHand{.coil = {coil_id(2), "A8", "", Instant{}, false},
                                   .state = CoilState::ready,
                                   .readings = {},
                                   .values = {},
                                   .verdict = verdict,
                                   .confirmed_as = {}};
    const auto add = [&](ReadingField field, const char* as_written) {
        auto& coil = *situation.in_hand;
        const auto number = static_cast<std::uint8_t>(coil.readings.size());
        coil.readings.push_back(a_reading(field, as_written, number));
        put(coil.values, field, *coil.readings.back().value);
    };
    add(ReadingField::sample_length, "24 in");
    add(ReadingField::sample_weight, "22.4 gr");
    add(ReadingField::diameters, "0.942 mm");
    add(ReadingField::diameters, "0.948 mm");
    return situation;
}

// A form as the program sets it up when that coil is picked up.
[[nodiscard]] inline Form a_form(const Situation& situation) {
    Form form;
    if (situation.in_hand) form.typed = typed_of(*situation.in_hand, field_units(form, situation));
    return form;
}

}  // namespace coilbook::bench::bench_page
