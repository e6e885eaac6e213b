#include "store/custody_repository.h"

#include <fstream>

#include "db/database.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/history_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"
#include "store/undoing.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

Rig a_rig(const std::string& code) {
    return {.id = next_id<Rig>(),
            .code = code,
            .name = "blue two-hander",
            .line_size = LineSize{8},
            .rod = "13 ft",
            .reel = "wide",
            .backing = "30 lb",
            .running_line = "flat",
            .notes = "",
            .made_at = moment()};
}

Boat a_boat(const std::string& name) {
    return {.id = next_id<Boat>(), .name = name, .seats = 3, .notes = "", .made_at = moment()};
}

Client a_client(const std::string& code, const std::string& name) {
    return {.id = next_id<Client>(),
            .code = code,
            .made_at = moment(),
            .person = Person{name, LineSize{8}, "left", "likes short heads"}};
}

// A catalogue with a coil, a rig, a boat and a client.
struct Outfit {
    Catalogue catalogue = Catalogue::in_memory();
    Coil coil = a_coil("A7");
    Rig rig = a_rig("R1");
    Boat boat = a_boat("Heron");
    Client client = a_client("K7M3XM", "Ida Brandvik");

    Outfit() {
        const auto added = in_an_act(catalogue, [&](Act& act) -> Result<void> {
            if (auto done = catalogue.coils().add(act, coil); !done) return done;
            if (auto done = catalogue.rigs().add(act, rig); !done) return done;
            if (auto done = catalogue.clients().add(act, client); !done) return done;
            return catalogue.outings().add_boat(act, boat);
        });
        REQUIRE(added.has_value());
    }
    Id<Act> hand(const Thing& thing, const Place& place) {
        const auto note = note_for("hand over");
        const Handover handover{next_id<Handover>(), thing, place, moment(7), "guide", "note", 99};
        REQUIRE(
            catalogue.act(note, [&](Act& act) { return catalogue.custody().add(act, handover); })
                .has_value());
        return note.id;
    }
    [[nodiscard]] Place to_boat() const { return {.where = Whereabouts::boat, .boat = boat.id}; }
    [[nodiscard]] Place to_rig(RigRole role) const {
        return {.where = Whereabouts::rig, .rig = rig.id, .role = role};
    }
    void is_sound() {
        for (const auto& inspection : catalogue.audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
    }
};

}  // namespace

