#include "app/import_table.h"

#include <doctest/doctest.h>

#include <algorithm>

#include <filesystem>
#include <random>

#include "app/coil_care.h"
#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/day.h"
#include "app/export_table.h"
#include "app/outfit.h"
#include "app/rigs.h"
#include "app/take_in.h"
#include "app/undo.h"
#include "base/text.h"
#include "db/base64.h"
#include "store/care_repository.h"
#include "store/check_repository.h"
#include "store/class_repository.h"
#include "store/coil_repository.h"
#include "store/instrument_repository.h"
#include "store/picture_repository.h"
#include "store/reading_repository.h"
#include "store/setting_repository.h"
#include "support/a_photograph.h"
#include "support/table_files.h"
#include "support/temporary_folder.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// Draws a workshop with some of everything, odd texts and odd numbers among it.
class Draw {
  public:
    explicit Draw(unsigned seed) : random_(seed), workshop_(workshop_in_memory()) {
        put_instruments();
        for (int n = 0; n < 12; ++n) put_coil(n);
        put_outfit();
        for (int n = 0; n < 40; ++n) do_something();
        for (int n = 0; n < 40; ++n) do_something_outside();
    }
    Workshop& workshop() { return workshop_; }

  private:
    std::size_t below(std::size_t limit) { return random_() % limit; }

    std::string odd_text() {
        const std::vector<std::string> parts{"=1+1", "'",  "''=x", "\"",   ",", ";",  "\n", "\r\n",
                                             "é",    "日", "-3",   "+cmd", "@", "\t", " ",  "a"};
        std::string text;
        for (std::size_t n = below(5); n > 0; --n) text += parts[below(parts.size())];
        return text;
    }

    // One of five: so coils show the same one, and one of them again that was put away.
    std::filesystem::path a_picture() {
        const auto number = static_cast<int>(below(5));
        const auto file = folder_ / (std::to_string(number) + ".png");
        write_bytes(file, number < 3 ? a_png(3 + number, 4) : a_jpeg(9, 7 + number));
        return file;
    }

    void put_instruments() {
        workshop_.catalogue().act(workshop_.note("put instruments"), [&](store::Act& act) {
            Scale scale;
            scale.code = "S2";
            scale.resolution = 0.1 * grain;
            scale.offset = -1.0 / 3.0 * milligram;
            scale.offset_uncertainty = 1e-9 * gram;
            (void)workshop_.catalogue().instruments().put(
                act, workshop_.new_id<store::BenchInstrument>(), scale);
            Micrometer micrometer;
            micrometer.limit_of_error = 0.004 * millimetre;
            (void)workshop_.catalogue().instruments().put(
                act, workshop_.new_id<store::BenchInstrument>(), micrometer);
            (void)workshop_.catalogue().checks().add(
                act, {workshop_.new_id<store::InstrumentCheck>(), "scale", "S2",
                      workshop_.surroundings().now(), "100 gr,0.01 gr,100.2 gr\n=1,2,3\n"});
            workshop_.catalogue().checks().add(
                act, {workshop_.new_id<store::CoatingRecord>(),
                      "",
                      workshop_.surroundings().now(),
                      {-0.01 * millimetre, 0.001 * millimetre, 0.002 * millimetre, 5}});
            (void)workshop_.catalogue().settings().put(act, "water", odd_text() + "x");
            auto library = workshop_.catalogue().classes().library();
            library.front().basis = odd_text() + ".";
            library.erase(library.begin() + 2);  // retired
            workshop_.catalogue().classes().put_library(act, library);
        });
        workshop_.refresh();
    }

    void put_coil(int n) {
        (void)add_coil(workshop_, (n % 2 ? "-A" : "Ü-") + std::to_string(n), odd_text());
    }

