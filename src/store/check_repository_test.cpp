#include "store/check_repository.h"

#include <doctest/doctest.h>

#include "store/history_repository.h"
#include "store/instrument_repository.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

Catalogue with_a_micrometer() {
    auto catalogue = Catalogue::in_memory();
    Micrometer micrometer;
    micrometer.code = "M1";
    micrometer.resolution = 0.001 * millimetre;
    REQUIRE(in_an_act(catalogue, [&](Act& act) {
        return catalogue.instruments().put(act, next_id<BenchInstrument>(), micrometer);
    }));
    return catalogue;
}

InstrumentCheck a_check(int second, const char* as_written) {
    return {next_id<InstrumentCheck>(), "micrometer", "M1", moment(second), as_written};
}

}  // namespace

TEST_SUITE("Checks of instruments") {
    TEST_CASE("the last check of an instrument counts, and earlier ones are kept") {
        auto catalogue = with_a_micrometer();
        CHECK(catalogue.checks().last_checks().empty());
        for (const auto& check : {a_check(1, "1 mm,0.001 mm,1.002 mm"), a_check(2, "later")}) {
            REQUIRE(
                in_an_act(catalogue, [&](Act& act) { return catalogue.checks().add(act, check); }));
        }
        const auto last = catalogue.checks().last_checks();
        REQUIRE(last.size() == 1);
        CHECK(last[0].as_written == "later");
        CHECK(last[0].code == "M1");
        CHECK(last[0].at == moment(2));
        CHECK(catalogue.history().of_thing(last[0].id.text()).size() == 1);
    }

    TEST_CASE("what a micrometer shows on coatings comes back as it was") {
        auto catalogue = with_a_micrometer();
        const CoatingRecord record{
            next_id<CoatingRecord>(),
            "M1",
            moment(),
            {-0.0125 * millimetre, 0.002 * millimetre, 0.004 * millimetre, 7}};
        in_an_act(catalogue, [&](Act& act) { catalogue.checks().add(act, record); });
        const auto last = catalogue.checks().last_coatings();
        REQUIRE(last.size() == 1);
        CHECK(last[0].found.offset == -0.0125 * millimetre);
        CHECK(last[0].found.offset_uncertainty == 0.002 * millimetre);
        CHECK(last[0].found.spread == 0.004 * millimetre);
        CHECK(last[0].found.coils == 7);
    }

    TEST_CASE("an instrument that is not there cannot be checked, and NUL is no text") {
        auto catalogue = with_a_micrometer();
        auto check = a_check(1, "x");
        check.code = "M9";
        CHECK_FALSE(error_of([&] {
                        (void)in_an_act(catalogue, [&](Act& act) {
                            return catalogue.checks().add(act, check);
                        });
                    }).empty());
        auto binary = a_check(1, "x");
        binary.as_written = std::string("a\0b", 3);
        CHECK_FALSE(
            in_an_act(catalogue, [&](Act& act) { return catalogue.checks().add(act, binary); }));
        CHECK(catalogue.checks().last_checks().empty());
    }
}
