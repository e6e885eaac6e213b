#include "app/instrument_changes.h"

#include <doctest/doctest.h>

#include <sstream>

#include "app/instrument_check.h"
#include "app/undo.h"
#include "store/history_repository.h"
#include "support/instrument_checks.h"
#include "support/near.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

MakersFigures figures(double step, double limit, double scatter) {
    return {step * grain, limit * grain, scatter * grain};
}

}  // namespace

TEST_SUITE("Instruments come into the catalogue") {
    TEST_CASE("a file does not wipe what a check has found") {
        auto workshop = workshop_in_memory();
        const char* const file = "code,kind,resolution,limit_of_error\nS2,scale,0.1 gr,0.2 gr\n";
        take_in(workshop, file);
        REQUIRE(check(workshop, weights).is_done);
        const auto found = workshop.instruments().scales.at("S2");
        const TemporaryFolder folder;
        write_bytes(folder / "shop.csv", file);
        const auto again = take_in_instruments(workshop, folder / "shop.csv");
        REQUIRE_FALSE(again.has_value());
        says(to_line(again.error().front()), "S2: its figures come from the check of ");
        CHECK(workshop.instruments().scales.at("S2") == found);
    }

    TEST_CASE("one is added with its maker's figures, in one act that can be undone") {
        auto workshop = workshop_in_memory();
        const auto acts = workshop.catalogue().history().list().size();
        const InstrumentKey key{InstrumentKind::scale, "S2"};
        REQUIRE(add_instrument(workshop, key, figures(0.02, 0.05, 0.01)).has_value());
        CHECK(workshop.catalogue().history().list().size() == acts + 1);
        const auto scale = workshop.instruments().scales.at("S2");
        CHECK(scale.code == "S2");
        CHECK(scale.resolution == 0.02 * grain);
        CHECK(scale.limit_of_error == 0.05 * grain);
        CHECK(scale.offset == Mass{});
        says(add_instrument(workshop, key, figures(0.1, 0, 0)).error().sentence,
             "there is a scale S2 already");
        REQUIRE(undo(workshop).has_value());
        CHECK_FALSE(workshop.instruments().scales.contains("S2"));
        CHECK(add_instrument(workshop, key, figures(0.1, 0, 0)).has_value());
    }

    TEST_CASE("what cannot be an instrument is refused beside its field") {
        auto workshop = workshop_in_memory();
        const auto refused = [&](const char* code, const MakersFigures& each) {
            return add_instrument(workshop, {InstrumentKind::scale, code}, each).error().field;
        };
        CHECK(refused("", figures(0.1, 0, 0)) == "code");
        CHECK(refused("a b", figures(0.1, 0, 0)) == "code");
        CHECK(refused("S2", figures(0, 0, 0)) == "limit_of_error");
        CHECK(workshop.instruments() == default_instruments());
    }

    TEST_CASE("figures are changed, of the default instrument too, but not what a check found") {
        auto workshop = workshop_in_memory();
        const InstrumentKey default_scale{InstrumentKind::scale, ""};
        REQUIRE(change_figures(workshop, default_scale, figures(1.5, 3, 0)).has_value());
        CHECK(workshop.instruments().scales.at("").resolution == 1.5 * grain);
        const auto acts = workshop.catalogue().history().list().size();
        REQUIRE(change_figures(workshop, default_scale, figures(1.5, 3, 0)).has_value());
        CHECK(workshop.catalogue().history().list().size() == acts);  // the same again is no act

        const InstrumentKey key{InstrumentKind::scale, "S2"};
        REQUIRE(add_instrument(workshop, key, figures(0.1, 0.2, 0)).has_value());
        REQUIRE(check(workshop, weights).is_done);
        const auto found = workshop.instruments().scales.at("S2");
        const auto kept = makers_figures(found);
        auto wanted = kept;
        wanted.limit_of_error = 0.2 * grain;
        CHECK(change_figures(workshop, key, wanted).error().field == "limit_of_error");
        wanted = kept;
        wanted.repeatability = 0.5 * grain;
        says(change_figures(workshop, key, wanted).error().sentence, "it was checked on 1 January");
        wanted = kept;
        wanted.resolution = 0.05 * grain;
        REQUIRE(change_figures(workshop, key, wanted).has_value());
        CHECK(workshop.instruments().scales.at("S2").offset == found.offset);
        CHECK_FALSE(change_figures(workshop, {InstrumentKind::scale, "S9"}, kept).has_value());
    }
}
