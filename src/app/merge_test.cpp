// Two laptops that were apart, as the doors bring them together.
#include "app/merge.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <functional>
#include <map>
#include <random>
#include <set>
#include <sstream>

#include "app/backups.h"
#include "app/check_catalogue.h"
#include "app/coil_care.h"
#include "app/coil_changes.h"
#include "app/conflict_rows.h"
#include "app/custody.h"
#include "app/day.h"
#include "app/history_rows.h"
#include "app/inventory.h"
#include "app/outfit.h"
#include "app/salvage.h"
#include "app/undo.h"
#include "db/base64.h"
#include "db/digest.h"
#include "store/care_repository.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/conflicts.h"
#include "store/custody_repository.h"
#include "store/reading_repository.h"
#include "support/a_photograph.h"
#include "support/table_files.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;
namespace fs = std::filesystem;

namespace {

// A laptop with a clock of its own, `off` by so many seconds.
Surroundings laptop(const char* name, unsigned seed, int off) {
    const auto ticks = std::make_shared<std::int64_t>(0);
    const auto chance = std::make_shared<std::mt19937>(seed);
    const Instant start = instant_from_text("2026-06-14T06:00:00Z").value();
    Surroundings surroundings;
    surroundings.now = [=] { return start + std::chrono::seconds(off + ++*ticks); };
    surroundings.random = [=] {
        RandomBytes bytes{};
        for (auto& byte : bytes) byte = static_cast<std::uint8_t>((*chance)());
        return bytes;
    };
    surroundings.who = "the guide";
    surroundings.program = "coilbook test";
    surroundings.laptop = name;
    return surroundings;
}

struct Laptops {
    TemporaryFolder folder;
    Workshop shop;
    Workshop boat;

    Laptops()
        : shop(begun(folder)),
          boat(Workshop::open(copied(folder), laptop("boat laptop", 2, -40))) {}

    static Workshop begun(const TemporaryFolder& folder) {
        auto workshop = Workshop::create(folder / "shop.coilbook", laptop("shop laptop", 1, 0));
        REQUIRE(add_coil(workshop, "A7").has_value());
        return workshop;
    }
    static fs::path copied(const TemporaryFolder& folder) {
        store::Catalogue::copy(folder / "shop.coilbook", folder / "boat.coilbook");
        return folder / "boat.coilbook";
    }
    // By exchange files, the one way and the other.
    void meet() {
        const auto from_shop = folder / ("shop" + std::to_string(++meetings_) + ".exchange");
        const auto from_boat = folder / ("boat" + std::to_string(meetings_) + ".exchange");
        REQUIRE(write_exchange(shop, from_shop, false).has_value());
        REQUIRE(write_exchange(boat, from_boat, false).has_value());
        REQUIRE(take_in_exchange(boat, from_shop).has_value());
        REQUIRE(take_in_exchange(shop, from_boat).has_value());
    }

  private:
    int meetings_ = 0;
};

std::string contents_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}
void put(const fs::path& file, const std::string& contents) {
    std::ofstream(file, std::ios::binary) << contents;
}

}  // namespace