    void put_outfit() {
        for (const char* name : {"Heron", "Ouzel", "Old Boat"}) {
            (void)add_boat(workshop_, name, 1 + static_cast<int>(below(5)), odd_text());
        }
        for (int n = 0; n < 4; ++n) {
            (void)add_rig(workshop_, {"R" + std::to_string(n), odd_text(), LineSize{8}, odd_text(),
                                      "", "a reel", odd_text(), odd_text()});
        }
        (void)add_client(workshop_, {"Ida Brandvik", LineSize{7}, "left", odd_text()});
        (void)add_client(workshop_, {"=Olav " + odd_text() + "x", {}, "", ""});
        (void)add_client(workshop_, {"Somebody else", {}, "", "forgotten"});
        REQUIRE(forget_client(workshop_, "Somebody else"));
        for (const char* day : {"2026-06-14", "2026-06-15"}) {
            REQUIRE(add_outing(workshop_, day_from(day).value(), "Heron", "Ida Brandvik"));
            REQUIRE(add_outing(workshop_, day_from(day).value(), "Ouzel", ""));
        }
    }

    // Hands things over, promises them, takes it back; much of it is refused, which is as well.
    void do_something_outside() {
        const auto coils = workshop_.catalogue().coils().list();
        const auto code = coils[below(coils.size())].coil.code;
        const auto rig = "R" + std::to_string(below(4));
        const std::string boat = below(2) ? "Heron" : "Ouzel";
        const auto day = day_from(below(2) ? "2026-06-14" : "2026-06-15").value();
        switch (below(10)) {
            case 8:
                (void)note_condition(workshop_, coil_by_code(workshop_, code).value(),
                                     below(2) ? Wear::worn_loop : Wear::other, below(3) > 0,
                                     odd_text());
                break;
            case 0:
                (void)hand_over(workshop_, {Whereabouts::boat, boat, "", odd_text(), {code}});
                break;
            case 1:
                (void)hand_over(workshop_, {Whereabouts::bin, "", "", "", {code, rig}});
                break;
            case 2:
                (void)hand_over(workshop_, {Whereabouts::lent, "", "Ida Brandvik", "", {code}});
                break;
            case 3:
                (void)hand_over(workshop_, {Whereabouts::lost, "", "", odd_text(), {code}});
                break;
            case 4:
                (void)string_rig(workshop_, rig_called(workshop_, rig).value(), {code},
                                 below(2) ? RigRole::tip : RigRole::wallet);
                break;
            case 5:
                (void)promise_class(workshop_, day, boat, "", "T-11", 2);
                break;
            case 6:
                (void)promise_things(workshop_, day, boat, "", {below(2) ? code : rig});
                break;
            case 7:
                if (below(3) == 0) (void)cancel_outings(workshop_, day, "Ouzel");
                (void)withdraw_promises(workshop_, day, boat, {code});
                break;
            default:
                (void)undo(workshop_);
        }
    }

    void do_something() {
        const auto coils = workshop_.catalogue().coils().list();
        auto coil = coils[below(coils.size())].coil;
        const std::vector<std::pair<ReadingField, const char*>> readings{
            {ReadingField::sample_weight, "22.4 gr +- 0.2 gr"},
            {ReadingField::sample_length, "1 ft 11 15/16 in"},
            {ReadingField::diameters, "0.83 0.84 0.83 mm"},
            {ReadingField::water_temperature, "50 F"},
            {ReadingField::sink_time, "12.5 s"},
            {ReadingField::tint, "dark"},
            {ReadingField::floats, "no"}};
        switch (below(10)) {
            case 8:
                (void)add_photograph(workshop_, coil, a_picture(), odd_text());
                break;
            case 9:
                if (const auto all = photographs_of(workshop_, coil); !all.empty()) {
                    (void)put_photograph_away(workshop_, coil, all.front().id);
                }
                break;
            case 0:
                (void)confirm_coil(workshop_, coil, workshop_.library()[below(20)].name,
                                   odd_text());
                break;
            case 1:
                (void)take_confirmation_back(workshop_, coil, odd_text());
                break;
            case 2:
                (void)withdraw_reading(workshop_, coil, readings[below(readings.size())].first);
                break;
            case 3:
                (void)undo(workshop_);
                break;
            case 4:
                coil.is_retired = below(3) == 0;
                coil.notes = odd_text();
                (void)workshop_.catalogue().act(
                    workshop_.note("change"), [&](store::Act& act) -> Result<void> {
                        return workshop_.catalogue().coils().change(act, coil);
                    });
                break;
            default: {
                const auto& [field, text] = readings[below(readings.size())];
                (void)record_reading(workshop_, coil, field, text, {},
                                     field == ReadingField::sample_weight ? "S2" : "");
            }
        }
    }

