#include "store/catalogue.h"

#include <cstdint>

#include "store/class_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/history_repository.h"
#include "store/instrument_repository.h"
#include "store/reading_repository.h"
#include "store/schema.h"
#include "store/setting_repository.h"
#include "support/catalogue.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

Result<void> add_coil(Catalogue& catalogue, const Coil& coil) {
    return in_an_act(catalogue, [&](Act& act) { return catalogue.coils().add(act, coil); });
}

Reading weight_of(const Coil& coil) {
    return {.id = next_id<Reading>(),
            .coil = coil.id,
            .field = ReadingField::sample_weight,
            .as_written = "22.4 gr",
            .value = read_values(ReadingField::sample_weight, "22.4 gr").value().front(),
            .instrument = "S1",
            .taken_at = moment(5),
            .supersedes = {}};
}

}  // namespace

TEST_SUITE("The catalogue's file") {
    TEST_CASE("everything is there when the file is opened again") {
        const TemporaryFolder folder;
        const auto coil = a_coil("A7", "from the old bag");
        const auto confirmation = confirmed(coil, "T-11");
        Scale scale;
        scale.code = "S1";
        scale.resolution = 0.05 * grain;
        Reading reading = weight_of(coil);
        std::vector<HistoryEntry> history;
        {
            auto catalogue = Catalogue::create(folder / "a.coilbook");
            put_library(catalogue, small_library());
            REQUIRE(in_an_act(catalogue, [&](Act& act) -> Result<void> {
                        for (const auto& done :
                             {catalogue.coils().add(act, coil),
                              catalogue.instruments().put(act, next_id<BenchInstrument>(), scale),
                              catalogue.readings().add(act, reading),
                              catalogue.confirmations().add(act, confirmation),
                              catalogue.settings().put(act, "water", "10 C")}) {
                            if (!done) return done;
                        }
                        return {};
                    }).has_value());
            history = catalogue.history().list();
            CHECK(history.size() == 2);
        }
        CHECK(folder.count() == 1);
        const auto catalogue = Catalogue::open(folder / "a.coilbook");
        CHECK(catalogue.migrated().from == catalogue.migrated().to);
        CHECK(catalogue.coils().list() ==
              std::vector<CoilListing>{{.coil = coil, .confirmed_class = "T-11", .readings = 1}});
        CHECK(catalogue.readings().all_of(coil.id) == std::vector<Reading>{reading});
        CHECK(catalogue.readings().readings_of(coil.id).scale == "S1");
        CHECK(catalogue.instruments().all().scales.at("S1") == scale);
        CHECK(catalogue.confirmations().current_of(coil.id) == confirmation);
        CHECK(catalogue.settings().get("water") == "10 C");
        CHECK(catalogue.history().list() == history);
        CHECK(catalogue.damage().empty());
    }

    TEST_CASE("opening does not create, creating does not replace") {
        const TemporaryFolder folder;
        says(error_of([&] { (void)Catalogue::open(folder / "a.coilbook"); }),
             "does not exist; create a new catalogue");
        { const auto made = Catalogue::create(folder / "a.coilbook"); }
        says(error_of([&] { (void)Catalogue::create(folder / "a.coilbook"); }), "exists already");
        write_bytes(folder / "readings.csv", "code\nA7\n");
        says(error_of([&] { (void)Catalogue::open(folder / "readings.csv"); }),
             "readings.csv' is not a catalogue");
        CHECK(folder.count() == 2);
    }

    TEST_CASE("a catalogue from the future is refused and stays as it was") {
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        { const auto made = Catalogue::create(file); }
        auto bytes = bytes_of(file);
        bytes[63] = 99;  // user_version, big-endian at 60: SQLite's fileformat2.html, 1.3
        write_bytes(file, bytes);
        says(error_of([&] { (void)Catalogue::open(file); }), "newer version of this program");
        CHECK(bytes_of(file) == bytes);
        CHECK(folder.count() == 1);
    }

    TEST_CASE("a backup is a catalogue of its own") {
        const TemporaryFolder folder;
        auto catalogue = Catalogue::create(folder / "a.coilbook");
        REQUIRE(add_coil(catalogue, a_coil("A7")).has_value());
        catalogue.back_up(folder / "b.coilbook");
        REQUIRE(add_coil(catalogue, a_coil("A8")).has_value());
        CHECK(Catalogue::open(folder / "b.coilbook").coils().count() == 1);
    }

    // Bits rot and cards fail. Not every flipped bit can be seen (db's README), but none may end
    // in anything but an answer or an Error.
    TEST_CASE("a catalogue with a byte gone wrong is read or refused, and never crashes") {
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        const auto coil = a_coil("A7");
        {
            auto catalogue = Catalogue::create(file);
            put_library(catalogue, small_library());
            Scale scale;
            scale.code = "S1";
            in_an_act(catalogue, [&](Act& act) {
                (void)catalogue.instruments().put(act, next_id<BenchInstrument>(), scale);
                (void)catalogue.coils().add(act, coil);
                (void)catalogue.readings().add(act, weight_of(coil));
                (void)catalogue.confirmations().add(act, confirmed(coil, "T-11"));
            });
        }
        const auto whole = bytes_of(file);
        std::uint64_t random = 20261125;  // Knuth's MMIX generator: the same run every time
        const auto next = [&] {
            return (random = random * 6364136223846793005U + 1442695040888963407U) >> 33U;
        };
        int read = 0;
        int refused = 0;
        for (int n = 0; n < 60; ++n) {
            auto bytes = whole;
            bytes[next() % bytes.size()] = static_cast<char>(next());
            write_bytes(file, bytes);
            const auto said = error_of([&] {
                auto catalogue = Catalogue::open(file);
                for (const auto& each : catalogue.readings().bin()) {
                    (void)catalogue.readings().all_of(each.coil.id);
                    (void)catalogue.confirmations().all_of(each.coil.id);
                }
                (void)catalogue.coils().list();
                (void)catalogue.classes().library();
                (void)catalogue.instruments().all();
                for (const auto& each : catalogue.history().list()) {
                    (void)catalogue.history().changes_of(each.note.id);
                }
                in_an_act(catalogue,
                          [&](Act& act) { return catalogue.coils().add(act, a_coil("A8")); });
            });
            ++(said.empty() ? read : refused);
        }
        CHECK(read > 0);
        CHECK(refused > 0);
    }

    TEST_CASE("the schema's steps are numbered from 1 and each says what it is") {
        int expected = 0;
        for (const auto& step : schema_steps()) {
            CHECK(step.number == ++expected);
            CHECK_FALSE(step.name.empty());
            CHECK(step.sql.starts_with("-- "));
        }
        CHECK(expected >= 1);
    }
}