TEST_SUITE("Laptops that come together") {
    TEST_CASE(
        "merging takes in the other's catalogue, keeps what was, and leaves the other alone") {
        Laptops two;
        REQUIRE(add_coil(two.boat, "B1").has_value());
        const auto before = contents_of(two.folder / "boat.coilbook");
        const auto report = merge(two.shop, two.folder / "boat.coilbook");
        REQUIRE(report.has_value());
        REQUIRE(report->came.size() == 1);
        CHECK(report->came[0].laptop == "boat laptop");
        CHECK(two.shop.catalogue().coils().by_code("B1").has_value());
        CHECK(contents_of(two.folder / "boat.coilbook") == before);
        REQUIRE(report->backup.has_value());
        CHECK(store::Catalogue::open(*report->backup).coils().count() == 1);
        // The same again is nothing, and makes no backup.
        const auto again = merge(two.shop, two.folder / "boat.coilbook");
        REQUIRE(again.has_value());
        CHECK(again->came.empty());
        CHECK_FALSE(again->backup.has_value());
        std::ostringstream history;
        CHECK(write_history(two.shop, {}, 100, history, Format::table).has_value());
        says(history.str(), "the guide, boat laptop");
        CHECK(fs::exists(two.folder / "shop.coilbook.merging") == false);
    }

    TEST_CASE("the catalogue itself, strangers' files and damaged ones are refused") {
        Laptops two;
        CHECK_FALSE(merge(two.shop, two.folder / "shop.coilbook").has_value());
        put(two.folder / "text.coilbook", "this is no catalogue");
        CHECK_THROWS_AS((void)merge(two.shop, two.folder / "text.coilbook"), Error);
        // What was copied in part: its end is missing, or was never filled.
        store::Catalogue::copy(two.folder / "shop.coilbook", two.folder / "half.coilbook");
        const auto whole = contents_of(two.folder / "half.coilbook");
        const auto half = whole.size() / 2;
        for (const auto& part :
             {whole.substr(0, half), whole.substr(0, half) + std::string(whole.size() - half, 0)}) {
            put(two.folder / "half.coilbook", part);
            CHECK(error_of([&] { (void)merge(two.shop, two.folder / "half.coilbook"); }) ==
                  "'" + (two.folder / "half.coilbook").string() +
                      "' is damaged or was copied only in part; take a whole copy of it");
        }
        auto other = Workshop::create(two.folder / "other.coilbook", laptop("other", 9, 0));
        const auto refused = merge(two.shop, two.folder / "other.coilbook");
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "made apart");
        CHECK(two.shop.catalogue().coils().count() == 1);
    }

    TEST_CASE("an exchange file carries everything but names, unless they are asked for") {
        Laptops two;
        const auto client = add_client(two.shop, {"Ida Brandvik", {}, "", ""}).value();
        const auto plain = two.folder / "plain.exchange";
        const auto named = two.folder / "named.exchange";
        REQUIRE(write_exchange(two.shop, plain, false).has_value());
        REQUIRE(write_exchange(two.shop, named, true).has_value());
        CHECK(contents_of(plain).find("Brandvik") == std::string::npos);
        CHECK((fs::status(plain).permissions() & fs::perms::others_all) == fs::perms::none);
        REQUIRE(take_in_exchange(two.boat, plain).has_value());
        CHECK_FALSE(two.boat.catalogue().clients().by_id(client.id)->person.has_value());
        REQUIRE(take_in_exchange(two.boat, named).has_value());
        CHECK(two.boat.catalogue().clients().by_id(client.id)->person->name == "Ida Brandvik");
        // Forgotten here, and the old file with the name comes once more.
        REQUIRE(forget_client(two.shop, "Ida Brandvik").has_value());
        two.meet();
        REQUIRE(take_in_exchange(two.boat, named).has_value());
        CHECK_FALSE(two.boat.catalogue().clients().by_id(client.id)->person.has_value());
        CHECK(contents_of(two.folder / "boat.coilbook").find("Brandvik") == std::string::npos);
        // Twice the same name is no name.
        const auto refused = write_exchange(two.shop, plain, false);
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "exists already");
    }

    TEST_CASE("an exchange file that was cut off, changed, or is newer or none, is refused whole") {
        Laptops two;
        REQUIRE(add_coil(two.boat, "B1").has_value());
        REQUIRE(add_coil(two.boat, "B2").has_value());
        const auto file = two.folder / "whole.exchange";
        REQUIRE(write_exchange(two.boat, file, false).has_value());
        const auto whole = contents_of(file);
        const auto spoilt = two.folder / "spoilt.exchange";
        const auto refused = [&](const std::string& contents) {
            put(spoilt, contents);
            std::string why;
            try {
                const auto taken = take_in_exchange(two.shop, spoilt);
                if (!taken) why = taken.error().sentence;
            } catch (const Error& error) {
                why = error.what();
            }
            CHECK(two.shop.catalogue().coils().count() == 1);
            return why;
        };
        for (const double part : {0.0, 0.3, 0.7, 0.999}) {
            CAPTURE(part);
            const auto kept = static_cast<std::size_t>(part * static_cast<double>(whole.size()));
            says(refused(whole.substr(0, kept)), "cut off");
        }
        // Without its last lines it is shorter, but not whole.
        const auto end = whole.rfind('\n', whole.size() - 2) + 1;
        says(refused(whole.substr(0, end)), "cut off");
        auto changed = whole;
        changed[changed.rfind("B1")] = 'C';
        says(refused(changed), "not as it was written");
        says(refused("code,notes\nA7,x\n"), "not JSON");
        says(refused("{\"format\": \"something else\"}\n"), "no exchange file");
        says(refused("{\"format\":\"coilbook exchange\",\"version\":2}\n"), "newer program");
        says(refused(std::string(3000, '[') + "\n"), "not JSON");
        std::ostringstream fine;
        CHECK(check_catalogue(two.folder / "shop.coilbook", fine, Format::csv));
        CHECK(take_in_exchange(two.shop, file).has_value());
        CHECK(two.shop.catalogue().coils().count() == 3);
    }

    TEST_CASE(
        "a table that was taken to both laptops is there once where it says all, else twice") {
        Laptops two;
        put(two.folder / "a.png", a_png(3, 4));
        const auto picture = db::base64_of(a_png(3, 4));
        struct Case {
            const char* kind;
            std::string table;
            std::size_t rows;  // afterwards
        };
        const Case cases[]{
            {"conditions", "coil_code,what,found,at\nA7,kink,yes,2026-01-05T00:00:00Z\n", 1},
            {"conditions", "coil_code,what,found\nA7,hinge,yes\n", 1 + 2},
            {"readings",
             "coil_code,field,as_written,taken_at\nA7,sample_weight,22 gr,2026-01-05T00:00:00Z\n",
             1},
            {"handovers", "coil_code,place\nA7,lost\n", 2},
            {"photographs", "coil_code,at,picture\nA7,2026-01-05T00:00:00Z," + picture + "\n", 1},
        };
        for (const auto& each : cases) {
            for (auto* workshop : {&two.shop, &two.boat}) {
                REQUIRE(imported(*workshop, kind(each.kind), each.table).counts->added == 1);
            }
        }
        // What was written on the one and brought to the other as a table.
        REQUIRE(add_boat(two.shop, "Heron", 3, "").has_value());
        REQUIRE(add_outing(two.shop, day_from("2026-06-14").value(), "Heron", "").has_value());
        for (const auto* of : {"boats", "outings"}) {
            const auto table = exported(two.shop, kind(of), Format::csv);
            REQUIRE(imported(two.boat, kind(of), table).counts->added == 1);
        }
        two.meet();
        two.meet();
        for (auto* workshop : {&two.shop, &two.boat}) {
            std::ostringstream found;
            CHECK(check_catalogue(workshop->catalogue().file(), found, Format::csv));
            std::map<std::string, std::size_t> rows;
            for (const auto& [of, table] : exported(*workshop, Format::csv)) {
                rows[of] = static_cast<std::size_t>(std::ranges::count(table, '\n')) - 1;
            }
            for (const auto& each : cases) CHECK(rows[each.kind] >= each.rows);
            CHECK(rows["conditions"] == 3);
            CHECK(rows["outings"] == 1);
            CHECK(rows["photographs"] == 1);
            for (const auto& each : cases) {  // and once more changes nothing
                CHECK(imported(*workshop, kind(each.kind), each.table).counts->same == 1);
            }
        }
        CHECK(exported(two.shop, Format::csv) == exported(two.boat, Format::csv));
        auto& shop = two.shop;
        const auto acts = history(shop);
        const auto photographs = std::ranges::find_if(acts, [](const auto& each) {
            return each.note.what.starts_with("import photographs");
        });
        REQUIRE(photographs != acts.end());
        // The other laptop's import of it stands; with both taken back it is gone.
        REQUIRE(undo(shop, photographs->note.id.text()).has_value());
        CHECK(photographs_of(shop, coil_by_code(shop, "A7").value()).size() == 1);
        const auto other = std::ranges::find_if(
            std::next(photographs), acts.end(),
            [](const auto& each) { return each.note.what.starts_with("import photographs"); });
        REQUIRE(other != acts.end());
        REQUIRE(undo(shop, other->note.id.text()).has_value());
        CHECK(photographs_of(shop, coil_by_code(shop, "A7").value()).empty());
        two.meet();
        for (auto* workshop : {&two.shop, &two.boat}) {
            std::ostringstream found;
            CHECK(check_catalogue(workshop->catalogue().file(), found, Format::csv));
        }
        CHECK(exported(two.shop, Format::csv) == exported(two.boat, Format::csv));
    }

    TEST_CASE("photographs go along, however many pieces one act brings") {
        Laptops two;
        const auto coil = coil_by_code(two.shop, "A7").value();
        std::string table = "coil_code,note,picture\n";
        for (int n = 0; n < 1001; ++n) {
            // What stands behind the picture's end belongs to its bytes, and to its digest.
            table += "A7,," + db::base64_of(a_png(2, 2) + std::to_string(n)) + "\n";
        }
        const auto largest = a_jpeg(8, 6) + std::string(1'200'000, '-');
        table += "A7,the largest," + db::base64_of(largest) + "\n";
        REQUIRE(imported(two.shop, kind("photographs"), table).counts->added == 1002);
        two.meet();
        CHECK(two.boat.catalogue().care().bytes_of(photographs_of(two.boat, coil).front()) ==
              largest);
        CHECK(exported(two.boat, kind("photographs"), Format::csv) ==
              exported(two.shop, kind("photographs"), Format::csv));
        std::ostringstream found;
        CHECK(check_catalogue(two.boat.catalogue().file(), found, Format::csv));
    }

    TEST_CASE("a picture that is not its photograph's stays outside, and may be added anew") {
        Laptops two;
        const auto coil = coil_by_code(two.shop, "A7").value();
        put(two.folder / "a.png", a_png(3, 4));
        REQUIRE(add_photograph(two.shop, coil, two.folder / "a.png").has_value());
        const auto file = two.folder / "shop.exchange";
        REQUIRE(write_exchange(two.shop, file, false).has_value());
        auto lines = contents_of(file);
        const auto was = db::base64_of(a_png(3, 4));
        const auto at = lines.find(was);
        REQUIRE(at != std::string::npos);
        lines.replace(at, was.size(), db::base64_of(a_png(4, 3)));
        lines.resize(lines.find("{\"end\""));
        db::Digest digest;
        digest.add_raw(lines);
        put(two.folder / "forged.exchange", lines + "{\"end\":\"" + digest.finish() + "\"}\n");
        const auto taken = take_in_exchange(two.boat, two.folder / "forged.exchange");
        REQUIRE(taken.has_value());
        CHECK(taken->damaged_pictures == 1);
        says(lines_of(*taken, false).at(2), "1 damaged picture was left out");
        std::ostringstream found;
        CHECK_FALSE(check_catalogue(two.boat.catalogue().file(), found, Format::csv));
        says(found.str(), "the same picture added anew brings it back, or put it away");
        const auto spoilt = photographs_of(two.boat, coil).at(0);
        CHECK_THROWS_AS((void)picture_of(two.boat, spoilt, 16), Error);
        REQUIRE(put_photograph_away(two.boat, coil, spoilt.id).has_value());
        REQUIRE(add_photograph(two.boat, coil, two.folder / "a.png").has_value());
        CHECK(picture_of(two.boat, photographs_of(two.boat, coil).at(0), 16).has_value());
        CHECK(check_catalogue(two.boat.catalogue().file(), found, Format::csv));
    }

    TEST_CASE("a damaged picture gives way to a whole one, whoever brings it") {
        const TemporaryFolder folder;
        const auto whole = folder / "whole.coilbook";
        const auto damaged = folder / "damaged.coilbook";
        const auto png = a_png(30, 40);
        put(folder / "a.png", png);
        std::string table;
        {
            auto workshop = Workshop::create(whole, laptop("shop laptop", 1, 0));
            REQUIRE(add_coil(workshop, "A7").has_value());
            REQUIRE(add_coil(workshop, "B8").has_value());
            const auto coil = coil_by_code(workshop, "A7").value();
            REQUIRE(add_photograph(workshop, coil, folder / "a.png").has_value());
            REQUIRE(write_exchange(workshop, folder / "whole.exchange", false).has_value());
            table = exported(workshop, kind("photographs"), Format::csv);
        }
        auto bytes = contents_of(whole);
        const auto end = bytes.find(png.substr(png.size() - 30));
        REQUIRE(end != std::string::npos);
        bytes[end + 5] ^= 1;
        const std::map<std::string, std::function<void(Workshop&)>> ways{
            {"merge",
             [&](Workshop& workshop) {
                 const auto report = merge(workshop, whole);
                 REQUIRE(report.has_value());
                 CHECK(report->pictures_back == 1);
                 says(lines_of(*report, false).at(1), "1 picture is whole again");
             }},
            {"exchange",
             [&](Workshop& workshop) {
                 CHECK(take_in_exchange(workshop, folder / "whole.exchange")->pictures_back == 1);
                 CHECK(take_in_exchange(workshop, folder / "whole.exchange")->pictures_back == 0);
             }},
            {"import",
             [&](Workshop& workshop) {
                 CHECK(imported(workshop, kind("photographs"), table).counts->changed == 1);
                 CHECK(imported(workshop, kind("photographs"), table).counts->same == 1);
             }},
            {"another photograph",
             [&](Workshop& workshop) {
                 const auto other = coil_by_code(workshop, "B8").value();
                 REQUIRE(add_photograph(workshop, other, folder / "a.png").has_value());
             }},
        };
        for (const auto& [name, bring] : ways) {
            CAPTURE(name);
            put(damaged, bytes);
            auto surroundings = laptop("boat laptop", 2, 100);
            std::string warned;
            surroundings.warn = [&](const std::string& text) { warned += text; };
            auto workshop = Workshop::open(damaged, surroundings);
            const auto coil = coil_by_code(workshop, "A7").value();
            const auto shown = photographs_of(workshop, coil).at(0);
            CHECK_THROWS_AS((void)picture_of(workshop, shown, 16), Error);
            CHECK_FALSE(
                mentions(exported(workshop, kind("photographs"), Format::csv), db::base64_of(png)));
            says(warned, "1 picture is lost or damaged and left out");
            bring(workshop);
            CHECK(picture_of(workshop, shown, 16).has_value());
            std::ostringstream found;
            CHECK(check_catalogue(damaged, found, Format::csv));
        }
        put(damaged, bytes);
        std::ostringstream told;
        CHECK_FALSE(salvage(damaged, folder / "salvaged.coilbook", laptop("boat laptop", 3, 200),
                            told, Format::table)
                        .is_whole);
        says(told.str(), "Pictures that are damaged or lost: 1");
    }

    TEST_CASE("two coils of one code are never taken for one another") {
        Laptops two;
        REQUIRE(add_coil(two.shop, "K7").has_value());
        REQUIRE(add_coil(two.boat, "K7").has_value());
        two.meet();
        const auto unclear = coil_by_code(two.shop, "K7");
        REQUIRE_FALSE(unclear.has_value());
        says(unclear.error().sentence, "two things have the code");
        CHECK_FALSE(hand_over(two.shop, {Whereabouts::lost, "", "", "", {"K7"}}).has_value());
        std::ostringstream rows;
        CHECK(write_conflicts(two.shop, rows, Format::csv) == 1);
        says(rows.str(), "\"coil, unmeasured, made 2026-06-14 05:59 UTC on boat laptop\"");
        says(rows.str(), "\"coil, unmeasured, made 2026-06-14 06:00 UTC on shop laptop\"");
        const auto conflict = two.shop.catalogue().conflicts().list().front();
        const auto settled = settle(two.shop, conflict.id, 1);
        REQUIRE(settled.has_value());
        says(settled->back(), "needs a new label");
        CHECK(coil_by_code(two.shop, "K7").has_value());
        two.meet();
        CHECK(coil_by_code(two.boat, "K7")->id == coil_by_code(two.shop, "K7")->id);
        std::ostringstream none;
        CHECK(write_conflicts(two.boat, none, Format::csv) == 0);
    }

    TEST_CASE("what both laptops read or handed over is to be settled, and the catalogue sound") {
        Laptops two;
        REQUIRE(record_reading(two.shop, coil_by_code(two.shop, "A7").value(), ReadingField::tint,
                               "dark")
                    .has_value());
        REQUIRE(record_reading(two.boat, coil_by_code(two.boat, "A7").value(), ReadingField::tint,
                               "pale")
                    .has_value());
        REQUIRE(hand_over(two.shop, {Whereabouts::lost, "", "", "", {"A7"}}).has_value());
        REQUIRE(hand_over(two.boat, {Whereabouts::damaged, "", "", "", {"A7"}}).has_value());
        two.meet();
        for (auto* workshop : {&two.shop, &two.boat}) {
            std::ostringstream rows;
            CHECK(check_catalogue(workshop->catalogue().file(), rows, Format::csv));
            CHECK_FALSE(mentions(rows.str(), ",wrong,"));
            says(rows.str(),
                 "\nto be settled,fine,\"2 things are to be settled after a merge, see 'coilbook "
                 "conflicts list': coil A7, tint; coil A7, place\"\n");
        }
        const auto copy = back_up(two.shop, two.folder / "copy.coilbook");
        REQUIRE(copy.has_value());
        CHECK(copy->is_sound);
        for (const auto& conflict : two.shop.catalogue().conflicts().list()) {
            REQUIRE(settle(two.shop, conflict.id, 1).has_value());
        }
        std::ostringstream settled;
        CHECK(check_catalogue(two.shop.catalogue().file(), settled, Format::csv));
        CHECK_FALSE(mentions(settled.str(), "to be settled"));
    }

    TEST_CASE("readings that two laptops took apart are carried as they are, settled or not") {
        Laptops two;
        const auto take = [](Workshop& workshop, const char* words) {
            const auto coil = coil_by_code(workshop, "A7").value();
            REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, words).has_value());
        };
        take(two.shop, "22 gr");
        take(two.boat, "24 gr");
        two.meet();
        const auto carried = [&] {
            auto empty = workshop_in_memory();
            const auto tables = exported(two.shop, Format::csv);
            for (const auto& of : store::all_kinds()) {
                const auto done = imported(empty, of, tables.at(std::string(of.name)));
                CHECK(done.problems == std::vector<std::string>{});
            }
            CHECK(exported(empty, Format::csv) == tables);
            for (const auto& inspection : empty.catalogue().audit()) {
                CHECK(inspection.wrong == std::vector<std::string>{});
            }
            return empty.catalogue().conflicts().list().size();
        };
        CHECK(carried() == 1);
        // Both correct the one that stands, apart.
        REQUIRE(
            settle(two.shop, two.shop.catalogue().conflicts().list().front().id, 1).has_value());
        CHECK(carried() == 0);
        two.meet();
        take(two.shop, "22.1 gr");
        take(two.boat, "22.3 gr");
        two.meet();
        CHECK(carried() == 1);
        REQUIRE(
            settle(two.shop, two.shop.catalogue().conflicts().list().front().id, 2).has_value());
        CHECK(carried() == 0);
        // A table may not lead a reading to another coil's.
        REQUIRE(add_coil(two.shop, "B8").has_value());
        const auto first = two.shop.catalogue()
                               .readings()
                               .current_of(coil_by_code(two.shop, "A7").value().id)
                               .at(0)
                               .id.text();
        const auto refused =
            imported(two.shop, kind("readings"),
                     "id,coil_code,field,as_written,supersedes\n01K00000000000000000000000,B8,"
                     "sample_weight,20 gr," +
                         first + "\n");
        says(refused.problems.at(0), "no reading of that coil and field");
    }

    TEST_CASE("what is to be settled is a row for each choice") {
        Laptops two;
        REQUIRE(hand_over(two.shop, {Whereabouts::lost, "", "", "", {"A7"}}).has_value());
        REQUIRE(hand_over(two.boat, {Whereabouts::damaged, "", "", "", {"A7"}}).has_value());
        two.meet();
        std::ostringstream rows;
        CHECK(write_conflicts(two.shop, rows, Format::csv) == 1);
        says(rows.str(), "conflict,kind,thing,field,choice,value,stands,at,who,laptop,what\n");
        says(rows.str(), ",place,coil A7,place,1,damaged,no,");
        says(rows.str(), ",place,coil A7,place,2,lost,yes,");
        const auto id = two.shop.catalogue().conflicts().list().front().id;
        CHECK_FALSE(settle(two.shop, id, 3).has_value());
        CHECK_FALSE(settle(two.shop, "zz", 1).has_value());
        REQUIRE(settle(two.shop, id.substr(0, 4), 1).has_value());
        says(where_is(two.shop, "A7").value(), "damaged");
        CHECK(two.shop.catalogue().conflicts().list().empty());
    }
}

