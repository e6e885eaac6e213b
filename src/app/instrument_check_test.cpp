#include "app/instrument_check.h"

#include <doctest/doctest.h>

#include <sstream>

#include "app/coil_changes.h"
#include "app/instrument_changes.h"
#include "app/instruments.h"
#include "app/undo.h"
#include "quantity/print.h"
#include "store/check_repository.h"
#include "store/history_repository.h"
#include "support/instrument_checks.h"
#include "support/near.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// A weight of so many grains, sure to 0.01, and what a scale showed.
StandardRead weight(double stated, const std::vector<double>& readings) {
    auto standard = standard_of(InstrumentKind::scale, exact(stated), "0.01",
                                StatedAs::standard_uncertainty, "gr")
                        .value();
    for (const double each : readings) {
        REQUIRE(add_reading(standard, InstrumentKind::scale, exact(each), "gr").has_value());
    }
    return standard;
}

}  // namespace

TEST_SUITE("Checking an instrument") {
    // Six readings: 0.3 0.2 0.3 and 0.2 0.3 0.2 too high, mean 0.25; pooled s = √(2 · 0.0066667 /
    // 4) = 0.0577350.
    TEST_CASE("a check of a scale puts its offset right, and is kept") {
        auto workshop = workshop_in_memory();
        take_in(workshop, "code,kind,resolution,limit_of_error\nS2,scale,0.1 gr,0.2 gr\n");
        CHECK(workshop.instruments().scales.at("S2").offset == Mass{});
        says(list(workshop), "\nscale,S2,gr,0.1");
        says(list(workshop), ",never checked\n");
        const auto acts = workshop.catalogue().history().list().size();

        const auto found = check(workshop, weights);
        REQUIRE(found.is_done);
        CHECK(found.out.starts_with(
            "kind,instrument,unit,standards,readings,offset,offset_u,offset_95,repeatability,"
            "repeatability_u,chi_square,chance,stretch_percent,stretch_percent_u\nscale,S2,gr,2,"
            "6,"));
        const auto scale = workshop.instruments().scales.at("S2");
        CHECK(near(scale.offset, 0.25 * grain, 0.02 * grain));
        CHECK(near(scale.repeatability, 0.057735 * grain, 1e-5 * grain));
        CHECK(scale.offset_uncertainty < 0.05 * grain);
        CHECK(scale.limit_of_error == Mass{});
        CHECK(workshop.catalogue().history().list().size() == acts + 1);
        const auto kept = workshop.catalogue().checks().last_checks();
        REQUIRE(kept.size() == 1);
        CHECK(kept[0].as_written.starts_with("100 gr,0.01 gr,100.3 gr\n300 gr,"));
        says(list(workshop), ",checked\n");

        // Verdicts reckon with it: 22.4 on this scale are 22.15 gr.
        const auto coil = add_coil(workshop, "A7").value();
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, "22.4 gr", {}, "S2"));
    }

    TEST_CASE("a table says in words what a check means") {
        auto workshop = workshop_in_memory();
        take_in(workshop, "code,kind,resolution\nS2,scale,0.1 gr\n");
        const auto table = check(workshop, weights, Format::table).out;
        says(table, "scale S2");
        says(table, "it is off, and readings are put right from now on");
        // 0.2 % of stretch: 100 reads 100.2, 500 reads 501.0, 1000 reads 1002.0.
        const auto stretched = check(workshop,
                                     "instrument,standard,standard_u,reading\n"
                                     "S2,100 gr,0.01 gr,100.2 gr\nS2,500 gr,0.01 gr,501.0 gr\n"
                                     "S2,1000 gr,0.01 gr,1002.0 gr\n",
                                     Format::table)
                                   .out;
        says(stretched, "one offset does not fit all standards; its scale is off by 0.200");
    }

    TEST_CASE("a check that cannot be right changes nothing") {
        auto workshop = workshop_in_memory();
        const auto before = workshop.instruments();
        const auto problem_of = [&](const char* row) {
            const auto outcome =
                check(workshop, std::string("instrument,kind,standard,standard_u,reading\n") + row);
            CHECK_FALSE(outcome.is_done);
            CHECK(outcome.out.empty());
            return outcome.problem;
        };
        says(problem_of("S9,,1 gr,0.01 gr,1 gr\n"), "c.csv:2: instrument: 'S9' is not in");
        says(problem_of(",,1 mm,0.01 mm,1 mm\n"), "may be a tape or a micrometer");
        says(problem_of(",scale,1 mm,0.01 mm,1 mm\n"), "does not show such quantities");
        says(problem_of(",stopwatch,1 s,0 gr,1 s\n"), "standard's kind");
        says(problem_of(""), "there are no readings");
        CHECK(workshop.instruments() == before);
        CHECK(check(workshop,
                    "instrument,kind,standard,standard_u,reading\n"
                    ",micrometer,1 mm,0.001 mm,1.002 mm\n")
                  .is_done);
        CHECK(near(workshop.instruments().micrometers.at("").offset, 0.002 * millimetre,
                   1e-9 * millimetre));
    }

    // The same six readings as in the table above, with both weights sure to 0.01.
    TEST_CASE("one instrument is checked standard by standard, in one act that can be undone") {
        auto workshop = workshop_in_memory();
        take_in(workshop, "code,kind,resolution,limit_of_error\nS2,scale,0.1 gr,0.2 gr\n");
        const auto before = workshop.instruments();
        const auto acts = workshop.catalogue().history().list().size();
        const std::vector standards{weight(100, {100.3, 100.2, 100.3}),
                                    weight(300, {300.2, 300.3, 300.2})};
        const InstrumentKey key{InstrumentKind::scale, "S2"};
        const auto instrument = instrument_of(before, key).value();
        const auto live = judge_check(instrument, standards);
        REQUIRE(live.has_value());
        CHECK(workshop.instruments() == before);  // looking keeps nothing

        REQUIRE(check_instrument(workshop, key, standards).has_value());
        CHECK(workshop.catalogue().history().list().size() == acts + 1);
        CHECK(workshop.catalogue().history().list().front().note.what == "check scale S2");
        const auto scale = workshop.instruments().scales.at("S2");
        CHECK(near(scale.offset, 0.25 * grain, 1e-9 * grain));
        CHECK(near(scale.repeatability, 0.057735 * grain, 1e-6 * grain));
        CHECK(scale.limit_of_error == Mass{});

        // What is kept reads back as what was laid on.
        const auto kept = workshop.catalogue().checks().last_checks();
        REQUIRE(kept.size() == 1);
        CHECK(standards_kept(key.kind, kept[0].as_written) == standards);

        REQUIRE(undo(workshop).has_value());
        CHECK(workshop.instruments() == before);
        CHECK(workshop.catalogue().checks().last_checks().empty());
        CHECK_FALSE(check_instrument(workshop, {InstrumentKind::scale, "S9"}, standards));
    }

    TEST_CASE("the growing result is told in sentences that need no statistics") {
        Scale scale;
        scale.resolution = 0.1 * grain;
        scale.limit_of_error = 0.2 * grain;
        const auto told = [&](const std::vector<StandardRead>& standards) {
            return in_words(scale, judge_check(scale, standards).value(), "gr");
        };
        // One weight, 0.3 too high on average: u is the step's 0.0289 and the weight's 0.01.
        const auto one = told({weight(100, {100.3, 100.3})});
        CHECK(one.offset == "It reads 0.300 ± 0.031 gr too much.");
        CHECK(one.is_off);
        CHECK(one.fit == "One standard only tells of loads like it.");
        says(one.from_now, "0.30 gr is taken off every reading, and ± 0.20 gr of its maker still");
        says(one.surer, "A second standard");
        says(one.surer, "three times");
        const auto two =
            told({weight(100, {100.3, 100.2, 100.3}), weight(300, {300.2, 300.3, 300.2})});
        CHECK(two.fit == "One offset fits both standards.");
        CHECK(two.scatter == "Readings of one thing scatter by 0.058 ± 0.020 gr.");
        says(two.from_now, "its maker's ± 0.20 gr counts no more");
        CHECK(two.surer.empty());
        // 0.2 % of stretch: 100 reads 100.2, 500 reads 501.0, 1000 reads 1002.0.
        const auto stretched =
            told({weight(100, {100.2, 100.2, 100.2}), weight(500, {501.0, 501.0, 501.0}),
                  weight(1000, {1002.0, 1002.0, 1002.0})});
        CHECK_FALSE(stretched.fits);
        says(stretched.fit, "the scale is stretched, it reads 0.200");
        says(stretched.fit, "% too much the further up");
        // With two standards a stretch cannot be told from a wrong weight.
        says(told({weight(100, {100.0}), weight(500, {501.0})}).fit, "A third one tells");
    }

    TEST_CASE("a tolerance is a rectangle, a certificate's figure two standard uncertainties") {
        // 0.03/√3 = 0.0173205.
        CHECK(near(std::get<Mass>(standard_uncertainty(0.03 * grain, StatedAs::tolerance)),
                   0.0173205 * grain, 1e-7 * grain));
        CHECK(near(std::get<Mass>(standard_uncertainty(0.03 * grain, StatedAs::expanded)),
                   0.015 * grain, 1e-9 * grain));
        CHECK(standard_uncertainty(0.03 * grain, StatedAs::standard_uncertainty) ==
              ShownFigure{0.03 * grain});
    }

    TEST_CASE("what is typed for a standard is kept with its unit and as one standard deviation") {
        const auto kind = InstrumentKind::scale;
        const auto standard = standard_of(kind, " 100", "0.03", StatedAs::tolerance, "gr").value();
        CHECK(standard.written == "100 gr,0.0173205 gr");
        CHECK(standard_of(kind, "6.5 g", "1 mg", StatedAs::expanded, "gr").value().written ==
              "6.5 g,0.00771618 gr");  // 0.5 mg / 64.79891 mg
        CHECK(standard_of(kind, "", "0.01", StatedAs::tolerance, "gr").error().field == "standard");
        CHECK(standard_of(kind, "100", "-1", StatedAs::tolerance, "gr").error().field ==
              "standard_u");
        auto read = standard;
        CHECK(add_reading(read, kind, "100,3", "gr").error().field == "reading");
        CHECK(read == standard);
        REQUIRE(add_reading(read, kind, "6.5 g", "gr").has_value());
        CHECK(read.as_written == std::vector<std::string>{"6.5 g"});
    }

    TEST_CASE("repeated readings have a mean to one place more than the display") {
        Scale scale;
        scale.resolution = 0.1 * grain;
        const std::vector<ShownFigure> readings{100.3 * grain, 100.2 * grain, 100.2 * grain,
                                                109.0 * grain};
        const auto words = repeats_in_words(scale, readings, "gr");
        CHECK(words.mean == "102.425 gr");
        CHECK(words.is_odd == std::vector<bool>{false, false, false, true});
        CHECK(repeats_in_words(scale, std::span(readings).first(1), "gr").scatter.empty());
        CHECK(repeats_in_words(scale, {}, "gr").mean.empty());
    }

    TEST_CASE("a thermometer's readings are temperatures, its offset is a span") {
        const auto kind = InstrumentKind::thermometer;
        const auto ice = reading_from(kind, "33", "°F").value();
        CHECK(near(number_of_reading(ice, "°F"), 33.0, 1e-9));
        CHECK(near(number_of_span(ice, "°F"), 1.0, 1e-9));  // beside 0 °C
        CHECK(near(number_of_reading(ice, "°C"), 5.0 / 9.0, 1e-9));
        CHECK(near(number_of_span(span_from(kind, "0.9", "°F").value(), "°C"), 0.5, 1e-9));
        CHECK_FALSE(span_from(kind, "-1", "°C").has_value());
        CHECK_FALSE(reading_from(InstrumentKind::scale, "1 mm", "gr").has_value());
    }
}
