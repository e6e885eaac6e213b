#include "store/confirmation_repository.h"

#include "store/coil_repository.h"
#include "store/reading_repository.h"
#include "support/catalogue.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

struct Bench {
    Catalogue catalogue = Catalogue::in_memory();
    Coil coil = a_coil("A7");

    Bench() {
        put_library(catalogue, small_library());
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.coils().add(act, coil);
                }).has_value());
    }
    Result<void> add(const Confirmation& confirmation,
                     const std::optional<VerdictSnapshot>& verdict = {}) {
        return in_an_act(catalogue, [&](Act& act) {
            return catalogue.confirmations().add(act, confirmation, verdict);
        });
    }
    std::optional<std::string> listed_class() {
        return catalogue.coils().list().front().confirmed_class;
    }
};

VerdictSnapshot a_verdict(const Coil& coil) {
    return {.id = next_id<VerdictSnapshot>(),
            .coil = coil.id,
            .at = moment(59),
            .best_class = {"T-11", 0.8125},
            .grain_class = {"T-11", 0.83},
            .density_grade = {"type 7", 0.9},
            .line_size = {"", 0.95},
            .family = {"level line", 0.97},
            .unlisted_probability = 0.02,
            .library = "sha256:0123",
            .program = "0.1.0"};
}

}  // namespace

TEST_SUITE("Confirmations in the catalogue") {
    TEST_CASE("a coil is confirmed, with what the program had said") {
        Bench bench;
        CHECK_FALSE(bench.catalogue.confirmations().current_of(bench.coil.id).has_value());
        const auto confirmation = confirmed(bench.coil, "T-11");
        const auto verdict = a_verdict(bench.coil);
        REQUIRE(bench.add(confirmation, verdict).has_value());
        CHECK(bench.catalogue.confirmations().current_of(bench.coil.id) == confirmation);
        CHECK(bench.catalogue.confirmations().verdict_of(confirmation.id) == verdict);
        CHECK(bench.listed_class() == "T-11");
        CHECK(bench.catalogue.readings().bin().front().confirmed_class == "T-11");
    }

    TEST_CASE("confirm, take back, confirm otherwise: the last word counts and all are kept") {
        Bench bench;
        const std::vector<Confirmation> said{confirmed(bench.coil, "T-11"), unconfirmed(bench.coil),
                                             confirmed(bench.coil, "size 8 type 6")};
        REQUIRE(bench.add(said[0]).has_value());
        REQUIRE(bench.add(said[1]).has_value());
        CHECK_FALSE(bench.catalogue.confirmations().current_of(bench.coil.id).has_value());
        CHECK_FALSE(bench.listed_class().has_value());
        CHECK(bench.catalogue.confirmations().current().empty());
        REQUIRE(bench.add(said[2]).has_value());
        CHECK(bench.listed_class() == "size 8 type 6");
        CHECK(bench.catalogue.confirmations().all_of(bench.coil.id) == said);
        CHECK(bench.catalogue.confirmations().current() == std::vector<Confirmation>{said[2]});
    }

    TEST_CASE("a class that is not in the library, and taking back nothing, are refused") {
        Bench bench;
        const auto unknown = bench.add(confirmed(bench.coil, "T-99"));
        REQUIRE_FALSE(unknown.has_value());
        CHECK(unknown.error().sentence == "'T-99' is not a class of this catalogue");
        CHECK_FALSE(bench.add(unconfirmed(bench.coil)).has_value());
        CHECK(bench.catalogue.confirmations().all_of(bench.coil.id).empty());
    }

    TEST_CASE("a class that was retired later keeps its coils") {
        Bench bench;
        REQUIRE(bench.add(confirmed(bench.coil, "T-11")).has_value());
        auto without = small_library();
        without.erase(without.begin());
        put_library(bench.catalogue, without);
        CHECK(bench.listed_class() == "T-11");
        CHECK_FALSE(bench.add(confirmed(bench.coil, "T-11")).has_value());
    }

    TEST_CASE("a probability that is none leaves nothing behind") {
        Bench bench;
        auto verdict = a_verdict(bench.coil);
        verdict.best_class.probability = 1.5;
        says(error_of([&] { (void)bench.add(confirmed(bench.coil, "T-11"), verdict); }),
             "CHECK constraint failed");
        CHECK(bench.catalogue.confirmations().all_of(bench.coil.id).empty());
    }

    TEST_CASE("a coil that is not there cannot be confirmed") {
        Bench bench;
        says(error_of([&] { (void)bench.add(confirmed(a_coil("A8"), "T-11")); }),
             "confirmation.coil");
    }
}