namespace {

constexpr int coils = 24;

// Two laptops for a week, with half of the boats each; what truly is where is known here alone.
class WeekApart {
  public:
    WeekApart() {
        for (int n = 0; n < coils; ++n) {
            REQUIRE(add_coil(two_.shop, code(n)).has_value());
            truth_.push_back("");
        }
        for (const auto* boat : {"Heron", "Otter", "Puddle", "Snipe"}) {
            REQUIRE(add_boat(two_.shop, boat, 3, "").has_value());
        }
        two_.meet();
    }

    void run() {
        for (int day = 0; day < 7; ++day) {
            one_day(two_.shop, {"Heron", "Otter"});
            one_day(two_.boat, {"Puddle", "Snipe"});
        }
        two_.meet();
        check_disputes();
        settle_all();
        two_.meet();
        check_truth(two_.shop);
        check_truth(two_.boat);
    }

  private:
    static std::string code(int n) { return "C" + std::to_string(100 + n); }
    int below(int n) { return std::uniform_int_distribution{0, n - 1}(lot_); }

    void hand(Workshop& laptop, int coil, Whereabouts to, const std::string& boat = {}) {
        const auto done = hand_over(laptop, {to, boat, "", "", {code(coil)}});
        REQUIRE_MESSAGE(done.has_value(), (done ? "" : done.error().sentence));
        touched_[&laptop].insert(coil);
    }
    bool can_go_out(Workshop& laptop, int coil) {
        Inventory inventory(laptop);
        const auto thing = inventory.thing_called(code(coil)).value();
        return inventory.custody().place_in_the_end(thing).where == Whereabouts::bin;
    }

