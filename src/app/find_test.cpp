#include "app/find.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <sstream>

#include "app/check_catalogue.h"
#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/instrument_changes.h"
#include "app/outfit.h"
#include "app/rigs.h"
#include "app/undo.h"
#include "quantity/units.h"
#include "store/coil_repository.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;
using store::Figure;

namespace {

using Codes = std::vector<std::string>;

Codes found(Finder& finder, std::string_view typed) {
    Codes codes;
    for (const auto& entry : finder.find(query_from(typed).value()).entries) {
        codes.push_back(entry.code);
    }
    return codes;
}

Coil put_coil(Workshop& workshop, std::string_view code, const char* weight, const char* diameters,
              std::string_view notes = "") {
    const auto coil = add_coil(workshop, code, notes).value();
    REQUIRE(record_reading(workshop, coil, ReadingField::sample_length, "24 in"));
    REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, weight));
    if (*diameters) REQUIRE(record_reading(workshop, coil, ReadingField::diameters, diameters));
    return coil;
}

// The folder in which indexes are kept, as long as this lives.
class CacheFolder {
  public:
    CacheFolder() { ::setenv("XDG_CACHE_HOME", folder_.path().c_str(), 1); }
    ~CacheFolder() { ::unsetenv("XDG_CACHE_HOME"); }
    CacheFolder(const CacheFolder&) = delete;
    CacheFolder& operator=(const CacheFolder&) = delete;
    [[nodiscard]] std::filesystem::path only_file() const {
        return std::filesystem::directory_iterator(folder_ / "coilbook")->path();
    }
    [[nodiscard]] std::ptrdiff_t files() const {
        const auto inside = folder_ / "coilbook";
        return std::filesystem::exists(inside)
                   ? std::distance(std::filesystem::directory_iterator(inside), {})
                   : 0;
    }

  private:
    TemporaryFolder folder_;
};

}  // namespace

