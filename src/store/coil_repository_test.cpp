#include "store/coil_repository.h"

#include "store/history_repository.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

Result<void> add(Catalogue& catalogue, const Coil& coil) {
    return in_an_act(catalogue, [&](Act& act) { return catalogue.coils().add(act, coil); });
}
Result<void> change(Catalogue& catalogue, const Coil& coil) {
    return in_an_act(catalogue, [&](Act& act) { return catalogue.coils().change(act, coil); });
}

std::vector<std::string> codes(const std::vector<CoilListing>& listings) {
    std::vector<std::string> found;
    for (const auto& each : listings) found.push_back(each.coil.code);
    return found;
}

}  // namespace

TEST_SUITE("Coils in the catalogue") {
    TEST_CASE("a coil comes back as it was written down") {
        auto catalogue = Catalogue::in_memory();
        const auto coil = a_coil("A7", "from the old bag; Ørret ± '); DROP TABLE coil; --");
        REQUIRE(add(catalogue, coil).has_value());
        CHECK(catalogue.coils().by_code("A7") == coil);
        CHECK(catalogue.coils().by_id(coil.id) == coil);
        CHECK_FALSE(catalogue.coils().by_code("a7").has_value());
        CHECK_FALSE(catalogue.coils().by_code("\xFF").has_value());
        CHECK_FALSE(catalogue.coils().by_id(next_id<Coil>()).has_value());
    }

    TEST_CASE("two coils in the bin cannot have one code") {
        auto catalogue = Catalogue::in_memory();
        REQUIRE(add(catalogue, a_coil("A7")).has_value());
        const auto second = add(catalogue, a_coil("A7"));
        REQUIRE_FALSE(second.has_value());
        CHECK(second.error() == Problem{"code", "'A7' is the code of another coil",
                                        "a code that no coil in the bin has"});
        CHECK(catalogue.coils().count() == 1);
    }

    TEST_CASE("a code that cannot stand on a label and a note that is no text are refused") {
        auto catalogue = Catalogue::in_memory();
        CHECK(add(catalogue, a_coil("A 7")).error().field == "code");
        CHECK(add(catalogue, a_coil("")).error().field == "code");
        CHECK(add(catalogue, a_coil(" A7")).error().suggestion == "A7");
        CHECK(add(catalogue, a_coil("A7", "\xFF")).error().field == "notes");
        CHECK(add(catalogue, a_coil("A7", std::string(200'000, 'x'))).error().field == "notes");
        CHECK(catalogue.coils().count() == 0);
    }

    TEST_CASE("code and notes can be changed, but not to a code that is taken") {
        auto catalogue = Catalogue::in_memory();
        auto coil = a_coil("A7");
        REQUIRE(add(catalogue, coil).has_value());
        REQUIRE(add(catalogue, a_coil("A8")).has_value());
        coil.code = "B1";
        coil.notes = "was A7";
        REQUIRE(change(catalogue, coil).has_value());
        CHECK(catalogue.coils().by_id(coil.id) == coil);
        CHECK_FALSE(catalogue.coils().by_code("A7").has_value());
        coil.code = "A8";
        CHECK(change(catalogue, coil).error().field == "code");
        CHECK(change(catalogue, a_coil("C1")).error().field == "coil");
    }

    TEST_CASE("a retired coil leaves the list and its code; it comes back only to a free code") {
        auto catalogue = Catalogue::in_memory();
        auto old = a_coil("A7");
        REQUIRE(add(catalogue, old).has_value());
        old.is_retired = true;
        REQUIRE(change(catalogue, old).has_value());
        CHECK(catalogue.coils().count() == 0);
        CHECK(catalogue.coils().by_id(old.id) == old);
        const auto young = a_coil("A7");
        REQUIRE(add(catalogue, young).has_value());
        CHECK(catalogue.coils().by_code("A7") == young);
        CHECK(catalogue.coils().count(true) == 2);
        CHECK(catalogue.coils().list({}, true).front().coil == young);
        old.is_retired = false;
        CHECK(change(catalogue, old).error().field == "code");
        old.code = "A7-old";
        CHECK(change(catalogue, old).has_value());
        CHECK(catalogue.coils().count() == 2);
    }

    TEST_CASE("a retired coil's notes can change, and it stays retired since the same moment") {
        auto catalogue = Catalogue::in_memory();
        auto coil = a_coil("A7");
        REQUIRE(add(catalogue, coil).has_value());
        coil.is_retired = true;
        REQUIRE(change(catalogue, coil).has_value());
        coil.notes = "lost in the rapids";
        auto later = note_for("say why");
        later.at = moment(7200);
        REQUIRE(catalogue.act(later, [&](Act& act) { return catalogue.coils().change(act, coil); })
                    .has_value());
        const auto changes = catalogue.history().changes_of(later.id);
        REQUIRE(changes.size() == 1);
        CHECK(changes[0].field == "notes");
    }

    TEST_CASE("the list is cut into pages in the order of the codes") {
        auto catalogue = Catalogue::in_memory();
        for (const char* code : {"B2", "A1", "C3", "B1"}) {
            REQUIRE(add(catalogue, a_coil(code)).has_value());
        }
        using Codes = std::vector<std::string>;
        CHECK(codes(catalogue.coils().list()) == Codes{"A1", "B1", "B2", "C3"});
        CHECK(codes(catalogue.coils().list({.limit = 2, .offset = 1})) == Codes{"B1", "B2"});
        CHECK(codes(catalogue.coils().list({.limit = 5, .offset = 4})).empty());
    }
}
