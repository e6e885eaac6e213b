#include "store/care_repository.h"

#include <optional>

#include "db/digest.h"
#include "store/coil_repository.h"
#include "store/history_repository.h"
#include "store/salvage.h"
#include "store/undoing.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

Condition seen(const Coil& coil, Wear what, bool is_found = true, std::string note = "") {
    return {.id = next_id<Condition>(),
            .coil = coil.id,
            .what = what,
            .is_found = is_found,
            .at = moment(7),
            .by = "guide",
            .note = std::move(note)};
}

// Bytes as a picture may have them, longer than one piece.
std::string some_bytes(std::size_t size = 1'100'000) {
    std::string bytes(size, '\0');
    for (std::size_t at = 0; at < size; ++at) bytes[at] = static_cast<char>(at * 7 + at / 256);
    return bytes;
}

Photograph photograph_of(const Coil& coil, std::string_view bytes) {
    db::Digest digest;
    digest.add_raw(bytes);
    return {.id = next_id<Photograph>(),
            .coil = coil.id,
            .sha256 = digest.finish(),
            .format = PictureFormat::jpeg,
            .width = 640,
            .height = 480,
            .size = static_cast<std::int64_t>(bytes.size()),
            .at = moment(8),
            .by = "guide",
            .note = "the loop"};
}

PutAway putting_away(const Photograph& photograph) {
    return {next_id<Photograph>(), photograph.id, moment(9), "guide", ""};
}

struct Shelf {
    Catalogue catalogue;
    Coil coil = a_coil("A7");

    explicit Shelf(Catalogue made = Catalogue::in_memory()) : catalogue(std::move(made)) {
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.coils().add(act, coil);
                }).has_value());
    }
    Result<void> add(const Condition& condition) {
        return in_an_act(catalogue, [&](Act& act) { return catalogue.care().add(act, condition); });
    }
    Result<void> add(const Photograph& photograph, std::string_view bytes) {
        return in_an_act(catalogue,
                         [&](Act& act) { return catalogue.care().add(act, photograph, bytes); });
    }
    Result<void> put_away(const Photograph& photograph) {
        return in_an_act(catalogue, [&](Act& act) {
            return catalogue.care().put_away(act, putting_away(photograph));
        });
    }
    Result<void> undo_last() {
        const auto last = catalogue.undoing().next_undo()->note.id;
        return in_an_act(catalogue, [&](Act& act) { return catalogue.undoing().undo(act, last); });
    }
    void is_sound() {
        for (const auto& inspection : catalogue.audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
    }
};

// Alters one byte of `known` wherever it stands in the file.
void spoil(const fs::path& file, const std::string& known, std::size_t at) {
    auto bytes = bytes_of(file);
    auto found = bytes.find(known);
    REQUIRE(found != std::string::npos);
    for (; found != std::string::npos; found = bytes.find(known, found + 1)) {
        bytes[found + at] = static_cast<char>(bytes[found + at] ^ 1);
    }
    write_bytes(file, bytes);
}

std::vector<std::string> wrong_with(const Catalogue& catalogue, std::string_view part) {
    for (const auto& inspection : catalogue.audit()) {
        if (inspection.what == part) return inspection.wrong;
    }
    return {"there is no such part"};
}

}  // namespace