TEST_SUITE("Finding coils") {
    TEST_CASE("by what was measured, in the units of the trade") {
        auto workshop = workshop_in_memory();
        put_coil(workshop, "K1", "22.4 gr", "0.85 mm");  // 11.2 gr/ft, 4.2 g/cm3, 7.1 in/s: README
        put_coil(workshop, "K2", "14 gr", "1.2 mm");
        const auto only_heavy = put_coil(workshop, "K3", "28 gr", "");
        REQUIRE(record_reading(workshop, only_heavy, ReadingField::whole_length, "12 ft"));
        Finder finder(workshop);
        CHECK(found(finder, "10..12") == Codes{"K1"});
        CHECK(found(finder, "..12") == Codes{"K2", "K1"});  // in the order of the figure
        CHECK(found(finder, "13..") == Codes{"K3"});
        CHECK(found(finder, "4..4.4 g/cm3") == Codes{"K1"});
        CHECK(found(finder, "4..4.4g/cm3") == Codes{"K1"});
        CHECK(found(finder, "0.8..0.9 mm") == Codes{"K1"});
        CHECK(found(finder, "7..7.2 in/s") == Codes{"K1"});
        CHECK(found(finder, "11..13ft") == Codes{"K3"});
        CHECK(found(finder, "5..20 0.5..1 mm K") == Codes{"K1"});
    }

    TEST_CASE("a range that is not understood says so") {
        says(to_line(query_from("1..2..3").error()), "no range");
        says(to_line(query_from("12..10").error()),
             "nothing is in; expected the smaller number first");
        says(to_line(query_from("10..12 8..9").error()), "a second range");
        says(to_line(query_from("10..12kilo").error()), "'kilo' is no unit");
        CHECK(query_from("10..12 heavy")->words == Codes{"heavy"});
        CHECK(query_from("").value().words.empty());
    }

    TEST_CASE("every change is found at the next search, and an undone one is not") {
        auto workshop = workshop_in_memory();
        const auto coil = put_coil(workshop, "K1", "22.4 gr", "0.85 mm", "of the drift boat");
        Finder finder(workshop);
        CHECK(found(finder, "drift") == Codes{"K1"});
        CHECK(found(finder, "dark").empty());
        REQUIRE(record_reading(workshop, coil, ReadingField::tint, "dark"));
        CHECK(found(finder, "dark 10..12") == Codes{"K1"});
        REQUIRE(undo(workshop));
        CHECK(found(finder, "dark").empty());
        REQUIRE(confirm_coil(workshop, coil, "T-11"));
        CHECK(found(finder, "T-11") == Codes{"K1"});
        REQUIRE(change_notes(workshop, coil, "of the shop"));
        CHECK(found(finder, "drift").empty());
        CHECK(found(finder, "shop") == Codes{"K1"});
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, "30 gr"));
        CHECK(found(finder, "10..12").empty());
        CHECK(found(finder, "14..16") == Codes{"K1"});
        REQUIRE(add_coil(workshop, "K2"));
        CHECK(found(finder, "K") == Codes{"K1", "K2"});
        REQUIRE(undo(workshop));
        CHECK(found(finder, "K") == Codes{"K1"});
    }

    TEST_CASE("a tip in a rig goes where the rig goes") {
        auto workshop = workshop_in_memory();
        put_coil(workshop, "K1", "22.4 gr", "0.85 mm");
        REQUIRE(add_boat(workshop, "Heron", 3, ""));
        REQUIRE(add_rig(workshop, {"R1", "", LineSize{8}, "", "", "", "", ""}));
        Finder finder(workshop);
        CHECK(found(finder, "R1").empty());
        REQUIRE(string_rig(workshop, rig_called(workshop, "R1").value(), {"K1"}, RigRole::wallet));
        CHECK(found(finder, "R1 wallet") == Codes{"K1"});
        REQUIRE(hand_over(workshop, {Whereabouts::boat, "Heron", "", "", {"R1"}}));
        CHECK(found(finder, "heron") == Codes{"K1"});
    }

    TEST_CASE("the index of before is gone on with, also after somebody else's change") {
        const CacheFolder cache;
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        auto workshop = Workshop::create(file, foretold_surroundings());
        put_coil(workshop, "K1", "22.4 gr", "0.85 mm");
        {
            Finder finder(workshop);
            CHECK(found(finder, "K1") == Codes{"K1"});
            CHECK(cache.files() > 0);
        }
        for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
            CHECK(entry.path().extension() != ".search");  // nothing of it beside the catalogue
        }
        Finder finder(workshop);
        std::size_t read = 0;
        finder.refresh([&](std::size_t coils) { read = coils; });
        CHECK(read == 0);
        {
            auto surroundings = foretold_surroundings();
            surroundings.random = [] { return RandomBytes{9, 9, 9}; };
            auto other = Workshop::open(file, surroundings);
            REQUIRE(add_coil(other, "K2", "by the other program"));
        }
        CHECK(found(finder, "other") == Codes{"K2"});
    }

    TEST_CASE("a check finds a damaged index, throws it away, and the next search is right") {
        const CacheFolder cache;
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        auto workshop = Workshop::create(file, foretold_surroundings());
        REQUIRE(add_coil(workshop, "K1", "heavy"));
        {
            Finder finder(workshop);
            CHECK(found(finder, "heavy") == Codes{"K1"});
        }
        std::ostringstream sound;
        CHECK(check_catalogue(file, sound, Format::csv));
        CHECK_FALSE(mentions(sound.str(), "search index"));
        // A letter of the kept words flips: SQLite's own check does not see that.
        const auto index = cache.only_file();
        auto bytes = bytes_of(index);
        const auto at = bytes.rfind("heavy");
        REQUIRE(at != std::string::npos);
        bytes[at] = 'l';
        write_bytes(index, bytes);
        std::ostringstream mended;
        CHECK(check_catalogue(file, mended, Format::csv));
        says(mended.str(), "it was damaged and is thrown away");
        Finder finder(workshop);
        CHECK(found(finder, "heavy") == Codes{"K1"});
    }

    // What a restored or merged catalogue is: another history under the same name.
    TEST_CASE("an index of another history is made anew") {
        const CacheFolder cache;
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        {
            auto workshop = Workshop::create(file, foretold_surroundings());
            REQUIRE(add_coil(workshop, "K1", "heavy"));
            Finder finder(workshop);
            CHECK(found(finder, "heavy") == Codes{"K1"});
        }
        std::filesystem::remove_all(folder / "backups");
        std::filesystem::remove(file);
        auto workshop = Workshop::create(file, foretold_surroundings());
        REQUIRE(add_coil(workshop, "K2", "light"));
        REQUIRE(add_coil(workshop, "K3", "light"));
        Finder finder(workshop);
        CHECK(found(finder, "heavy").empty());
        CHECK(found(finder, "light") == Codes{"K2", "K3"});
    }

    TEST_CASE("rows come out with figures in the units of their columns") {
        auto workshop = workshop_in_memory();
        put_coil(workshop, "K1", "22.4 gr", "0.85 mm", "note");
        Finder finder(workshop);
        std::ostringstream out;
        write_found(finder.find(query_from("K1").value()), out, Format::csv);
        says(out.str(),
             "code,confirmed_class,grains_per_foot,diameter_mm,density_g_cm3,"
             "sink_rate_in_s,length_ft,place,looks,notes\nK1,,11.");
        std::ostringstream table;
        write_found(finder.find({.words = {"K1"}}), table, Format::table);
        CHECK(table.str().find("1 found") != std::string::npos);
    }
}
