// Codes, labels, rigs, boats and custody on the command line.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.h"
#include "support/paper.h"
#include "support/temporary_folder.h"
#include "support/words.h"

using namespace coilbook;

namespace {

struct Outcome {
    int status;
    std::string out;
    std::string err;
};

// A catalogue of its own and commands on it.
class Shed {
  public:
    Shed() { (void)run({"init"}); }

    Outcome run(std::vector<std::string> words) {
        words.insert(words.begin(), "coilbook");
        words.emplace_back("--catalog");
        words.push_back((folder_ / "shed.coilbook").string());
        std::vector<const char*> arguments;
        for (const auto& word : words) arguments.push_back(word.c_str());
        std::ostringstream out;
        std::ostringstream err;
        const int status =
            cli::run(static_cast<int>(arguments.size()), arguments.data(), {out, err});
        return {status, out.str(), err.str()};
    }
    // One that must succeed; its output.
    std::string does(const std::vector<std::string>& words) {
        const auto outcome = run(words);
        CAPTURE(words.front());
        CAPTURE(outcome.err);
        CHECK(outcome.status == cli::done);
        return outcome.out;
    }
    [[nodiscard]] std::string file(const std::string& name) const {
        return (folder_ / name).string();
    }

  private:
    TemporaryFolder folder_;
};

}  // namespace

TEST_SUITE("The outfit on the command line") {
    TEST_CASE("rigs, boats and clients are told anew, and a boat goes for good") {
        Shed shed;
        shed.does({"rig", "add", "blue", "--code", "R1", "--size", "8", "--rod", "13 ft"});
        shed.does({"rig", "change", "R1", "--reel", "the large one", "--size", ""});
        CHECK(mentions(shed.does({"rig", "show", "R1"}), "the large one"));
        CHECK(mentions(shed.does({"rig", "show", "R1"}), "13 ft"));
        CHECK(mentions(shed.does({"rig", "list", "--format", "csv"}), "R1,blue,,"));
        CHECK(shed.run({"rig", "change", "R9", "--reel", "none"}).status != cli::done);
        shed.does({"boat", "add", "Heron", "--seats", "3"});
        shed.does({"boat", "change", "heron", "--name", "Grey Heron", "--seats", "4"});
        CHECK(mentions(shed.does({"boat", "list", "--format", "csv"}), "Grey Heron,4,"));
        shed.does({"hand", "out", "Grey Heron", "R1"});
        CHECK(mentions(shed.run({"boat", "retire", "Grey Heron"}).err, "still has R1"));
        shed.does({"hand", "back", "R1"});
        shed.does({"boat", "retire", "Grey Heron"});
        CHECK(shed.does({"boat", "list", "--format", "csv"}) == "name,seats,notes\n");
        shed.does({"client", "add", "Ida Brandvik", "--hand", "right"});
        shed.does({"client", "change", "ida brandvik", "--size", "7", "--hand", "left"});
        CHECK(mentions(shed.does({"client", "list", "--with-names", "--format", "csv"}),
                       "Ida Brandvik,7,left"));
    }

    TEST_CASE("a coil without a code is given one, and its label is read from the sheet") {
        Shed shed;
        const auto code = lines_of(shed.does({"coils", "add"})).at(0);
        CHECK(code.size() == 6);
        CHECK(lines_of(shed.does({"code", "--count", "3"})).size() == 3);
        shed.does({"label", code, "--out", shed.file("a.pdf"), "--start", "4"});
        const PrintedPdf pdf(bytes_of(shed.file("a.pdf")));
        CHECK(pdf.qr_codes(1) == std::vector{code});
        CHECK(mentions(pdf.text(), code));
        shed.does({"label", code, "--out", shed.file("a.png")});
        shed.does({"label", code, "--out", shed.file("a.svg"), "--sheet", "roll-62"});
        shed.does({"label", "--key", "--out", shed.file("key.pdf"), "--sheet", "plain-a4"});
        CHECK(mentions(shed.does({"label", "--sheets"}), "letter-30"));
        const auto fresh =
            lines_of(shed.does({"label", "--new", "2", "--flags", "--out", shed.file("new.pdf")}));
        CHECK(fresh.size() == 2);
        CHECK(shed.run({"label", code, "--sheet", "a4, 9 x 99"}).status == cli::wrong_usage);
        CHECK(shed.run({"label", "Z9"}).status == cli::could_not_be_done);
    }

    TEST_CASE("a day from the plan to the evening") {
        Shed shed;
        shed.does({"boat", "add", "Heron", "--seats", "3"});
        const auto client =
            lines_of(shed.does({"client", "add", "Ida Brandvik", "--size", "8"}))[0];
        for (const auto* code : {"A1", "A2"}) {
            shed.does({"coils", "add", code});
            shed.does({"coils", "confirm", code, "size 8 type 3 tip"});
        }
        CHECK(shed.does({"rig", "add", "blue", "--code", "R1", "--size", "8"}) == "R1\n");
        shed.does({"rig", "put", "R1", "A1", "A2"});
        CHECK(shed.run({"rig", "tip", "R1"}).err == "R1: A1 is on\n");
        shed.does({"outing", "add", "2026-06-14", "Heron", "--client", client});
        const auto carried = shed.run({"outing", "carry", "2026-06-14", "Heron", "R1"});
        CHECK(carried.status == cli::done);
        CHECK(mentions(carried.err, "no fast-sinking tip"));
        CHECK(shed.run({"outing", "check", "2026-06-14"}).status == cli::could_not_be_done);
        shed.does({"hand", "out", "Heron", "R1"});
        CHECK(shed.run({"hand", "out", "Heron", "R1"}).status == cli::could_not_be_done);
        CHECK(mentions(shed.does({"where", "A2"}), "in the wallet of rig R1"));
        shed.does({"outing", "pack", "2026-06-14", "Heron", "--out", shed.file("heron.pdf")});
        CHECK(mentions(PrintedPdf(bytes_of(shed.file("heron.pdf"))).text(), "3 of 3 ticked"));
        CHECK(lines_of(shed.does({"stock", "out", "--format", "csv"})).size() == 4);
        shed.does({"hand", "lost", "A2", "--note", "on a snag"});
        shed.does({"hand", "back", "R1"});
        CHECK(lines_of(shed.does({"stock", "out", "--format", "csv"})).size() == 1);
        CHECK(
            mentions(shed.does({"stock", "--format", "csv"}), "size 8 type 3 tip,0,1,0,0,0,1,0,2"));
        CHECK(mentions(shed.does({"stock", "losses", "--format", "csv"}),
                       "Heron,size 8 type 3 tip,1"));
        shed.does({"stock", "losses", "--out", shed.file("losses.svg")});
        CHECK(shed.run({"stock", "losses", "--out", "losses.doc"}).status == cli::wrong_usage);
        CHECK(shed.run({"outing", "check", "14.6.2026"}).status == cli::wrong_usage);
        const auto forgotten = shed.run({"forget", "Ida Brandvik"});
        CHECK(forgotten.status == cli::done);
        CHECK(mentions(forgotten.err, "note: "));
        CHECK_FALSE(mentions(shed.does({"client", "list", "--with-names"}), "Ida"));
        CHECK(mentions(shed.does({"check"}), "The catalogue is sound."));
        CHECK_FALSE(mentions(shed.does({"history", "--format", "json"}), "Ida"));
    }
}