    void one_day(Workshop& laptop, const std::vector<std::string>& boats) {
        std::map<int, std::string> out;
        for (const auto& boat : boats) {
            for (int i = 0; i < 3; ++i) {
                const int coil = below(coils);
                if (!can_go_out(laptop, coil)) continue;
                hand(laptop, coil, Whereabouts::boat, boat);
                out[coil] = boat;
                truth_[static_cast<std::size_t>(coil)] = boat;
            }
        }
        for (const auto& [coil, boat] : out) {
            auto& is_at = truth_[static_cast<std::size_t>(coil)];
            if (below(12) == 0) {
                hand(laptop, coil, Whereabouts::lost);
                is_at = "lost";
            } else if (below(6) != 0) {  // else it stays on the boat overnight
                hand(laptop, coil, Whereabouts::bin);
                is_at = "";
            }
        }
    }

    // Disputed is just what both handed over, on either laptop.
    void check_disputes() {
        std::set<std::string> both;
        for (const int coil : touched_[&two_.shop]) {
            if (touched_[&two_.boat].contains(coil)) both.insert("coil " + code(coil));
        }
        CHECK(both.size() > 2);
        for (auto* laptop : {&two_.shop, &two_.boat}) {
            std::set<std::string> disputed;
            Inventory inventory(*laptop);
            for (const auto& conflict : laptop->catalogue().conflicts().list()) {
                CHECK(conflict.kind == store::ConflictKind::place);
                const auto id = Id<Coil>::from_text(conflict.thing).value();
                disputed.insert("coil " + inventory.code_of(Thing(id)));
            }
            CHECK(disputed == both);
        }
        CHECK(two_.shop.catalogue().conflicts().list() == two_.boat.catalogue().conflicts().list());
        CHECK(two_.shop.catalogue().custody().record() == two_.boat.catalogue().custody().record());
    }