TEST_SUITE("Acts") {
    TEST_CASE("an act gives back what its function returns") {
        auto catalogue = Catalogue::in_memory();
        CHECK(in_an_act(catalogue, [&](Act& act) {
                  (void)catalogue.settings().put(act, "a", "b");
                  return 7;
              }) == 7);
        CHECK(catalogue.settings().get("a") == "b");
        CHECK(in_an_act(catalogue, [](Act& act) { return act.note().what; }) == "try");
    }

    TEST_CASE("what an act had done when a Problem or an exception came is gone") {
        auto catalogue = Catalogue::in_memory();
        const auto refused = in_an_act(catalogue, [&](Act& act) -> Result<void> {
            if (const auto done = catalogue.coils().add(act, a_coil("A7")); !done) return done;
            CHECK(catalogue.coils().count() == 1);
            return catalogue.coils().add(act, a_coil("A7"));
        });
        CHECK_FALSE(refused.has_value());
        CHECK(catalogue.coils().count() == 0);
        const auto said = error_of([&] {
            catalogue.act(note_for("read the scale"), [&](Act& act) {
                (void)catalogue.coils().add(act, a_coil("A7"));
                throw Error("the cable came off");
            });
        });
        CHECK(said == "read the scale: the cable came off");
        CHECK(catalogue.coils().count() == 0);
        CHECK(catalogue.history().list().empty());
        CHECK(add_coil(catalogue, a_coil("A7")).has_value());
    }

    TEST_CASE("acts do not nest, and the outer one goes on") {
        auto catalogue = Catalogue::in_memory();
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    says(error_of([&] { in_an_act(catalogue, [](Act&) {}); }), "inside another");
                    return catalogue.coils().add(act, a_coil("A7"));
                }).has_value());
        CHECK(catalogue.coils().count() == 1);
    }

    TEST_CASE("without an act there is no way to write") {
        static_assert(!std::is_constructible_v<Act, db::Database&, ActNote>);
        static_assert(!std::is_copy_constructible_v<Act>);
        static_assert(!std::is_move_constructible_v<Act>);
    }

    TEST_CASE("an act's id is used once") {
        auto catalogue = Catalogue::in_memory();
        const auto note = note_for("once");
        catalogue.act(note, [&](Act& act) { (void)catalogue.settings().put(act, "a", "1"); });
        says(error_of([&] {
                 catalogue.act(note,
                               [&](Act& act) { (void)catalogue.settings().put(act, "a", "2"); });
             }),
             "UNIQUE constraint failed: act.id");
        CHECK(catalogue.settings().get("a") == "1");
    }

    TEST_CASE("the catalogue can be moved, and goes on working") {
        auto first = Catalogue::in_memory();
        REQUIRE(add_coil(first, a_coil("A7")).has_value());
        auto second = std::move(first);
        REQUIRE(add_coil(second, a_coil("A8")).has_value());
        CHECK(second.coils().count() == 2);
    }
}

