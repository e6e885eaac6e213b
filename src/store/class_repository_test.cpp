#include "store/class_repository.h"

#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/history_repository.h"
#include "support/catalogue.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;

TEST_SUITE("The reference library in the catalogue") {
    TEST_CASE("the library comes back in its order, with its exact figures") {
        auto catalogue = Catalogue::in_memory();
        CHECK(catalogue.classes().library().empty());
        put_library(catalogue, small_library());
        CHECK(catalogue.classes().library() == small_library());
        CHECK(catalogue.classes().has("T-11"));
        CHECK_FALSE(catalogue.classes().has("T-99"));
        CHECK_FALSE(catalogue.classes().has("\xFF"));
    }

    TEST_CASE("the same library once more changes nothing and leaves no entry") {
        auto catalogue = Catalogue::in_memory();
        put_library(catalogue, small_library());
        put_library(catalogue, small_library());
        CHECK(catalogue.history().list().size() == 1);
    }

    TEST_CASE("a newer library replaces figures, adds classes and retires those it lacks") {
        auto catalogue = Catalogue::in_memory();
        put_library(catalogue, small_library());
        auto newer = small_library();
        newer.erase(newer.begin());  // no T-11 any more
        newer.front().line.ln_density_sd *= 1.5;
        newer.push_back(small_library()[0]);
        newer.back().name = "T-12";
        newer.back().grain_class = GrainClass{12};
        put_library(catalogue, newer);
        CHECK(catalogue.classes().library() == newer);
        CHECK_FALSE(catalogue.classes().has("T-11"));
        put_library(catalogue, small_library());  // and back
        CHECK(catalogue.classes().library() == small_library());
    }

    TEST_CASE("a class counts the coils whose last word it is, the retired ones, too") {
        auto catalogue = Catalogue::in_memory();
        put_library(catalogue, small_library());
        auto lost = a_coil("A1");
        const auto changed = a_coil("A2");
        const auto taken_back = a_coil("A3");
        REQUIRE(in_an_act(catalogue, [&](Act& act) -> Result<void> {
                    for (const auto& coil : {lost, changed, taken_back}) {
                        if (const auto done = catalogue.coils().add(act, coil); !done) return done;
                        const auto done =
                            catalogue.confirmations().add(act, confirmed(coil, "T-11"));
                        if (!done) return done;
                    }
                    return {};
                }).has_value());
        CHECK(catalogue.classes().library()[0].confirmed == 3);
        lost.is_retired = true;
        REQUIRE(in_an_act(catalogue, [&](Act& act) -> Result<void> {
                    if (const auto done = catalogue.coils().change(act, lost); !done) return done;
                    if (const auto done =
                            catalogue.confirmations().add(act, confirmed(changed, "unlisted"));
                        !done) {
                        return done;
                    }
                    return catalogue.confirmations().add(act, unconfirmed(taken_back));
                }).has_value());
        const auto library = catalogue.classes().library();
        CHECK(library[0].confirmed == 1);
        CHECK(library[1].confirmed == 0);
        CHECK(library[2].confirmed == 1);
    }

    TEST_CASE("figures out of range are an error, and the library stays as it was") {
        auto catalogue = Catalogue::in_memory();
        put_library(catalogue, small_library());
        auto wrong = small_library();
        wrong[0].basis = "changed";
        wrong[1].line.correlation = 1.5;
        says(error_of([&] { put_library(catalogue, wrong); }), "CHECK constraint failed");
        CHECK(catalogue.classes().library() == small_library());
    }
}
