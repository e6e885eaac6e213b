#include "cli/run.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "app/surroundings.h"
#include "support/words.h"

using namespace coilbook;

namespace {

struct Outcome {
    int status;
    std::string out;
    std::string err;
};

Outcome coilbook_with(std::vector<const char*> arguments) {
    std::ostringstream out;
    std::ostringstream err;
    arguments.insert(arguments.begin(), "coilbook");
    const int status = cli::run(static_cast<int>(arguments.size()), arguments.data(), {out, err});
    return {status, out.str(), err.str()};
}

// A file that is gone after its test.
class FileOnDisk {
  public:
    explicit FileOnDisk(const std::string& text)
        : path_((std::filesystem::temp_directory_path() /
                 ("coilbook_cli_" + std::to_string(getpid()) + ".csv"))
                    .string()) {
        std::ofstream(path_, std::ios::binary) << text;
    }
    FileOnDisk(const FileOnDisk&) = delete;
    FileOnDisk& operator=(const FileOnDisk&) = delete;
    ~FileOnDisk() { std::filesystem::remove(path_); }

    [[nodiscard]] const char* path() const { return path_.c_str(); }

  private:
    std::string path_;
};

}  // namespace

TEST_SUITE("The command line") {
    TEST_CASE("every command has help with an example") {
        for (const char* command : {"identify", "classes", "score", "sink"}) {
            CAPTURE(command);
            const auto outcome = coilbook_with({command, "--help"});
            CHECK(outcome.status == cli::done);
            CHECK(mentions(outcome.out, std::string("coilbook ") + command));
            CHECK(mentions(outcome.out, "Example"));
            CHECK(outcome.err.empty());
        }
        CHECK(coilbook_with({"--help"}).status == cli::done);
        CHECK(coilbook_with({"--version"}).out == "coilbook " + std::string(app::version()) + "\n");
    }

    TEST_CASE("wrong usage is status 2, told on standard error, with nothing on standard output") {
        const std::vector<std::vector<const char*>> wrong{
            {},
            {"dance"},
            {"identify"},
            {"identify", "bin.csv", "--colour"},
            {"identify", "bin.csv", "more.csv"},
            {"identify", "bin.csv", "--temperature", "10"},
            {"identify", "bin.csv", "--temperature", "90 C"},
            {"identify", "bin.csv", "--salinity", "43"},
            {"identify", "bin.csv", "--salinity", "nan"},
            {"identify", "bin.csv", "--salinity", "salty"},
            {"classes", "--format", "xml"},
            {"score"},
            {"score", "bin.csv"},
            {"score", "bin.csv", "truth.csv", "--confirmed"},
            {"sink", "--diameter", "1 mm"},
            {"sink", "--grains-per-foot", "11", "--diameter", "1"},
            {"sink", "--grains-per-foot", "0", "--diameter", "1 mm"},
            {"sink", "--grains-per-foot", "-11", "--diameter", "1 mm"},
            {"sink", "--grains-per-foot", "1e300", "--diameter", "1 mm"},
            {"sink", "--grains-per-foot", "11", "--diameter", "26 mm"},
            {"sink", "--grains-per-foot", "11 mm", "--diameter", "1 mm"},
        };
        for (const auto& arguments : wrong) {
            std::string line;
            for (const char* argument : arguments) line += std::string(argument) + " ";
            CAPTURE(line);
            const auto outcome = coilbook_with(arguments);
            CHECK(outcome.status == cli::wrong_usage);
            CHECK(outcome.out.empty());
            CHECK_FALSE(outcome.err.empty());
        }
        CHECK(mentions(coilbook_with({"sink", "--grains-per-foot", "11", "--diameter", "1"}).err,
                       "'1' has no unit; expected a length"));
    }

    TEST_CASE("a command that there is not is named, with those that there are") {
        CHECK(mentions(coilbook_with({"dance"}).err, "no command 'dance' of coilbook; expected"));
        const auto below = coilbook_with({"coils", "lst", "--format", "csv"});
        CHECK(below.status == cli::wrong_usage);
        CHECK(mentions(below.err, "no command 'lst' of coils; expected one of list, doubtful"));
        CHECK(mentions(coilbook_with({"identify", "x", "--salinity", "salty"}).err,
                       "'salty' is no number"));
    }

    TEST_CASE("a person sees how sure the sink rate is") {
        // README's worked example: 7.07 in/s, of which the drag law is unsure by 3.4 %.
        const auto outcome =
            coilbook_with({"sink", "--grains-per-foot", "11.2", "--diameter", "0.85 mm"});
        CHECK(outcome.status == cli::done);
        CHECK(mentions(outcome.out, "7.07 ± 0.24"));
        CHECK(mentions(outcome.out, "k = 1"));
    }

    TEST_CASE("sink tells the line and its rate") {
        const auto outcome = coilbook_with(
            {"sink", "--grains-per-foot", "11", "--diameter", "0.835 mm", "--format", "csv"});
        CHECK(outcome.status == cli::done);
        CHECK(outcome.out.starts_with(
            "grains_per_foot,diameter_mm,density_g_cm3,reynolds,drag_coefficient,sink_rate_in_s,"
            "sink_rate_m_s\n11"));
        CHECK(outcome.err.empty());
        // Salt water is denser and carries more.
        const auto salt = coilbook_with({"sink", "--grains-per-foot", "11 gr/ft", "--diameter",
                                         "0.835 mm", "--format", "csv", "--salinity", "35"});
        CHECK(salt.status == cli::done);
        CHECK(salt.out != outcome.out);
    }

    TEST_CASE("classes lists the library") {
        const auto outcome = coilbook_with({"classes", "--format", "csv"});
        CHECK(outcome.status == cli::done);
        CHECK(mentions(outcome.out, "\nT-11,level line,T-11,"));
        CHECK(mentions(outcome.out, "\nunlisted,unlisted,"));
    }

    TEST_CASE("identify does what it can and says what it cannot") {
        const FileOnDisk file(
            "code,sample_length [in],sample_weight [gr],diameters [mm],box\n"
            "A7,24,22,0.83,1\n"
            "A8,24,-22,0.83,2\n");
        const auto outcome = coilbook_with({"identify", file.path(), "--format", "csv"});
        CHECK(outcome.status == cli::could_not_be_done);
        CHECK(mentions(outcome.out, "\nA7,10.99"));
        CHECK_FALSE(mentions(outcome.out, "A8"));
        CHECK(outcome.err == "note: " + std::string(file.path()) +
                                 ":1: box: the column is unknown; it is kept as notes\n" +
                                 file.path() +
                                 ":3: sample_weight: '-22' is negative; expected a weight above "
                                 "zero, up to 10 kg, such as 22.4 gr\n");
        const auto missing = coilbook_with({"identify", "/nowhere/bin.csv"});
        CHECK(missing.status == cli::could_not_be_done);
        CHECK(missing.out.empty());
        CHECK(mentions(missing.err, "/nowhere/bin.csv: there is no such file"));
    }

    TEST_CASE("progress is for terminals only, and is gone before the table") {
        std::string text = "code,tint\n";
        for (int i = 0; i < 45; ++i) text += "A" + std::to_string(i) + ",dark\n";
        const FileOnDisk file(text);
        CHECK(coilbook_with({"identify", file.path()}).err.empty());
        std::ostringstream screen;  // both streams of one terminal
        const char* arguments[] = {"coilbook", "identify", file.path()};
        CHECK(cli::run(3, arguments, {screen, screen, 80, true}) == cli::done);
        CHECK(mentions(screen.str(), "\r40 coils\r\x1b[Kcode  best class"));
    }

    TEST_CASE("results that cannot be written are a failure, not a success") {
        struct Full : std::streambuf {
            int_type overflow(int_type) override { return traits_type::eof(); }
        } full;
        std::ostream out(&full);
        std::ostringstream err;
        const char* arguments[] = {"coilbook", "classes"};
        CHECK(cli::run(2, arguments, {out, err}) == cli::could_not_be_done);
        CHECK(mentions(err.str(), "cannot be written"));
    }
}
