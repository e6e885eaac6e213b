// Two laptops on the command line: merge, exchange and conflicts.
#include <doctest/doctest.h>

#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.h"
#include "support/temporary_folder.h"
#include "support/words.h"

using namespace coilbook;
namespace fs = std::filesystem;

namespace {

struct Outcome {
    int status;
    std::string out;
    std::string err;
};

// A shop's and a boat's catalogue with coil A7, and commands on either.
class Sheds {
  public:
    Sheds() {
        does("shop", {"init"});
        does("shop", {"coils", "add", "A7"});
        fs::copy_file(file("shop"), file("boat"));
    }
    Outcome run(const std::string& shed, std::vector<std::string> words) {
        words.insert(words.begin(), "coilbook");
        words.emplace_back("--catalog");
        words.push_back(file(shed));
        std::vector<const char*> arguments;
        for (const auto& word : words) arguments.push_back(word.c_str());
        std::ostringstream out;
        std::ostringstream err;
        const int status =
            cli::run(static_cast<int>(arguments.size()), arguments.data(), {out, err});
        return {status, out.str(), err.str()};
    }
    // One that must succeed; what it says.
    std::string does(const std::string& shed, const std::vector<std::string>& words) {
        const auto outcome = run(shed, words);
        CAPTURE(words.front());
        CAPTURE(outcome.err);
        CHECK(outcome.status == cli::done);
        return outcome.out + outcome.err;
    }
    [[nodiscard]] std::string file(const std::string& shed) const {
        return (folder_ / (shed + ".coilbook")).string();
    }

  private:
    TemporaryFolder folder_;
};

}  // namespace

TEST_SUITE("Two laptops on the command line") {
    TEST_CASE("each takes in what the other did, and both list the same then") {
        Sheds sheds;
        sheds.does("shop", {"coils", "add", "B1"});
        sheds.does("boat", {"coils", "add", "B2"});
        const auto dry = sheds.does("shop", {"merge", sheds.file("boat"), "--dry-run"});
        says(dry, "add coil B2");
        says(dry, "would take in 1 act not here before, 2 here already");
        CHECK(sheds.does("shop", {"coils", "list", "--format", "csv"}).find("B2") ==
              std::string::npos);
        says(sheds.does("shop", {"merge", sheds.file("boat")}), "what was here before is kept as");
        sheds.does("boat", {"merge", sheds.file("shop")});
        CHECK(sheds.does("shop", {"history", "--format", "csv"}) ==
              sheds.does("boat", {"history", "--format", "csv"}));
        CHECK(sheds.does("shop", {"coils", "list", "--format", "csv"}) ==
              sheds.does("boat", {"coils", "list", "--format", "csv"}));
        says(sheds.does("shop", {"check"}), "The catalogue is sound.");
        says(sheds.does("shop", {"merge", sheds.file("boat")}), "took in 0 acts");
    }

    TEST_CASE("what both changed is listed and settled, by way of exchange files") {
        Sheds sheds;
        sheds.does("shop", {"coils", "confirm", "A7", "T-11"});
        sheds.does("boat", {"coils", "confirm", "A7", "T-14"});
        sheds.does("boat", {"exchange", "write", sheds.file("x")});
        says(sheds.does("shop", {"exchange", "take-in", sheds.file("x")}),
             "1 thing was changed on both");
        const auto listed = sheds.does("shop", {"conflicts", "list", "--format", "csv"});
        says(listed, "conflict,kind,thing,field,choice,value,stands,at,who,laptop,what");
        says(listed, ",confirmation,coil A7,class,2,T-14,yes,");
        const auto id = listed.substr(listed.find('\n') + 1, 8);
        says(sheds.does("shop", {"conflicts", "settle", id, "1"}), "settled coil A7, class: T-11");
        says(sheds.does("shop", {"conflicts", "list"}), "there is nothing to settle");
        sheds.does("shop", {"exchange", "write", sheds.file("y")});
        sheds.does("boat", {"exchange", "take-in", sheds.file("y")});
        says(sheds.does("boat", {"coils", "show", "A7", "--format", "csv"}), "T-11");
        CHECK(sheds.run("boat", {"conflicts", "settle", id, "1"}).status == 1);
    }

    TEST_CASE("what is no copy of the catalogue is refused with a word, and nothing happens") {
        Sheds sheds;
        sheds.does("other", {"init"});
        const auto refused = sheds.run("shop", {"merge", sheds.file("other")});
        CHECK(refused.status == 1);
        says(refused.err, "--join");
        CHECK(sheds.run("shop", {"merge", sheds.file("none")}).status == 1);
        CHECK(sheds.run("shop", {"exchange", "take-in", sheds.file("boat")}).status == 1);
        CHECK(sheds.run("shop", {"exchange", "write", sheds.file("boat")}).status == 1);
        CHECK(sheds.run("shop", {"exchange"}).status == 2);
        CHECK(sheds.run("shop", {"conflicts", "settle", "x", "0"}).status == 2);
        // A wrong file is named, with what it is not and what takes it in.
        const auto wrong = [&](const std::vector<std::string>& words, const std::string& said) {
            CAPTURE(words.front());
            const auto outcome = sheds.run("shop", words);
            CHECK(outcome.status == 1);
            says(outcome.err, "'" + words.back() + "' " + said);
            CHECK_FALSE(mentions(outcome.err, "ing'"));  // of no file that was on its way
        };
        const auto readings = sheds.file("bin");
        write_bytes(readings, "code,notes\nA7,x\n");
        wrong({"merge", readings}, "is not a catalogue");
        wrong({"restore", readings}, "is not a catalogue");
        const auto carried = sheds.file("carried");
        sheds.does("boat", {"exchange", "write", carried});
        wrong({"merge", carried}, "is an exchange file, not a catalogue");
        wrong({"restore", carried}, "is an exchange file, not a backup");
        says(sheds.run("shop", {"merge", carried}).err, "'coilbook exchange take-in'");
        wrong({"exchange", "take-in", sheds.file("boat")}, "is a catalogue, not an exchange file");
        says(sheds.run("shop", {"exchange", "take-in", sheds.file("boat")}).err,
             "'coilbook merge'");
        says(sheds.run("shop", {"exchange", "take-in", readings}).err,
             readings + ":1: this is no exchange file of Coilbook");
        const auto newer = sheds.file("newer");
        auto bytes = bytes_of(sheds.file("boat"));
        bytes[63] = 99;  // user_version stands at byte 60, big end first (fileformat2.html, 1.3)
        write_bytes(newer, bytes);
        wrong({"merge", newer}, "was written by a newer version");
        wrong({"restore", newer}, "was written by a newer version");
        wrong({"exchange", "take-in", newer}, "was written by a newer version");
        bytes[68] = 'x';  // the mark of a program stands there
        write_bytes(newer, bytes);
        wrong({"merge", newer}, "belongs to another program");
        wrong({"restore", newer}, "belongs to another program");
        wrong({"exchange", "take-in", newer}, "belongs to another program");
        sheds.does("shop", {"merge", sheds.file("other"), "--join"});
        says(sheds.does("shop", {"check"}), "The catalogue is sound.");
    }
}