    std::mt19937 random_;
    TemporaryFolder folder_;
    Workshop workshop_;
};

}  // namespace

TEST_SUITE("Export and import") {
    TEST_CASE("whatever is exported and imported elsewhere is exported there byte by byte alike") {
        for (unsigned seed = 1; seed <= 12; ++seed) {
            CAPTURE(seed);
            Draw draw(seed);
            for (const auto format : {Format::csv, Format::json}) {
                const bool with_names = seed % 2 == 0;
                const auto files = exported(draw.workshop(), format, with_names);
                auto empty = workshop_in_memory();
                for (const auto& each : store::all_kinds()) {
                    const auto& file = files.at(std::string(each.name));
                    const auto done = imported(empty, each, file);
                    for (const auto& problem : done.problems) MESSAGE(problem);
                    REQUIRE(done.counts.has_value());
                    CHECK(done.counts->refused == 0);
                }
                CHECK(exported(empty, format, with_names) == files);
                CHECK(mentions(files.at("clients"), "Ida Brandvik") == with_names);
                const auto audited = empty.catalogue().audit();
                const auto at_home = draw.workshop().catalogue().audit();
                for (std::size_t i = 0; i < audited.size(); ++i) {
                    for (const auto& sentence : audited[i].wrong) MESSAGE(sentence);
                    CHECK(audited[i].wrong == at_home[i].wrong);
                }
                // Again: nothing changes, and the history knows of nothing.
                const auto acts = history(empty).size();
                for (const auto& each : store::all_kinds()) {
                    const auto again = imported(empty, each, files.at(std::string(each.name)));
                    CHECK(again.counts->added + again.counts->changed == 0);
                }
                CHECK(history(empty).size() == acts);
            }
        }
    }

    TEST_CASE("an import is undone in one step, and the file can come in again after that") {
        Draw draw(3);
        const auto file = exported(draw.workshop(), kind("coils"), Format::csv);
        auto empty = workshop_in_memory();
        const auto before = exported(empty, Format::csv);
        REQUIRE(imported(empty, kind("coils"), file).counts->added > 0);
        REQUIRE(undo(empty).has_value());
        CHECK(exported(empty, Format::csv) == before);
        CHECK(imported(empty, kind("coils"), file).counts->added > 0);
        CHECK(exported(empty, kind("coils"), Format::csv) == file);
    }

    TEST_CASE("a table made by hand: new coils by code, notes changed, other columns left alone") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7", "old").value();
        const auto dry = imported(workshop, kind("coils"), "code,notes\nA7,new\nB8,=1\nA7,new\n",
                                  {.is_dry_run = true, .format = Format::csv});
        CHECK(dry.out ==
              "line,change,thing,detail\n2,change,A7,notes: 'old' -> 'new'\n3,add,B8,\n"
              "4,same,A7,\n");
        CHECK(*dry.counts == ImportCounts{.added = 1, .changed = 1, .same = 1, .refused = 0});
        CHECK(workshop.catalogue().coils().count() == 1);
        CHECK(history(workshop).size() == 2);
        REQUIRE(
            imported(workshop, kind("coils"), "code,notes\nA7,new\nB8,=1\n").counts.has_value());
        const auto kept = coil_by_code(workshop, "A7").value();
        CHECK(kept.id == coil.id);
        CHECK(kept.made_at == coil.made_at);
        CHECK(kept.notes == "new");
        CHECK(coil_by_code(workshop, "B8").value().notes == "=1");
    }

    TEST_CASE("tables made by hand without ids change nothing when they come in again") {
        auto workshop = workshop_in_memory();
        for (const auto* code : {"A7", "A8", "B1"}) (void)add_coil(workshop, code).value();
        REQUIRE(imported(workshop, kind("boats"), "name\nHeron\n").counts->added == 1);
        struct Case {
            const char* kind;
            const char* file;
            ImportCounts first;
        };
        const Case cases[]{
            {"outings",
             "day,boat\n2026-12-02,Heron\n2026-12-02,Heron\n2026-12-03,Heron\n",
             {.added = 3}},
            // A8 stands and is retired; the other two are of before and left their code to others.
            {"coils",
             "code,notes,retired_at\nA8,worn,2026-01-05T00:00:00Z\n"
             "B1,of last year,2025-01-05T00:00:00Z\nOLD,,2025-01-06T00:00:00Z\n"
             "OLD,,2025-01-06T00:00:00Z\n",
             {.added = 2, .changed = 2}},
            {"conditions",
             "coil_code,what,found,at,by_whom,note\nA7,worn loop,yes,2026-01-05T00:00:00Z,Ida,\n"
             "A7,worn loop,no,2026-01-06T00:00:00Z,Ida,whipped anew\n",
             {.added = 2}},
            // Without a moment, which the import fills in.
            {"conditions",
             "coil_code,what,found\nA7,kink,yes\nA7,kink,yes\nA7,hinge,yes\n",
             {.added = 3}},
            {"handovers", "coil_code,place\nA7,lost\nA7,bin\n", {.added = 2}},
        };
        for (const auto& each : cases) {
            CAPTURE(std::string(each.kind));
            CHECK(*imported(workshop, kind(each.kind), each.file).counts == each.first);
            const auto before = exported(workshop, Format::csv);
            const auto again = imported(workshop, kind(each.kind), each.file);
            CHECK(again.counts->same == each.first.added + each.first.changed);
            CHECK(again.counts->added + again.counts->changed + again.counts->refused == 0);
            CHECK(exported(workshop, Format::csv) == before);
        }
        const auto outing = exported(workshop, kind("outings"), Format::csv);
        const auto id = outing.substr(outing.find('\n') + 1, 26);
        const auto promises = "outing_id,coil_code,count\n" + id + ",A7,1\n";
        CHECK(imported(workshop, kind("promises"), promises).counts->added == 1);
        CHECK(imported(workshop, kind("promises"), promises).counts->same == 1);
        says(
            imported(workshop, kind("conditions"),
                     "coil_code,what,found,at,by_whom,note\nA7,frayed,yes,2026-01-05T00:00:00Z,,\n")
                .problems.at(0),
            "one of cracked coating");
    }

    TEST_CASE("a code beside the id of another coil is a slip, unless it was that coil's once") {
        auto workshop = workshop_in_memory();
        const auto first = add_coil(workshop, "A7").value();
        (void)add_coil(workshop, "B8").value();
        const auto row = [&](const std::string& code) {
            return "coil_id,coil_code,field,as_written\n" + first.id.text() + "," + code +
                   ",tint,dark\n";
        };
        const auto slip = imported(workshop, kind("readings"), row("B8"));
        CHECK(slip.counts->refused == 1);
        says(slip.problems.at(0), "file:2: coil_code: 'B8' is another coil than coil_id says");
        CHECK(imported(workshop, kind("readings"), row("A7")).counts->added == 1);
        // What the table said of the coil stays true when its code has gone to another one.
        const auto table = exported(workshop, kind("readings"), Format::csv);
        auto retired = first;
        retired.is_retired = true;
        REQUIRE(workshop.catalogue()
                    .act(workshop.note("retire"),
                         [&](store::Act& act) -> Result<void> {
                             return workshop.catalogue().coils().change(act, retired);
                         })
                    .has_value());
        (void)add_coil(workshop, "A7").value();
        CHECK(imported(workshop, kind("readings"), table).counts->same == 1);
    }

    TEST_CASE("readings made by hand name the coil by its code, and twice is once") {
        auto workshop = workshop_in_memory();
        (void)add_coil(workshop, "A7").value();
        const std::string file =
            "coil_code,field,as_written\nA7,sample_weight,22.4 gr\nA7,diameters,0.84 mm\n"
            "A7,diameters,0.84 mm\n";
        CHECK(imported(workshop, kind("readings"), file).counts->added == 3);
        CHECK(imported(workshop, kind("readings"), file).counts->same == 3);
        const auto coil = coil_by_code(workshop, "A7").value();
        const auto readings = workshop.catalogue().readings().readings_of(coil.id);
        CHECK(readings.diameters.size() == 2);
        CHECK(readings.sample_weight->value == parse_mass("22.4 gr")->value);
    }

    TEST_CASE("a photograph of many pieces goes out and comes in whole, in either format") {
        const TemporaryFolder folder;
        auto shop = workshop_in_memory();
        const auto coil = add_coil(shop, "A7").value();
        const auto bytes = a_jpeg(40, 30, 6) + std::string(1'200'000, 'x');
        write_bytes(folder / "loop.jpg", bytes);
        const auto taken = add_photograph(shop, coil, folder / "loop.jpg", "the loop").value();
        CHECK(taken.width == 30);  // upright
        for (const auto format : {Format::csv, Format::json}) {
            auto boat = workshop_in_memory();
            const auto other = add_coil(boat, "A7").value();
            // Another catalogue's coil of that code: named by it, without the ids.
            const auto all = exported(shop, kind("photographs"), Format::csv);
            const auto by_code =
                "coil_code,note,picture\nA7,the loop," + db::base64_of(bytes) + "\n";
            CHECK(imported(boat, kind("photographs"), by_code).counts->added == 1);
            CHECK(imported(boat, kind("photographs"), by_code).counts->same == 1);
            const auto shown = photographs_of(boat, other);
            REQUIRE(shown.size() == 1);
            CHECK(shown[0].sha256 == taken.sha256);
            CHECK(shown[0].width == 30);
            CHECK(boat.catalogue().care().bytes_of(shown[0]) == bytes);

            auto empty = workshop_in_memory();
            for (const auto* of : {"coils", "photographs"}) {
                CHECK(imported(empty, kind(of), exported(shop, kind(of), format)).counts->refused ==
                      0);
            }
            CHECK(exported(empty, kind("photographs"), Format::csv) == all);
            CHECK(empty.catalogue().care().bytes_of(photographs_of(empty, coil).at(0)) == bytes);
        }
    }

    TEST_CASE("a photograph's row is held against its picture, and the picture must be there") {
        auto shop = workshop_in_memory();
        const auto coil = add_coil(shop, "A7").value();
        (void)add_coil(shop, "B8").value();
        const auto png = a_png(3, 4);
        const auto picture = db::base64_of(png);
        const auto digest = store::digest_of_picture(png);
        const auto why = [&](const std::string& file) {
            const auto refused = imported(shop, kind("photographs"), file);
            REQUIRE(refused.counts.has_value());
            REQUIRE(refused.counts->refused == 1);
            return refused.problems.at(0);
        };
        says(why("coil_code,picture\nA7,no base64!\n"), "picture: 'no base64!' is no base64");
        says(why("coil_code,picture\nA7," + db::base64_of("a letter") + "\n"), "file:2: picture: ");
        says(why("coil_code,sha256\nA7," + digest + "\n"), "neither here nor in this catalogue");
        says(why("coil_code,note\nA7,nothing\n"), "neither here nor in this catalogue");
        says(why("coil_code,width,picture\nA7,5," + picture + "\n"),
             "width: this is not what the picture has");
        says(why("coil_code,sha256,picture\nA7," + std::string(64, '0') + "," + picture + "\n"),
             "sha256: this is not what the picture has");
        // A picture that is there need not come again.
        CHECK(imported(shop, kind("photographs"), "coil_code,picture\nA7," + picture + "\n")
                  .counts->added == 1);
        CHECK(imported(shop, kind("photographs"), "coil_code,sha256\nB8," + digest + "\n")
                  .counts->added == 1);
        const auto id = photographs_of(shop, coil).at(0).id.text();
        says(why("coil_code,puts_away\nB8," + id + "\n"), "no photograph of that coil");
        says(why("coil_code,puts_away,picture\nA7," + id + "," + picture + "\n"),
             "has no picture itself");
        says(why("id,picture\n" + id + "," + db::base64_of(a_png(4, 4)) + "\n"),
             "a photograph is never changed");
        CHECK(imported(shop, kind("photographs"), "coil_code,puts_away\nA7," + id + "\n")
                  .counts->added == 1);
        CHECK(photographs_of(shop, coil).empty());
    }

    TEST_CASE("base64 may be broken into lines; anything else around it, or missing, is refused") {
        auto shop = workshop_in_memory();
        const auto coil = add_coil(shop, "A7").value();
        // With some bytes after the picture's end: several lines, and padding in the last.
        const auto png = a_png(3, 4);
        const auto bytes = png + std::string(301 - png.size() % 3, 'x');
        const auto whole = db::base64_of(bytes);
        REQUIRE(whole.ends_with("="));
        std::string lines;
        for (std::size_t at = 0; at < whole.size(); at += 76) {
            lines += "\t" + whole.substr(at, 76) + " \r\n";
        }
        const auto given = [&](const std::string& cell) {
            return imported(shop, kind("photographs"), "coil_code,picture\nA7,\"" + cell + "\"\n");
        };
        const std::string none = " is no base64 (RFC 4648, with its padding); expected the bytes";
        const auto unpadded = given(whole.substr(0, whole.find('=')));
        REQUIRE(unpadded.counts->refused == 1);
        says(unpadded.problems.at(0), none);
        const auto data_text = given("data:image/png;base64," + whole);
        REQUIRE(data_text.counts->refused == 1);
        says(data_text.problems.at(0), "picture: 'data:image/png;base64,");
        says(data_text.problems.at(0), none);
        says(data_text.problems.at(0), "with nothing before them");
        CHECK(given(lines).counts->added == 1);
        CHECK(shop.catalogue().care().bytes_of(photographs_of(shop, coil).at(0)) == bytes);
    }

    TEST_CASE("of an id in small letters it is said that they have to be capitals") {
        auto shop = workshop_in_memory();
        const auto id = lower_ascii(add_coil(shop, "A7").value().id.text());
        const auto refused = imported(shop, kind("coils"), "id,code\n" + id + ",A7\n");
        REQUIRE(refused.counts->refused == 1);
        says(refused.problems.at(0),
             "id: '" + id + "' is not an id; expected 26 capital letters and digits");
    }

    TEST_CASE("one bad row refuses all; to keep going puts it aside with the reason") {
        const TemporaryFolder folder;
        auto workshop = workshop_in_memory();
        (void)add_coil(workshop, "A7").value();
        const std::string file =
            "coil_code,field,as_written\nA7,sample_weight,22.4 gr\nA7,sample_length,-3 in\n"
            "Z9,tint,dark\n";
        const auto all_or_none = imported(workshop, kind("readings"), file);
        CHECK(all_or_none.counts->refused == 2);
        REQUIRE(all_or_none.problems.size() == 2);
        CHECK(all_or_none.problems[0].starts_with("file:3: as_written: '-3 in' is negative"));
        CHECK(all_or_none.problems[1].starts_with("file:4: coil_code: there is no coil 'Z9'"));
        CHECK(history(workshop).size() == 2);

        const auto aside = folder / "refused.csv";
        const auto done = imported(workshop, kind("readings"), file, {.refused_into = aside});
        CHECK(*done.counts == ImportCounts{.added = 1, .changed = 0, .same = 0, .refused = 2});
        const auto text = bytes_of(aside);
        CHECK(text.starts_with("coil_code,field,as_written,refused_because\nA7,sample_length,"));
        CHECK(mentions(text, "as_written: '-3 in' is negative"));
        CHECK(std::filesystem::status(aside).permissions() ==
              (std::filesystem::perms::owner_read | std::filesystem::perms::owner_write));
        // Mended, the file with its reasons comes in as it is.
        auto mended = text;
        mended.replace(mended.find("-3 in"), 5, "24 in");
        mended.resize(mended.find("Z9"));
        CHECK(imported(workshop, kind("readings"), mended).counts->added == 1);
        CHECK_FALSE(
            imported(workshop, kind("readings"), file, {.refused_into = aside}).counts.has_value());
    }

    TEST_CASE("to keep going loses no row: one that cannot be put aside refuses all") {
        const TemporaryFolder folder;
        auto workshop = workshop_in_memory();
        const auto aside = folder / "refused.csv";
        for (const std::string& file :
             {std::string("code,notes\nN1,a\nN 2,b\nN3,\"open\nN4,x\nN5,y\n"),
              std::string("code,notes\nN1,a\nN 2,b\nN3,b,c\nN4,x\n"),
              std::string("code,notes\nN1,a\nN 2,b\nN3,\xFF\xFE\nN4,x\n"),
              std::string(R"([{"code":"N1"},{"code":"N 2"},{"code":"N3","code":"N4"}])")}) {
            CAPTURE(file);
            const auto done = imported(workshop, kind("coils"), file, {.refused_into = aside});
            if (done.counts) {  // its cells could be made out
                CHECK(done.counts->refused == 2);
                CHECK(std::filesystem::exists(aside));
                std::filesystem::remove(aside);
                REQUIRE(undo(workshop).has_value());
                continue;
            }
            says(to_line(done.counts.error()), "put aside; nothing was imported");
            CHECK_FALSE(std::filesystem::exists(aside));
            CHECK(workshop.catalogue().coils().count() == 0);
        }
    }

    TEST_CASE("what only grows is not changed by a file, and rules speak words") {
        Draw draw(5);
        auto& workshop = draw.workshop();
        auto file = exported(workshop, kind("readings"), Format::csv);
        const auto at = file.find("50 F");
        REQUIRE(at != std::string::npos);
        file.replace(at, 4, "51 F");
        const auto done = imported(workshop, kind("readings"), file);
        CHECK(done.counts->refused == 1);
        says(done.problems.front(), "a reading is never changed");

        (void)add_coil(workshop, "K1").value();
        struct Case {
            const char* kind;
            const char* file;
            const char* says;
        };
        const Case cases[]{
            {"coils", "code\nA 7\n", "cannot be a code"},
            {"coils", "code,colour\nA7,red\n", "colour: the column is unknown"},
            {"coils", "[{\"code\":\"A7\",\"colour\":1}]", "colour: the column is unknown"},
            {"coils", "code,made_at\nA7,yesterday\n", "'yesterday' is no moment"},
            {"settings", "name,value\nsalvaged,x\n", "tells what happened to one file"},
            {"classes", "class,weight\nT-11,heavy\n", "'heavy' is no number"},
            {"classes", "class,weight\nT-11,-1\n", "weight: this is out of its range"},
            {"classes", "class,family\nT-11,unlisted\n", "exactly one class that is unlisted"},
            {"instruments",
             "kind,code,resolution_si,limit_of_error_si,repeatability_si,offset_si,offset_"
             "uncertainty_si\n"
             "ruler,R1,0,0,0,0,0\n",
             "is not a kind of instrument"},
            {"instruments", "kind,code\nscale,R1\n", "resolution_si: this is empty"},
            {"confirmations", "coil_code,class\nK1,T-1000\n", "is not a class"},
            {"checks", "instrument_kind,instrument,as_written\nscale,none,x\n", "no scale 'none'"},
        };
        for (const auto& each : cases) {
            CAPTURE(std::string(each.file));
            const auto refused = imported(workshop, kind(each.kind), each.file);
            const auto said =
                refused.counts ? refused.problems.at(0) : to_line(refused.counts.error());
            CAPTURE(said);
            says(said, each.says);
        }
    }

    TEST_CASE("names stay at home unless they are asked for, and are not lost by coming back") {
        auto workshop = workshop_in_memory();
        const auto client = add_client(workshop, {"Ida Brandvik", LineSize{7}, "left", ""}).value();
        for (const auto& each : store::all_kinds()) {
            CHECK_FALSE(mentions(exported(workshop, each, Format::json, false), "Brandvik"));
        }
        const auto with_names = exported(workshop, kind("clients"), Format::csv, true);
        CHECK(mentions(with_names, ",Ida Brandvik,7,left,"));
        const auto without = exported(workshop, kind("clients"), Format::csv, false);
        CHECK(imported(workshop, kind("clients"), without).counts->same == 1);
        auto empty_cells = with_names;
        empty_cells.replace(empty_cells.find(",Ida Brandvik,7,left,"), 21, ",,,,");
        CHECK(imported(workshop, kind("clients"), empty_cells).counts->same == 1);

        // Elsewhere the client is there without a name, and gets it later.
        auto other = workshop_in_memory();
        CHECK(imported(other, kind("clients"), without).counts->added == 1);
        CHECK_FALSE(client_called(other, client.code)->person.has_value());
        CHECK(imported(other, kind("clients"), with_names).counts->changed == 1);
        CHECK(client_called(other, "ida brandvik")->person == client.person);

        // Who was forgotten at home is forgotten there, and stays forgotten.
        REQUIRE(forget_client(workshop, client.code));
        const auto forgotten = exported(workshop, kind("clients"), Format::csv, true);
        CHECK(imported(other, kind("clients"), forgotten).counts->changed == 1);
        CHECK_FALSE(client_called(other, client.code)->person.has_value());
        (void)imported(other, kind("clients"), with_names);
        CHECK_FALSE(client_called(other, client.code)->person.has_value());
    }

    TEST_CASE("outings and handovers made by hand name boats, rigs and coils as people do") {
        auto workshop = workshop_in_memory();
        (void)add_coil(workshop, "A7").value();
        CHECK(imported(workshop, kind("boats"), "name,seats\nHeron,3\n").counts->added == 1);
        CHECK(imported(workshop, kind("rigs"), "code,line_size\nR1,8\n").counts->added == 1);
        CHECK(imported(workshop, kind("outings"), "day,boat\n2026-06-14,Heron\n").counts->added ==
              1);
        const std::string handovers =
            "coil_code,rig_code,place,boat,in_rig_code,role,at\n"
            "A7,,rig,,R1,tip,2026-06-14T07:00:00Z\n"
            ",R1,boat,Heron,,,2026-06-14T08:00:00Z\n";
        CHECK(imported(workshop, kind("handovers"), handovers).counts->added == 2);
        CHECK(imported(workshop, kind("handovers"), handovers).counts->same == 2);
        CHECK(mentions(where_is(workshop, "A7").value(), "Heron"));
        struct Case {
            const char* kind;
            const char* file;
            const char* says;
        };
        const Case cases[]{
            {"boats", "name,seats\nHeron2,0\n", "seats: this is out of its range"},
            {"boats", "name,seats\n,3\n", "a boat needs a name"},
            {"rigs", "code\nA7\n", "is the code of another thing"},
            {"outings", "day,boat\n14 June,Heron\n", "is no day"},
            {"outings", "day,boat\n2026-06-14,Hero\n", "there is no boat 'Hero'"},
            {"handovers", "coil_code,place\nA7,moon\n", "'moon' is no place"},
            {"handovers", "coil_code,place\nA7,boat\n", "with which boat is not said"},
            {"handovers", "place\nbin\n", "one thing is handed over at a time"},
            {"handovers", "rig_code,place,in_rig_code,role\nR1,rig,R1,tip\n", "no rig is in a rig"},
        };
        for (const auto& each : cases) {
            CAPTURE(std::string(each.file));
            const auto refused = imported(workshop, kind(each.kind), each.file);
            REQUIRE(refused.counts);
            CHECK(refused.counts->refused == 1);
            says(refused.problems.at(0), each.says);
        }
        // What an outing says is never changed, only whether it stands.
        auto file = exported(workshop, kind("outings"), Format::csv);
        file.replace(file.find("2026-06-14"), 10, "2026-06-15");
        says(imported(workshop, kind("outings"), file).problems.at(0), "never changed");
    }

    TEST_CASE("semicolons with decimal commas, as a spreadsheet saves them, are understood") {
        auto workshop = workshop_in_memory();
        const auto done = imported(workshop, kind("classes"), "class;weight\nT-11;2,5\n");
        REQUIRE(done.counts.has_value());
        CHECK(done.counts->changed == 1);
        const auto library = workshop.catalogue().classes().library();
        const auto found = std::ranges::find(library, "T-11", &ReferenceClass::name);
        CHECK(found->weight == 2.5);
    }
}