    // Somebody looks where each thing is: the choice that says so, or a handover of its own.
    void settle_all() {
        for (const auto& conflict : two_.shop.catalogue().conflicts().list()) {
            Inventory inventory(two_.shop);
            const auto id = Id<Coil>::from_text(conflict.thing).value();
            const auto place = truth_[static_cast<std::size_t>(
                std::stoi(inventory.code_of(Thing(id)).substr(1)) - 100)];
            int right = 0;
            for (std::size_t at = 0; at < conflict.choices.size(); ++at) {
                for (const auto& each : two_.shop.catalogue().custody().all_of(Thing(id))) {
                    const bool is_it = each.id.text() == conflict.choices[at].thing;
                    if (is_it && is_at(inventory, each.to, place)) right = static_cast<int>(at) + 1;
                }
            }
            REQUIRE(right > 0);
            REQUIRE(settle(two_.shop, conflict.id, right).has_value());
        }
        CHECK(two_.shop.catalogue().conflicts().list().empty());
    }
    static bool is_at(Inventory& inventory, const Place& place, const std::string& truth) {
        if (truth.empty()) return place.where == Whereabouts::bin;
        if (truth == "lost") return place.where == Whereabouts::lost;
        return place.where == Whereabouts::boat && inventory.boat_name(*place.boat) == truth;
    }

    void check_truth(Workshop& laptop) {
        Inventory inventory(laptop);
        for (int coil = 0; coil < coils; ++coil) {
            CAPTURE(code(coil));
            const auto thing = inventory.thing_called(code(coil)).value();
            CHECK(is_at(inventory, inventory.custody().place_in_the_end(thing),
                        truth_[static_cast<std::size_t>(coil)]));
        }
        std::ostringstream fine;
        CHECK(check_catalogue(laptop.catalogue().file(), fine, Format::csv));
    }

    Laptops two_;
    std::vector<std::string> truth_;  // the bin, a boat's name, or lost
    std::map<Workshop*, std::set<int>> touched_;
    std::mt19937 lot_{20260614};
};

}  // namespace

TEST_SUITE("A simulated season") {
    TEST_CASE("a week of two laptops apart comes together with real catalogues") {
        WeekApart().run();
    }
}
