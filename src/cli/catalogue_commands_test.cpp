#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.h"
#include "support/temporary_folder.h"
#include "support/words.h"

using namespace coilbook;

namespace {

struct Outcome {
    int status;
    std::string out;
    std::string err;
};

// Runs a command on the catalogue in `file`.
Outcome with_catalogue(const std::string& file, std::vector<const char*> arguments) {
    std::ostringstream out;
    std::ostringstream err;
    arguments.insert(arguments.begin(), "coilbook");
    arguments.push_back("--catalog");
    arguments.push_back(file.c_str());
    const int status = cli::run(static_cast<int>(arguments.size()), arguments.data(), {out, err});
    return {status, out.str(), err.str()};
}

}  // namespace

TEST_SUITE("Commands on a catalogue") {
    TEST_CASE("from an empty catalogue to a confirmed coil") {
        const TemporaryFolder folder;
        const auto file = (folder / "new.coilbook").string();
        CHECK(with_catalogue(file, {"init"}).status == cli::done);
        CHECK(with_catalogue(file, {"coils", "add", "A7", "--notes", "old box"}).status ==
              cli::done);
        CHECK(with_catalogue(file, {"readings", "add", "A7", "sample_length", "24 in"}).status ==
              cli::done);
        CHECK(with_catalogue(file, {"readings", "add", "A7", "sample_weight", "22 gr"}).status ==
              cli::done);
        CHECK(with_catalogue(file, {"readings", "add", "A7", "diameters", "0.83 0.84 mm"}).err ==
              "A7: diameters 0.83 0.84 mm\n");
        const auto before = with_catalogue(file, {"coils", "list", "--format", "csv"});
        CHECK(mentions(before.out, "\nA7,ready to confirm,,T-11,"));
        CHECK(with_catalogue(file, {"coils", "confirm", "A7", "T-11"}).status == cli::done);
        const auto after = with_catalogue(file, {"coils", "list", "--format", "csv"});
        CHECK(mentions(after.out, "\nA7,confirmed,T-11,T-11,"));
        const auto page = with_catalogue(file, {"coils", "show", "A7"});
        CHECK(page.out.starts_with("A7: confirmed as T-11\nold box\n"));
        CHECK(mentions(page.out, "0.84 mm"));
        // The confirmed coil counts behind its class.
        const auto classes = with_catalogue(file, {"classes", "--format", "json"});
        CHECK(mentions(classes.out, "\"confirmed\":1"));
        // And the program's own answer is held against it, as if nothing had been learned.
        const auto score = with_catalogue(file, {"score", "--confirmed", "--format", "csv"});
        CHECK(score.status == cli::done);
        CHECK(mentions(score.out, "\nclass,accuracy,1,0,1\n"));
        CHECK(mentions(score.out, "\nunlisted,listed_called_unlisted,0,0,1\n"));
    }

    TEST_CASE("the demonstration has a bin of coils") {
        const TemporaryFolder folder;
        const auto file = (folder / "demo.coilbook").string();
        const auto made = with_catalogue(file, {"init", "--demo"});
        CHECK(made.status == cli::done);
        CHECK(made.out.empty());
        CHECK(mentions(made.err, "took in the invented bin"));
        const auto list = with_catalogue(file, {"coils", "list"});
        CHECK(list.status == cli::done);
        CHECK(std::ranges::count(list.out, '\n') > 40);
    }

    TEST_CASE("what a catalogue cannot do is status 1 with the reason") {
        const TemporaryFolder folder;
        const auto file = (folder / "bin.coilbook").string();
        CHECK(with_catalogue(file, {"coils", "list"}).status == cli::could_not_be_done);
        CHECK_FALSE(std::filesystem::exists(file));
        REQUIRE(with_catalogue(file, {"init"}).status == cli::done);
        REQUIRE(with_catalogue(file, {"coils", "add", "A7"}).status == cli::done);
        const std::vector<std::vector<const char*>> impossible{
            {"init"},
            {"coils", "add", "A7"},
            {"coils", "add", "A 7"},
            {"coils", "show", "B2"},
            {"coils", "confirm", "B2", "T-11"},
            {"coils", "confirm", "A7", "T-1000"},
            {"readings", "add", "B2", "tint", "dark"},
            {"readings", "add", "A7", "tint", "blue"},
            {"readings", "add", "A7", "sample_weight", "22.4"},
            {"readings", "add", "A7", "sample_weight", "22.4 gr", "--instrument", "none"},
            {"identify", "/nowhere.csv"},
        };
        for (const auto& arguments : impossible) {
            std::string line;
            for (const char* argument : arguments) line += std::string(argument) + " ";
            CAPTURE(line);
            const auto outcome = with_catalogue(file, arguments);
            CHECK(outcome.status == cli::could_not_be_done);
            CHECK(outcome.out.empty());
            CHECK_FALSE(outcome.err.empty());
        }
        CHECK(with_catalogue(file, {"readings", "add", "A7", "colour", "x"}).status ==
              cli::wrong_usage);
        CHECK(with_catalogue(file, {"coils"}).status == cli::wrong_usage);
        CHECK(with_catalogue(file, {"coils", "show"}).status == cli::wrong_usage);
    }

    TEST_CASE("what was done is shown, taken back and done again") {
        const TemporaryFolder folder;
        const auto file = (folder / "undo.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "add", "A7"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "confirm", "A7", "T-11"}).status == 0);
        const auto undone = with_catalogue(file, {"undo", "--why", "wrong coil"});
        CHECK(undone.status == 0);
        CHECK(undone.out.empty());
        CHECK(undone.err == "undone: confirm coil A7 as T-11\n");
        CHECK_FALSE(mentions(with_catalogue(file, {"coils", "list"}).out, "confirmed"));
        const auto shown = with_catalogue(file, {"history", "--coil", "A7", "--format", "csv"});
        CHECK(shown.out.starts_with("id,at,who,program,what,why,changes,state,undoes,laptop\n"));
        CHECK(mentions(shown.out, ",undo: confirm coil A7 as T-11,wrong coil,"));
        CHECK(std::ranges::count(shown.out, '\n') == 4);
        const auto page = with_catalogue(file, {"history", "--limit", "2"});
        CHECK(mentions(page.out, "undone"));
        CHECK_FALSE(mentions(page.out, "add coil A7"));
        CHECK(with_catalogue(file, {"redo"}).err == "done again: confirm coil A7 as T-11\n");
        CHECK(mentions(with_catalogue(file, {"coils", "list"}).out, "confirmed"));
        const auto nothing = with_catalogue(file, {"redo"});
        CHECK(nothing.status == 1);
        CHECK(mentions(nothing.err, "nothing to do again"));
        // By its id: what the confirmation builds on is refused, and the id to begin with given.
        const auto line = shown.out.substr(shown.out.rfind('\n', shown.out.size() - 2) + 1);
        const auto id = line.substr(0, line.find(','));
        const auto refused = with_catalogue(file, {"undo", id.c_str()});
        CHECK(refused.status == 1);
        CHECK(mentions(refused.err, "'add coil A7' cannot be undone: 'confirm coil A7 as T-11'"));
        CHECK(with_catalogue(file, {"undo", "nothing"}).status == 1);
        CHECK(with_catalogue(file, {"history", "--limit", "0"}).status == cli::wrong_usage);
    }

    TEST_CASE("a catalogue is checked, backed up, restored and salvaged") {
        const TemporaryFolder folder;
        const auto file = (folder / "care.coilbook").string();
        const auto copy = (folder / "copy.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "add", "A7"}).status == 0);
        CHECK(mentions(with_catalogue(file, {"check"}).out, "The catalogue is sound."));
        const auto made = with_catalogue(file, {"backup", copy.c_str()});
        CHECK(made.status == 0);
        CHECK(mentions(made.err, "backed up to "));
        CHECK(with_catalogue(file, {"backup", copy.c_str()}).status == 1);
        CHECK(with_catalogue(file, {"backup"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "add", "A8"}).status == 0);
        const auto asked = with_catalogue(file, {"restore", copy.c_str()});
        CHECK(asked.status == 1);
        CHECK(
            mentions(asked.err, "now:  2 coils, 0 readings, 0 confirmed; last done: add coil A8"));
        CHECK(mentions(asked.err, "then: 1 coils"));
        CHECK(mentions(asked.err, "give --yes"));
        CHECK(mentions(with_catalogue(file, {"coils", "list"}).out, "A8"));
        const auto restored = with_catalogue(file, {"restore", copy.c_str(), "--yes"});
        CHECK(restored.status == 0);
        CHECK(mentions(restored.err, "kept as "));
        CHECK_FALSE(mentions(with_catalogue(file, {"coils", "list"}).out, "A8"));

        std::fstream bytes(file, std::ios::in | std::ios::out | std::ios::binary);
        bytes.seekp(8192);
        bytes << std::string(4096, '\xEE');
        bytes.close();
        const auto checked = with_catalogue(file, {"check", "--format", "csv"});
        CHECK(checked.status == 1);
        CHECK(mentions(checked.out, "opening,wrong,"));
        const auto rescued = (folder / "rescued.coilbook").string();
        const auto salvaged = with_catalogue(file, {"salvage", rescued.c_str()});
        CHECK(salvaged.status == 0);
        CHECK(mentions(salvaged.out, "reference_class"));
        CHECK(with_catalogue(rescued, {"check"}).status == 0);
        CHECK(with_catalogue(file, {"salvage", rescued.c_str()}).status == 1);
    }

    TEST_CASE("how the person knows is shown in the history and beside the coil") {
        const TemporaryFolder folder;
        const auto file = (folder / "why.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "add", "A7", "--notes", "old box"}).status == 0);
        REQUIRE(with_catalogue(file, {"readings", "add", "A7", "tint", "dark"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "confirm", "A7", "T-11", "--note", "the spool"})
                    .status == 0);
        CHECK(mentions(with_catalogue(file, {"history", "--format", "csv"}).out,
                       ",confirm coil A7 as T-11,the spool,"));
        CHECK(mentions(with_catalogue(file, {"coils", "show", "A7"}).out, ": T-11 (the spool)\n"));
        const auto row = with_catalogue(file, {"coils", "show", "A7", "--format", "csv"}).out;
        CHECK(
            mentions(row, ",flags,state,confirmed_class,notes,doubt,readings,confirmation_note\n"));
        CHECK(mentions(row, ",confirmed,T-11,old box,,tint: dark,the spool\n"));
        CHECK(mentions(with_catalogue(file, {"coils", "show", "A7", "--format", "json"}).out,
                       "\"class\":\"T-11\",\"note\":\"the spool\""));
        REQUIRE(with_catalogue(file, {"coils", "take-back", "A7", "--note", "wrong coil"}).status ==
                0);
        CHECK(mentions(with_catalogue(file, {"history"}).out, "wrong coil"));
        CHECK(mentions(with_catalogue(file, {"coils", "show", "A7"}).out,
                       ": took that back (wrong coil)\n"));
    }

    TEST_CASE("the catalogue may be named before the command") {
        const TemporaryFolder folder;
        const auto file = (folder / "first.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        for (const auto& arguments : std::vector<std::vector<std::string>>{
                 {"coilbook", "--catalog", file, "coils", "list"},
                 {"coilbook", "--catalog=" + file, "coils", "add", "A7"}}) {
            std::vector<const char*> texts;
            for (const auto& argument : arguments) texts.push_back(argument.c_str());
            std::ostringstream out;
            std::ostringstream err;
            CHECK(cli::run(static_cast<int>(texts.size()), texts.data(), {out, err}) == cli::done);
        }
        CHECK(mentions(with_catalogue(file, {"coils", "list"}).out, "A7"));
    }

    TEST_CASE("a file taken in twice says so, and what could be meant") {
        const TemporaryFolder folder;
        const auto file = (folder / "twice.coilbook").string();
        const auto bin = (folder / "bin.csv").string();
        write_bytes(bin, "code,tint\nA7,dark\nA8,pale\n");
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        REQUIRE(with_catalogue(file, {"readings", "take-in", bin.c_str()}).status == 0);
        const auto again = with_catalogue(file, {"readings", "take-in", bin.c_str()});
        CHECK(again.status == 1);
        CHECK(mentions(again.err, "every coil of this file is in the catalogue already"));
        write_bytes(bin, "code,tint\nA7,dark\nA9,pale\n");
        CHECK(mentions(with_catalogue(file, {"readings", "take-in", bin.c_str()}).err,
                       "1 of its coils is in the catalogue already"));
    }

    TEST_CASE("a catalogue is not restored onto itself") {
        const TemporaryFolder folder;
        const auto file = (folder / "self.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        const auto refused = with_catalogue(file, {"restore", file.c_str(), "--yes"});
        CHECK(refused.status == 1);
        CHECK(mentions(refused.err, "is the catalogue itself"));
    }

    TEST_CASE("coils go out as a table, are edited and come in again") {
        const TemporaryFolder folder;
        const auto file = (folder / "out.coilbook").string();
        const auto table = (folder / "coils.csv").string();
        const auto json = (folder / "coils.json").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "add", "A7", "--notes", "=old"}).status == 0);
        CHECK(with_catalogue(file, {"export", "coils", table.c_str()}).status == 0);
        CHECK(with_catalogue(file, {"export", "coils", table.c_str()}).status == 1);  // not over it
        CHECK(with_catalogue(file, {"export", "coils", json.c_str()}).status == 0);
        CHECK(bytes_of(json).starts_with("[\n{\"id\":"));
        auto text = bytes_of(table);
        CHECK(mentions(text, ",A7,'=old,"));
        CHECK(with_catalogue(file, {"import", "coils", table.c_str()}).err ==
              "done: 0 added, 0 changed, 1 the same, 0 refused\n");
        CHECK(with_catalogue(file, {"import", "coils", json.c_str()}).err ==
              "done: 0 added, 0 changed, 1 the same, 0 refused\n");
        text.replace(text.find("'=old"), 5, "new");
        write_bytes(table, text);
        const auto dry = with_catalogue(file, {"import", "coils", table.c_str(), "--dry-run"});
        CHECK(dry.status == 0);
        CHECK(mentions(dry.out, "notes: '=old' -> 'new'"));
        CHECK(mentions(with_catalogue(file, {"coils", "list"}).out, "=old"));
        CHECK(with_catalogue(file, {"import", "coils", table.c_str()}).status == 0);
        CHECK(mentions(with_catalogue(file, {"coils", "list"}).out, "new"));
        CHECK(with_catalogue(file, {"export", "ropes"}).status == cli::wrong_usage);
        CHECK(with_catalogue(file, {"export", "coils", "--format", "table"}).status ==
              cli::wrong_usage);
        CHECK(with_catalogue(file, {"import", "coils", "nowhere.csv"}).status == 1);
        CHECK(with_catalogue(file, {"import", "coils", folder.path().c_str()}).status == 1);
    }

    TEST_CASE("a weight in the other of grains and grams is told when it is noted") {
        const TemporaryFolder folder;
        const auto file = (folder.path() / "a.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == cli::done);
        REQUIRE(with_catalogue(file, {"coils", "add", "A7"}).status == cli::done);
        REQUIRE(with_catalogue(file, {"readings", "add", "A7", "sample_length", "24 in"}).status ==
                cli::done);
        const auto noted =
            with_catalogue(file, {"readings", "add", "A7", "sample_weight", "22.4 g"});
        CHECK(noted.status == cli::done);
        CHECK(noted.err.find("would make sense in grains") != std::string::npos);
        const auto right =
            with_catalogue(file, {"readings", "add", "A7", "sample_weight", "22.4 gr"});
        CHECK(right.err == "A7: sample_weight 22.4 gr\n");
    }

    TEST_CASE("before there is a catalogue, the command that makes one is named") {
        const TemporaryFolder folder;
        const auto file = (folder.path() / "none.coilbook").string();
        CHECK(with_catalogue(file, {"coils", "list"}).err.find("coilbook init") !=
              std::string::npos);
        // Whether its folder is there or not.
        const auto deep = (folder.path() / "data" / "none.coilbook").string();
        const auto copy = (folder.path() / "copy.coilbook").string();
        for (const auto& name : {file, deep}) {
            for (const auto& arguments : std::vector<std::vector<const char*>>{
                     {"check"}, {"backup"}, {"salvage", copy.c_str()}}) {
                CAPTURE(arguments.front());
                const auto outcome = with_catalogue(name, arguments);
                CHECK(outcome.status == cli::could_not_be_done);
                CHECK(mentions(outcome.err, "there is no catalogue " + name));
            }
        }
        CHECK(folder.count() == 0);
        REQUIRE(with_catalogue(file, {"init"}).status == cli::done);
        CHECK(with_catalogue(file, {"undo", ""}).status == cli::wrong_usage);
        // A new laptop begins with a backup.
        CHECK(with_catalogue(file, {"backup", copy.c_str()}).status == cli::done);
        CHECK(with_catalogue(deep, {"restore", copy.c_str()}).status == cli::could_not_be_done);
        CHECK_FALSE(std::filesystem::exists(folder.path() / "data"));
        const auto restored = with_catalogue(deep, {"restore", copy.c_str(), "--yes"});
        CHECK(restored.status == cli::done);
        CHECK(std::filesystem::status(folder.path() / "data").permissions() ==
              std::filesystem::perms::owner_all);
        CHECK(mentions(with_catalogue(deep, {"check"}).out, "The catalogue is sound."));
    }

    TEST_CASE("every command on a catalogue has help with an example") {
        const std::vector<std::vector<const char*>> commands{
            {"init"},
            {"coils"},
            {"coils", "list"},
            {"coils", "show"},
            {"coils", "add"},
            {"readings"},
            {"coils", "confirm"},
            {"readings", "add"},
            {"history"},
            {"undo"},
            {"redo"},
            {"check"},
            {"backup"},
            {"restore"},
            {"salvage"},
            {"export"},
            {"import"},
        };
        for (auto arguments : commands) {
            arguments.push_back("--help");
            CAPTURE(arguments.front());
            const auto outcome = with_catalogue("unused.coilbook", arguments);
            CHECK(outcome.status == cli::done);
            CHECK(mentions(outcome.out, "Example"));
        }
    }

    TEST_CASE("a whole readings file is taken in, or nothing of it") {
        const TemporaryFolder folder;
        const auto file = (folder / "in.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        const auto good = (folder / "good.csv").string();
        std::ofstream(good) << "code,sample_length,sample_weight,diameters\n"
                               "A7,24 in,22.4 gr,0.84 0.85 mm\nA8,10 ft,80 gr,\n";
        const auto bad = (folder / "bad.csv").string();
        std::ofstream(bad) << "code,sample_weight\nB1,22 gr\nA7,22 gr\nB2,-3 gr\n";
        CHECK(with_catalogue(file, {"readings", "take-in", good.c_str()}).status == 0);
        const auto refused = with_catalogue(file, {"readings", "take-in", bad.c_str()});
        CHECK(refused.status == 1);
        CHECK(mentions(refused.err, "bad.csv:3: code: 'A7' is the code of another coil"));
        CHECK(mentions(refused.err, "bad.csv:4: sample_weight: '-3 gr' is negative"));
        const auto listed = with_catalogue(file, {"coils", "list", "--format", "csv"});
        CHECK(mentions(listed.out, "\nA7,ready to confirm,"));
        CHECK(mentions(listed.out, "\nA8,"));
        CHECK_FALSE(mentions(listed.out, "B1"));
        const auto missing = with_catalogue(file, {"readings", "take-in", "no-such.csv"});
        CHECK(missing.status == 1);
        CHECK(mentions(missing.err, "no such file"));
    }

    TEST_CASE("columns that went into the notes are told, and one coil is one coil") {
        const TemporaryFolder folder;
        const auto file = (folder / "in.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        const auto bin = (folder / "bin.csv").string();
        write_bytes(bin, "code,sample_lenght,sample_weight,box\nA7,24 in,22.4 gr,3\n");
        const auto taken = with_catalogue(file, {"readings", "take-in", bin.c_str()});
        CHECK(taken.status == cli::done);
        CHECK(taken.err ==
              "note: " + bin +
                  ":1: sample_lenght: the column is unknown; it is kept as notes; expected "
                  "perhaps 'sample_length'\n"
                  "note: " +
                  bin + ":1: box: the column is unknown; it is kept as notes\n" +
                  "took in 1 coil, 1 reading\n");
        CHECK(mentions(with_catalogue(file, {"coils", "show", "A7"}).out,
                       "sample_lenght: 24 in; box: 3"));
    }

    TEST_CASE("a reading is withdrawn and a word is taken back") {
        const TemporaryFolder folder;
        const auto file = (folder / "back.coilbook").string();
        REQUIRE(with_catalogue(file, {"init"}).status == 0);
        REQUIRE(with_catalogue(file, {"coils", "add", "A7"}).status == 0);
        REQUIRE(
            with_catalogue(file, {"readings", "add", "A7", "diameters", "0.84 0.95 mm"}).status ==
            0);
        CHECK(with_catalogue(file, {"readings", "withdraw", "A7", "diameters"}).status == 0);
        const auto shown = with_catalogue(file, {"coils", "show", "A7"});
        CHECK(mentions(shown.out, "0.84 mm"));
        CHECK_FALSE(mentions(shown.out, "0.95 mm"));
        const auto nothing = with_catalogue(file, {"readings", "withdraw", "A7", "tint"});
        CHECK(nothing.status == 1);
        CHECK(mentions(nothing.err, "tint: nothing was read there"));

        CHECK(with_catalogue(file, {"coils", "take-back", "A7"}).status == 1);
        REQUIRE(with_catalogue(file, {"coils", "confirm", "A7", "T-11"}).status == 0);
        CHECK(with_catalogue(file, {"coils", "take-back", "A7"}).status == 0);
        CHECK_FALSE(mentions(with_catalogue(file, {"coils", "list"}).out, "confirmed"));
        CHECK(mentions(with_catalogue(file, {"coils", "confirm", "A7", "T-99"}).err, "T-99"));
    }
}

TEST_SUITE("Commands about instruments and groups") {
    TEST_CASE("a scale is taken in, checked and listed") {
        const TemporaryFolder folder;
        const auto file = (folder / "new.coilbook").string();
        const auto shop = (folder / "shop.csv").string();
        const auto weights = (folder / "weights.csv").string();
        write_bytes(shop, "code,kind,resolution\nS2,scale,0.1 gr\n");
        write_bytes(weights,
                    "instrument,standard,standard_u,reading\nS2,100 gr,0.01 gr,100.3 gr\n"
                    "S2,100 gr,0.01 gr,100.3 gr\n");
        REQUIRE(with_catalogue(file, {"init"}).status == cli::done);
        CHECK(with_catalogue(file, {"instruments", "check", weights.c_str()}).status ==
              cli::could_not_be_done);
        CHECK(with_catalogue(file, {"instruments", "take-in", shop.c_str()}).status == cli::done);
        const auto checked =
            with_catalogue(file, {"instruments", "check", weights.c_str(), "--format", "csv"});
        CHECK(checked.status == cli::done);
        says(checked.out, "\nscale,S2,gr,1,2,0.");
        says(checked.out, ",stretch_percent_u\n");
        // Two readings: what is taken off and how little that says do not contradict each other.
        const auto in_words = with_catalogue(file, {"instruments", "check", weights.c_str()});
        CHECK(mentions(in_words.out, "read each standard three times or more"));
        CHECK_FALSE(mentions(in_words.out, "no offset can be told"));
        CHECK(mentions(with_catalogue(file, {"instruments", "check", "--help"}).out,
                       "kept in\nthe catalogue"));
        const auto listed = with_catalogue(file, {"instruments", "list", "--format", "csv"});
        CHECK(mentions(listed.out, "\nscale,S2,gr,0.1"));
        CHECK(mentions(listed.out, ",checked\n"));
        CHECK(with_catalogue(file, {"instruments", "check", "nowhere.csv"}).status ==
              cli::could_not_be_done);
        const auto coatings = with_catalogue(file, {"instruments", "coatings"});
        CHECK(coatings.status == cli::could_not_be_done);
        CHECK(mentions(coatings.err, "three such coils or more"));
    }

    TEST_CASE("coils that are one line are grouped, made a class and confirmed as it") {
        const TemporaryFolder folder;
        const auto file = (folder / "new.coilbook").string();
        const auto bin = (folder / "bin.csv").string();
        write_bytes(bin,
                    "code,sample_length,sample_weight,diameters\n"
                    "X1,24 in,60.0 gr,2.015 mm\nX2,24 in,60.4 gr,2.016 mm\n");
        REQUIRE(with_catalogue(file, {"init"}).status == cli::done);
        REQUIRE(with_catalogue(file, {"readings", "take-in", bin.c_str()}).status == cli::done);
        CHECK(mentions(with_catalogue(file, {"groups", bin.c_str()}).out,
                       "one line, not in your library: name it"));
        CHECK(with_catalogue(file, {"coils", "make-class", "green box", "X1", "X2"}).status ==
              cli::done);
        CHECK(mentions(with_catalogue(file, {"groups", bin.c_str()}).out, "green box, "));
        const auto twice = with_catalogue(file, {"coils", "make-class", "red box", "X1", "X1"});
        CHECK(twice.status == cli::could_not_be_done);
        CHECK(mentions(twice.err, "'X1' is named twice"));
        CHECK(with_catalogue(file, {"coils", "make-class", "red box", "X1", "--family", "rope"})
                  .status == cli::wrong_usage);
        CHECK(with_catalogue(file, {"coils", "confirm", "X1", "green box"}).status == cli::done);
        const auto doubtful = with_catalogue(file, {"coils", "doubtful", "--format", "csv"});
        CHECK(doubtful.out == "code,confirmed_class,chance,better_class\n");
    }

    TEST_CASE("a coil's condition is noted, told and good again") {
        const TemporaryFolder folder;
        const auto file = (folder / "new.coilbook").string();
        CHECK(with_catalogue(file, {"init"}).status == cli::done);
        CHECK(with_catalogue(file, {"coils", "add", "A7"}).status == cli::done);
        CHECK(with_catalogue(file, {"coils", "condition", "A7", "worn loop", "--note", "thick end"})
                  .status == cli::done);
        const auto noted = with_catalogue(file, {"coils", "condition", "A7", "--format", "csv"});
        CHECK(noted.out.starts_with("at,condition,state,by,note\n"));
        CHECK(mentions(noted.out, ",worn loop,found,"));
        CHECK(with_catalogue(file, {"coils", "condition", "A7", "worn loop", "--good-again"})
                  .status == cli::done);
        CHECK(with_catalogue(file, {"coils", "condition", "A7", "worn loop", "--good-again"})
                  .status == cli::could_not_be_done);
        CHECK(mentions(with_catalogue(file, {"coils", "condition", "A7", "chewed"}).err,
                       "cracked coating"));
        CHECK(mentions(with_catalogue(file, {"history", "--coil", "A7"}).out, "worn loop"));
        CHECK(with_catalogue(file, {"coils", "photograph", "A7", "--add", "/nowhere.png"}).status ==
              cli::could_not_be_done);
        CHECK(with_catalogue(file, {"coils", "photograph", "A7", "--format", "csv"}).out ==
              "id,at,by,format,width,height,size,note\n");
        CHECK(with_catalogue(file, {"coils", "sink-rates", "A7"}).status == cli::could_not_be_done);
    }

    TEST_CASE("classes are changed, added and joined, and undo takes each back") {
        const TemporaryFolder folder;
        const auto file = (folder / "new.coilbook").string();
        CHECK(with_catalogue(file, {"init"}).status == cli::done);
        CHECK(with_catalogue(file, {"classes", "change", "T-11", "--density", "4.3"}).status ==
              cli::done);
        CHECK(with_catalogue(file, {"classes", "add", "box", "--grains-per-foot", "12.5",
                                    "--density", "3.9", "--family", "level line"})
                  .status == cli::done);
        CHECK(mentions(with_catalogue(file, {"classes", "--format", "csv"}).out,
                       "\nbox,level line,"));
        CHECK(with_catalogue(file, {"classes", "join", "T-11", "box"}).status == cli::done);
        CHECK_FALSE(mentions(with_catalogue(file, {"classes", "--format", "csv"}).out, "\nbox,"));
        CHECK(with_catalogue(file, {"undo"}).status == cli::done);
        CHECK(mentions(with_catalogue(file, {"classes", "--format", "csv"}).out, "\nbox,"));
        CHECK(with_catalogue(file, {"classes", "split", "T-11"}).status == cli::could_not_be_done);
        const auto refused = with_catalogue(file, {"classes", "change", "T-11", "--density", "99"});
        CHECK(refused.status == cli::could_not_be_done);
        CHECK(mentions(refused.err, "up to 25 g/cm3"));
    }
}