TEST_SUITE("Two programs at one catalogue") {
    TEST_CASE("each sees what the other has finished, and notices that there is something new") {
        const TemporaryFolder folder;
        auto bench = Catalogue::create(folder / "a.coilbook");
        auto command = Catalogue::open(folder / "a.coilbook");
        const auto before = bench.data_version();
        REQUIRE(add_coil(bench, a_coil("A7")).has_value());
        CHECK(bench.data_version() == before);
        REQUIRE(in_an_act(command, [&](Act& act) {
                    const auto done = command.coils().add(act, a_coil("A8"));
                    CHECK(bench.coils().count() == 1);
                    return done;
                }).has_value());
        CHECK(bench.data_version() != before);
        CHECK(bench.coils().count() == 2);
        CHECK(add_coil(bench, a_coil("A8")).error().field == "code");
    }
}

TEST_SUITE("A large bin") {
    TEST_CASE("ten thousand coils are written, listed and read back whole") {
        auto catalogue = Catalogue::in_memory();
        Scale scale;
        scale.code = "S1";
        REQUIRE(in_an_act(catalogue, [&](Act& act) -> Result<void> {
                    const auto known =
                        catalogue.instruments().put(act, next_id<BenchInstrument>(), scale);
                    if (!known) return known;
                    for (int n = 0; n < 10'000; ++n) {
                        const auto coil = a_coil("C" + std::to_string(10'000 + n));
                        if (const auto done = catalogue.coils().add(act, coil); !done) return done;
                        if (n % 10 != 9) continue;
                        const auto done = catalogue.readings().add(act, weight_of(coil));
                        if (!done) return done;
                    }
                    return {};
                }).has_value());
        CHECK(catalogue.coils().count() == 10'000);
        const auto page = catalogue.coils().list({.limit = 50, .offset = 9'950});
        REQUIRE(page.size() == 50);
        CHECK(page.front().coil.code == "C19950");
        CHECK(page.front().readings == 0);
        CHECK(page.back().readings == 1);
        CHECK(catalogue.coils().list().size() == 10'000);
        const auto bin = catalogue.readings().bin();
        REQUIRE(bin.size() == 10'000);
        CHECK(bin.back().coil.code == "C19999");
        CHECK(bin.back().readings.sample_weight->value == 22.4 * grain);
    }
}