TEST_SUITE("Conditions and photographs in the catalogue") {
    TEST_CASE("what was seen stands until it is good again, and the record keeps both") {
        Shelf shelf;
        auto& care = shelf.catalogue.care();
        const auto hinge = seen(shelf.coil, Wear::hinge, true, "a hand from the loop");
        const auto worn = seen(shelf.coil, Wear::worn_loop);
        REQUIRE(shelf.add(hinge).has_value());
        REQUIRE(shelf.add(worn).has_value());
        CHECK(care.conditions_now(shelf.coil.id) == std::vector{hinge, worn});
        CHECK(care.conditions_now() == std::vector{hinge, worn});
        const auto mended = seen(shelf.coil, Wear::hinge, false, "cut off, new loop");
        REQUIRE(shelf.add(mended).has_value());
        CHECK(care.conditions_now(shelf.coil.id) == std::vector{worn});
        CHECK(care.all_conditions(shelf.coil.id) == std::vector{hinge, worn, mended});
        // It may come again.
        REQUIRE(shelf.add(seen(shelf.coil, Wear::hinge)).has_value());
        CHECK(care.conditions_now(shelf.coil.id).size() == 2);
        CHECK(shelf.catalogue.history().of_code("A7").size() == 5);
        shelf.is_sound();
    }

    TEST_CASE("nothing is good again that nobody noted, and 'other' needs words") {
        Shelf shelf;
        CHECK_FALSE(shelf.add(seen(shelf.coil, Wear::hinge, false)).has_value());
        CHECK_FALSE(shelf.add(seen(shelf.coil, Wear::other, true, "  ")).has_value());
        CHECK(shelf.add(seen(shelf.coil, Wear::other, true, "smells of diesel")).has_value());
        CHECK_FALSE(shelf.add(seen(shelf.coil, Wear::kink, true, "\xff")).has_value());
        CHECK(shelf.catalogue.care().all_conditions(shelf.coil.id).size() == 1);
    }

    TEST_CASE("undo takes the last word back, and an earlier one only after it") {
        Shelf shelf;
        auto& catalogue = shelf.catalogue;
        REQUIRE(shelf.add(seen(shelf.coil, Wear::kink)).has_value());
        const auto first = catalogue.undoing().next_undo()->note.id;
        REQUIRE(shelf.add(seen(shelf.coil, Wear::kink, false)).has_value());
        CHECK(catalogue.undoing().obstacle(first).has_value());
        REQUIRE(shelf.undo_last().has_value());
        CHECK(catalogue.care().conditions_now(shelf.coil.id).size() == 1);
        REQUIRE(shelf.undo_last().has_value());
        CHECK(catalogue.care().all_conditions(shelf.coil.id).empty());
        shelf.is_sound();
    }

    TEST_CASE("a photograph comes back byte for byte, the last one first") {
        Shelf shelf;
        auto& care = shelf.catalogue.care();
        const auto bytes = some_bytes();
        const auto small = some_bytes(3);
        const auto first = photograph_of(shelf.coil, bytes);
        const auto second = photograph_of(shelf.coil, small);
        REQUIRE(shelf.add(first, bytes).has_value());
        REQUIRE(shelf.add(second, small).has_value());
        CHECK(care.photographs(shelf.coil.id) == std::vector{second, first});
        CHECK(care.bytes_of(first) == bytes);
        CHECK(care.bytes_of(second) == small);
        // The same picture once more takes no more room for its bytes.
        REQUIRE(shelf.add(photograph_of(shelf.coil, bytes), bytes).has_value());
        CHECK(care.photographs(shelf.coil.id).size() == 3);
        shelf.is_sound();
    }

    TEST_CASE("bytes that are not the photograph's are refused, and nothing has happened") {
        Shelf shelf;
        const auto bytes = some_bytes(1000);
        CHECK_THROWS_AS((void)shelf.add(photograph_of(shelf.coil, bytes), some_bytes(999)), Error);
        CHECK(shelf.catalogue.care().photographs(shelf.coil.id).empty());
    }

    TEST_CASE("one that is put away is shown no more, and comes back with undo") {
        Shelf shelf;
        const auto bytes = some_bytes(1000);
        const auto photograph = photograph_of(shelf.coil, bytes);
        REQUIRE(shelf.add(photograph, bytes).has_value());
        REQUIRE(shelf.put_away(photograph).has_value());
        CHECK(shelf.catalogue.care().photographs(shelf.coil.id).empty());
        CHECK_FALSE(shelf.put_away(photograph).has_value());
        REQUIRE(shelf.undo_last().has_value());
        CHECK(shelf.catalogue.care().photographs(shelf.coil.id) == std::vector{photograph});
        shelf.is_sound();
    }

    TEST_CASE("a backup carries the photographs, and a salvage brings them out") {
        const TemporaryFolder folder;
        const auto bytes = some_bytes();
        std::optional<Photograph> photograph;
        std::optional<Condition> kink;
        {
            Shelf shelf(Catalogue::create(folder / "a.coilbook"));
            photograph = photograph_of(shelf.coil, bytes);
            kink = seen(shelf.coil, Wear::kink);
            REQUIRE(shelf.add(*photograph, bytes).has_value());
            REQUIRE(shelf.add(*kink).has_value());
            shelf.catalogue.back_up(folder / "b.coilbook");
        }
        const auto copy = Catalogue::open(folder / "b.coilbook");
        CHECK(copy.care().bytes_of(*photograph) == bytes);
        const auto salvaged =
            salvage(folder / "a.coilbook", folder / "c.coilbook", note_for("salvage"));
        CHECK(salvaged.is_whole());
        const auto saved = Catalogue::open(folder / "c.coilbook");
        CHECK(saved.care().photographs(photograph->coil) == std::vector{*photograph});
        CHECK(saved.care().bytes_of(*photograph) == bytes);
        CHECK(saved.care().conditions_now() == std::vector{*kink});
    }

    TEST_CASE("a picture whose bytes were altered is found by a check, until it is put away") {
        const TemporaryFolder folder;
        const auto bytes = some_bytes(5000);
        const auto file = folder / "a.coilbook";
        std::optional<Photograph> photograph;
        {
            Shelf shelf(Catalogue::create(file));
            photograph = photograph_of(shelf.coil, bytes);
            REQUIRE(shelf.add(*photograph, bytes).has_value());
        }
        spoil(file, bytes.substr(0, 16), 3);
        Catalogue catalogue = Catalogue::open(file);
        CHECK(wrong_with(catalogue, "photographs").size() == 1);
        CHECK_THROWS_AS((void)catalogue.care().bytes_of(*photograph), Error);
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.care().put_away(act, putting_away(*photograph));
                }).has_value());
        CHECK(wrong_with(catalogue, "photographs").empty());
    }

    TEST_CASE("what is said of a photograph is sealed") {
        const TemporaryFolder folder;
        const auto bytes = some_bytes(50);
        const auto file = folder / "a.coilbook";
        {
            Shelf shelf(Catalogue::create(file));
            REQUIRE(shelf.add(photograph_of(shelf.coil, bytes), bytes).has_value());
            // Another act after it: the last one alone is checked when a file is opened.
            REQUIRE(shelf.add(seen(shelf.coil, Wear::kink)).has_value());
        }
        spoil(file, "the loop", 5);
        const auto catalogue = Catalogue::open(file);
        CHECK(wrong_with(catalogue, "the history").size() == 1);
        CHECK(wrong_with(catalogue, "photographs").empty());
    }
}