TEST_SUITE("Rigs, boats, clients and custody in the catalogue") {
    TEST_CASE("what is put comes back as it was") {
        Outfit outfit;
        auto& catalogue = outfit.catalogue;
        CHECK(catalogue.rigs().by_code("R1") == outfit.rig);
        CHECK(catalogue.rigs().list() == std::vector{outfit.rig});
        CHECK(catalogue.outings().boats() == std::vector{outfit.boat});
        CHECK(catalogue.outings().boat_named(" heron ") == outfit.boat);
        CHECK(catalogue.clients().list() == std::vector{outfit.client});
        CHECK(catalogue.clients().called("ida brandvik") == std::vector{outfit.client});
        CHECK(catalogue.clients().called("k7m3xm") == std::vector{outfit.client});
        auto changed = outfit.rig;
        changed.reel = "narrow";
        changed.line_size.reset();
        CHECK(in_an_act(catalogue, [&](Act& act) {
                  return catalogue.rigs().change(act, changed);
              }).has_value());
        CHECK(catalogue.rigs().by_id(outfit.rig.id) == changed);
        outfit.is_sound();
    }

    TEST_CASE("an outing and its promises come back; what is called off counts no longer") {
        Outfit outfit;
        auto& catalogue = outfit.catalogue;
        const Day day = day_from("2026-06-14").value();
        const Outing outing{next_id<Outing>(), day, outfit.boat.id, outfit.client.id};
        const Outing alone{next_id<Outing>(), day, outfit.boat.id, std::nullopt};
        const std::vector<Promise> promises{{next_id<Promise>(), outing.id, outfit.rig.id},
                                            {next_id<Promise>(), outing.id, outfit.coil.id},
                                            {next_id<Promise>(), alone.id, ClassNeed{"T-11", 3}}};
        REQUIRE(in_an_act(catalogue, [&](Act& act) -> Result<void> {
                    catalogue.outings().add_outing(act, outing);
                    catalogue.outings().add_outing(act, alone);
                    for (const auto& promise : promises) {
                        const auto done = catalogue.outings().add_promise(act, promise);
                        if (!done) return done;
                    }
                    return {};
                }).has_value());
        CHECK(catalogue.outings().outings_on(day) == std::vector{outing, alone});
        CHECK(catalogue.outings().promises_on(day) == promises);
        CHECK(catalogue.outings().days() == std::vector{day});
        outfit.is_sound();
        in_an_act(catalogue, [&](Act& act) {
            catalogue.outings().withdraw_promise(act, promises[0].id);
            catalogue.outings().cancel_outing(act, alone.id);
        });
        CHECK(catalogue.outings().outings_on(day) == std::vector{outing});
        CHECK(catalogue.outings().promises_on(day) == std::vector{promises[1]});
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.undoing().undo(act, catalogue.undoing().next_undo()->note.id);
                }).has_value());
        CHECK(catalogue.outings().promises_on(day) == promises);
        outfit.is_sound();
    }

    TEST_CASE("the last handover says where a thing is, and undo goes one back") {
        Outfit outfit;
        auto& catalogue = outfit.catalogue;
        CHECK(catalogue.custody().standings().empty());
        outfit.hand(outfit.coil.id, outfit.to_rig(RigRole::tip));
        outfit.hand(outfit.rig.id, outfit.to_boat());
        const auto last =
            outfit.hand(outfit.coil.id, {.where = Whereabouts::lost, .boat = outfit.boat.id});
        const auto record = catalogue.custody().record();
        REQUIRE(record.size() == 3);
        CHECK(record[0].turn == 0);  // counted here, whatever was said
        CHECK(record[1].turn == 0);
        CHECK(record[2].turn == 1);
        CHECK(record[0].to == outfit.to_rig(RigRole::tip));
        CHECK(record[1].thing == Thing(outfit.rig.id));
        CHECK(catalogue.custody().all_of(outfit.coil.id).size() == 2);
        const auto standings = catalogue.custody().standings();
        REQUIRE(standings.size() == 2);
        CHECK(standings[1].last == record[2]);
        CHECK(standings[1].handovers == 2);
        CHECK_FALSE(standings[1].is_disputed());
        outfit.is_sound();
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.undoing().undo(act, last);
                }).has_value());
        CHECK(catalogue.custody().all_of(outfit.coil.id).back().to == outfit.to_rig(RigRole::tip));
        outfit.is_sound();
    }

    TEST_CASE(
        "an earlier handover cannot be undone under a later one, nor a boat under an outing") {
        Outfit outfit;
        auto& catalogue = outfit.catalogue;
        const auto first = outfit.hand(outfit.coil.id, outfit.to_boat());
        outfit.hand(outfit.coil.id, {});
        const auto refused =
            in_an_act(catalogue, [&](Act& act) { return catalogue.undoing().undo(act, first); });
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "came later");
        const auto making = catalogue.history().list().back().note.id;
        CHECK_FALSE(in_an_act(catalogue, [&](Act& act) {
                        return catalogue.undoing().undo(act, making);
                    }).has_value());
    }

    TEST_CASE("the record is never changed, and a rig is in no rig") {
        Outfit outfit;
        const auto fails = [&](const Thing& thing, const Place& place) {
            return !error_of([&] {
                        (void)in_an_act(outfit.catalogue, [&](Act& act) {
                            return outfit.catalogue.custody().add(
                                act, {next_id<Handover>(), thing, place, moment(), "", "", 0});
                        });
                    }).empty();
        };
        CHECK(fails(outfit.rig.id, outfit.to_rig(RigRole::tip)));
        CHECK(fails(next_id<Coil>(), {}));
        CHECK(fails(outfit.coil.id, {.where = Whereabouts::boat}));
        CHECK(fails(outfit.coil.id, {.where = Whereabouts::boat, .boat = next_id<Boat>()}));
    }

    TEST_CASE("codes and names that are taken are refused") {
        Outfit outfit;
        auto& catalogue = outfit.catalogue;
        const auto refuses_rig = [&](const std::string& code) {
            return !in_an_act(catalogue, [&](Act& act) {
                        return catalogue.rigs().add(act, a_rig(code));
                    }).has_value();
        };
        CHECK(refuses_rig("A7"));
        CHECK(refuses_rig("R1"));
        CHECK(refuses_rig(""));
        CHECK_FALSE(refuses_rig("R2"));
        CHECK_FALSE(in_an_act(catalogue, [&](Act& act) {
                        return catalogue.outings().add_boat(act, a_boat("HERON"));
                    }).has_value());
    }

    TEST_CASE(
        "a client who is forgotten leaves no trace in the file, and the history stays sound") {
        const TemporaryFolder folder;
        const auto file = folder / "outfit.coilbook";
        const auto client = a_client("K7M3XM", "Zephyrine Quillfeather");
        {
            auto catalogue = Catalogue::create(file);
            REQUIRE(in_an_act(catalogue, [&](Act& act) {
                        return catalogue.clients().add(act, client);
                    }).has_value());
            CHECK(mentions(bytes_of(file) + bytes_of(file.string() + "-wal"), "Quillfeather"));
            in_an_act(catalogue, [&](Act& act) { catalogue.clients().forget(act, client.id); });
            catalogue.wipe_deleted();
            CHECK_FALSE(mentions(bytes_of(file), "Quillfeather"));
            CHECK_FALSE(mentions(bytes_of(file), "short heads"));
            CHECK_FALSE(mentions(bytes_of(file.string() + "-wal"), "Quillfeather"));
            const auto found = catalogue.clients().called("K7M3XM");
            REQUIRE(found.size() == 1);
            CHECK(found[0].is_forgotten);
            CHECK_FALSE(found[0].person.has_value());
            CHECK(catalogue.clients().called("Zephyrine Quillfeather").empty());
            for (const auto& inspection : catalogue.audit()) {
                CAPTURE(inspection.what);
                CHECK(inspection.wrong == std::vector<std::string>{});
            }
            // It is not undone, and nobody is told about again.
            const auto last = catalogue.undoing().next_undo()->note.id;
            CHECK_FALSE(in_an_act(catalogue, [&](Act& act) {
                            return catalogue.undoing().undo(act, last);
                        }).has_value());
        }
        CHECK_FALSE(mentions(bytes_of(file), "Quillfeather"));
    }

    TEST_CASE("a name that somebody typed elsewhere is found") {
        Outfit outfit;
        auto& catalogue = outfit.catalogue;
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.coils().add(act, a_coil("B2", "Ida Brandvik's own"));
                }).has_value());
        const auto places = catalogue.clients().mentions_of("Ida Brandvik");
        REQUIRE(places.size() == 1);
        says(places[0], "notes of coil");
    }
}
