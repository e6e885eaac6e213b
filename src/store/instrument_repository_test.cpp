#include "store/instrument_repository.h"

#include <limits>

#include "store/history_repository.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

template <class Kind>
Result<void> put(Catalogue& catalogue, const Kind& instrument) {
    return in_an_act(catalogue, [&](Act& act) {
        return catalogue.instruments().put(act, next_id<BenchInstrument>(), instrument);
    });
}

}  // namespace

TEST_SUITE("Instruments in the catalogue") {
    TEST_CASE("without any, the defaults are used") {
        const auto catalogue = Catalogue::in_memory();
        CHECK(catalogue.instruments().all() == default_instruments());
    }

    TEST_CASE("an instrument of each kind comes back with its exact figures") {
        auto catalogue = Catalogue::in_memory();
        Scale scale;
        scale.code = "S1";
        scale.resolution = 0.1 * grain;
        scale.offset = -0.3 * grain;
        scale.offset_uncertainty = 0.05 * grain;
        Tape tape;
        tape.code = "T1";
        tape.limit_of_error = inch / 64.0;
        Micrometer micrometer;
        micrometer.code = "M1";
        micrometer.repeatability = 0.003 * millimetre;
        Stopwatch stopwatch;
        stopwatch.code = "W1";
        stopwatch.resolution = 0.01 * second;
        Thermometer thermometer;  // an empty code: the default is replaced
        thermometer.offset = TemperatureDifference::from_kelvin(-0.2);
        REQUIRE(put(catalogue, scale).has_value());
        REQUIRE(put(catalogue, tape).has_value());
        REQUIRE(put(catalogue, micrometer).has_value());
        REQUIRE(put(catalogue, stopwatch).has_value());
        REQUIRE(put(catalogue, thermometer).has_value());
        auto expected = default_instruments();
        expected.scales["S1"] = scale;
        expected.tapes["T1"] = tape;
        expected.micrometers["M1"] = micrometer;
        expected.stopwatches["W1"] = stopwatch;
        expected.thermometers[""] = thermometer;
        CHECK(catalogue.instruments().all() == expected);
    }

    TEST_CASE("new figures of a known instrument replace the old, and the history has both") {
        auto catalogue = Catalogue::in_memory();
        Scale scale;
        scale.code = "S1";
        scale.offset = 0.25 * gram;
        REQUIRE(put(catalogue, scale).has_value());
        // The last bit counts: 0.1 + 0.2 is not 0.3.
        scale.offset = Mass::from_si(0.3);
        REQUIRE(put(catalogue, scale).has_value());
        scale.offset = Mass::from_si(0.1 + 0.2);
        REQUIRE(put(catalogue, scale).has_value());
        CHECK(catalogue.instruments().all().scales.at("S1") == scale);
        const auto last = catalogue.history().list().front();
        const auto changes = catalogue.history().changes_of(last.note.id);
        REQUIRE(changes.size() == 1);
        CHECK(changes[0].field == "offset_si");
        CHECK(changes[0].was == db::Value(0.3));
        CHECK(changes[0].became == db::Value(0.1 + 0.2));
    }

    TEST_CASE("figures that cannot be are refused") {
        auto catalogue = Catalogue::in_memory();
        Scale scale;
        scale.code = "S1";
        scale.resolution = -0.1 * grain;
        CHECK(put(catalogue, scale).error().field == "resolution");
        scale.resolution = 0.1 * grain;
        scale.offset = Mass::from_si(std::numeric_limits<double>::infinity());
        CHECK(put(catalogue, scale).error().field == "offset");
        scale.offset = Mass{};
        scale.code = "S 1";
        CHECK(put(catalogue, scale).error().field == "code");
        CHECK(catalogue.instruments().all() == default_instruments());
    }
}
