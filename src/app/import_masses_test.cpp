#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <random>
#include <span>
#include <sstream>

#include "app/coil_changes.h"
#include "app/undo.h"
#include "store/coil_repository.h"
#include "support/table_files.h"
#include "support/temporary_folder.h"
#include "support/words.h"

// Files of more than a thousand rows, whose new things come in together.

using namespace coilbook;
using namespace coilbook::app;

namespace {

using Rows = std::vector<std::string>;

class Chance {
  public:
    explicit Chance(unsigned seed) : random_(seed) {}

    [[nodiscard]] int below(int most) {
        return std::uniform_int_distribution(0, most - 1)(random_);
    }
    [[nodiscard]] bool once_in(int times) { return below(times) == 0; }
    [[nodiscard]] const std::string& one_of(const Rows& words) {
        return words[static_cast<std::size_t>(below(static_cast<int>(words.size())))];
    }

  private:
    std::mt19937 random_;
};

// Three in a row are of one moment, in which they go downward.
std::string id_of(int number) {
    return fmt::format("01ZZ{:06}{:016}", number / 3, 9 - number % 3);
}
// They go upward, as the program makes them, but for some.
std::string odd_id(Chance& chance, int number) {
    if (chance.once_in(10)) return "";
    if (chance.once_in(20)) return id_of(chance.below(number + 1));
    if (chance.once_in(30)) return "00" + id_of(number).substr(2);
    return id_of(number);
}

// Rows of tables as nobody should make them: codes, fields and ids that come again, odd moments,
// words and bytes that cannot be.
constexpr auto coils_head = "id,code,notes,made_at,retired_at\n";
std::string odd_coil(Chance& chance, int number) {
    const auto own = "M" + std::to_string(number);
    const auto code = chance.once_in(25)
                          ? chance.one_of({"", "A 7", std::string(41, 'x'), "Ø", "a\tb"})
                      : chance.once_in(12) ? "M" + std::to_string(chance.below(number + 1))
                      : chance.once_in(30) ? " " + own + " "
                                           : own;
    const auto notes =
        chance.one_of({"", "of the shop", "=1+1", "'=1", "\"a, \"\"b\"\"\"", "ørret"});
    const auto made =
        chance.once_in(15)
            ? chance.one_of({"9999-12-31T23:59:59.999Z", "1970-01-01T00:00:00Z",
                             "2026-02-30T00:00:00Z", "yesterday", "10000-01-01T00:00:00Z"})
            : "2026-01-01T00:00:00.500Z";
    const auto* retired = chance.once_in(10) ? "2026-01-02T00:00:00Z" : "";
    return odd_id(chance, number) + "," + code + "," + notes + "," + made + "," + retired + "\n";
}

constexpr auto readings_head =
    "id,coil_id,coil_code,field,as_written,value_si,value_text,standard_uncertainty_si,"
    "instrument_kind,instrument,taken_at,supersedes\n";
constexpr int coils_with_readings = 700;
std::string odd_reading(Chance& chance, int number) {
    const auto coil = chance.below(coils_with_readings + 3);  // three that nobody has
    const auto coil_id = chance.once_in(5) ? std::string() : "02" + id_of(coil).substr(2);
    const Rows fields{"sample_weight", "sample_length", "diameters", "diameters", "tint",
                      "taper",         "sink_time",     "floats",    "colour",    "whole_length"};
    const Rows words{"22.4 gr", "24 in", "0.84 mm", "33 thou", "dark",
                     "level",   "12 s",  "yes",     "dark",    "9 ft"};
    const auto at = static_cast<std::size_t>(chance.below(static_cast<int>(fields.size())));
    const auto as_written =
        chance.once_in(20) ? chance.one_of({"", "-3 in", "1 km", "dark", "1e9 gr"}) : words[at];
    const auto value = chance.once_in(30) ? chance.one_of({"0.5", "nan", "-1", "1e308"}) : "";
    const auto uncertainty = chance.once_in(20) ? chance.one_of({"-5", "0.1", "0", "1e-9"}) : "";
    const auto instrument = chance.once_in(30) ? chance.one_of({"S1", "none"}) : "";
    const auto supersedes = chance.once_in(15) ? id_of(chance.below(number + 1)) : std::string();
    // Rows without an id are told apart by what they say, in one file only.
    const auto taken = to_text(Instant{std::chrono::milliseconds{1'767'225'600'000 + number}});
    const Rows cells{odd_id(chance, number),
                     coil_id,
                     "K" + std::to_string(coil),
                     fields[at],
                     as_written,
                     value,
                     "",
                     uncertainty,
                     instrument.empty() ? "" : "scale",
                     instrument,
                     taken,
                     supersedes};
    return fmt::format("{}\n", fmt::join(cells, ","));
}

std::string joined(std::span<const std::string> rows) {
    std::string text;
    for (const auto& row : rows) text += row;
    return text;
}

// Of "file:LINE: column: what is wrong" all but the line.
std::string reason_in(const std::string& problem) {
    return problem.substr(problem.find(' '));
}

// A table without the ids that the program gave itself.
std::string without_new_ids(const std::string& table) {
    std::istringstream lines(table);
    std::string text;
    for (std::string line; std::getline(lines, line);) {
        const bool is_given = line.starts_with("01ZZ") || line.starts_with("00ZZ");
        text += is_given ? line : line.substr(line.find(','));
        text += '\n';
    }
    return text;
}

struct BroughtIn {
    ImportCounts counts;
    Rows reasons;
    std::string table;
};
BroughtIn brought_in(Workshop& workshop, const store::Kind& of, const std::string& head,
                     std::span<const std::string> rows, std::size_t rows_of_a_file) {
    const TemporaryFolder folder;
    BroughtIn all{};
    for (std::size_t at = 0; at < rows.size(); at += rows_of_a_file) {
        const auto some = rows.subspan(at, std::min(rows_of_a_file, rows.size() - at));
        const auto done = imported(workshop, of, head + joined(some),
                                   {.refused_into = folder / ("refused" + std::to_string(at))});
        REQUIRE(done.counts.has_value());
        all.counts.added += done.counts->added;
        all.counts.changed += done.counts->changed;
        all.counts.same += done.counts->same;
        all.counts.refused += done.counts->refused;
        for (const auto& problem : done.problems) all.reasons.push_back(reason_in(problem));
    }
    all.table = without_new_ids(exported(workshop, of, Format::csv));
    return all;
}

void check_all_is_well(Workshop& workshop) {
    for (const auto& inspection : workshop.catalogue().audit()) {
        CAPTURE(inspection.what);
        CHECK(inspection.wrong == Rows{});
    }
}

// That a file of these rows brings in what files of 500 of them bring in. Gives what that was.
ImportCounts check_the_same(const std::function<void(Workshop&)>& prepare, const store::Kind& of,
                            const std::string& head, const Rows& rows) {
    auto together = workshop_in_memory();
    auto piecewise = workshop_in_memory();
    for (auto* each : {&together, &piecewise}) prepare(*each);
    const auto before = exported(together, Format::csv);
    const auto whole = brought_in(together, of, head, rows, rows.size());
    const auto parts = brought_in(piecewise, of, head, rows, 500);
    CHECK(whole.counts == parts.counts);
    CHECK(whole.reasons == parts.reasons);
    // What the rules let pass the tables' own CHECKs take, with which 500 rows at a time came in.
    for (const auto& reason : parts.reasons) {
        CAPTURE(reason);
        CHECK_FALSE(mentions(reason, "the catalogue cannot keep this"));
    }
    CHECK(whole.table == parts.table);
    check_all_is_well(together);
    check_all_is_well(piecewise);
    REQUIRE(undo(together).has_value());
    CHECK(exported(together, Format::csv) == before);
    check_all_is_well(together);
    return whole.counts;
}

}  // namespace

TEST_SUITE("Import of large files") {
    TEST_CASE("long rows do not pile up, and come in as others do") {
        auto workshop = workshop_in_memory();
        std::string file = "id,code,notes\n";
        const std::string note(20'000, 'x');
        for (int n = 0; n < 1500; ++n) {
            file += id_of(n) + ",M" + std::to_string(n) + "," + (n > 1100 ? note : "") + "\n";
        }
        CHECK(imported(workshop, kind("coils"), file).counts->added == 1500);
        CHECK(coil_by_code(workshop, "M1499")->notes == note);
        check_all_is_well(workshop);
    }

    TEST_CASE("new coils are told in their places, as if they came in one after another") {
        auto workshop = workshop_in_memory();
        (void)add_coil(workshop, "A7", "old").value();
        // A code again, by hand and with another id; one that is there; and one that cannot be.
        const std::string id = "01ZZ0000000000000000000001";
        std::string file = "id,code,notes\n";
        for (int n = 0; n < 1200; ++n) file += ",M" + std::to_string(n) + ",of the shop\n";
        file += ",M7,otherwise\n" + id + ",M8,\n,A7,old\n" + id + ",N1,\n,N1 ,\n,N2,\n";
        const auto dry =
            imported(workshop, kind("coils"), file, {.is_dry_run = true, .format = Format::csv});
        CHECK(*dry.counts == ImportCounts{.added = 1202, .changed = 1, .same = 1, .refused = 2});
        const auto end = dry.out.substr(dry.out.find("1202,"));
        says(end.substr(0, end.find('\n')), "1202,change,M7");
        says(end, "1203,refused");
        says(end, "is the code of another coil");
        says(end, "1204,same,A7,\n1205,add,N1,\n1206,refused");
        says(end, "1207,add,N2,\n");
        CHECK(workshop.catalogue().coils().count() == 1);

        const TemporaryFolder folder;
        const auto done =
            imported(workshop, kind("coils"), file, {.refused_into = folder / "refused.csv"});
        CHECK(*done.counts == *dry.counts);
        CHECK(coil_by_code(workshop, "M7").value().notes == "otherwise");
        CHECK(coil_by_code(workshop, "N1").value().id.text() == id);
        CHECK(imported(workshop, kind("coils"), file, {.refused_into = folder / "again.csv"})
                  .counts->added == 0);
        for (const auto& inspection : workshop.catalogue().audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
    }

    TEST_CASE("coils come in as they would piece by piece, whatever is in the file") {
        const auto prepare = [](Workshop& workshop) {
            (void)add_coil(workshop, "M1", "was there").value();
            (void)add_coil(workshop, "M2", "was there and is undone").value();
            REQUIRE(undo(workshop).has_value());
        };
        for (unsigned seed = 1; seed <= 3; ++seed) {
            CAPTURE(seed);
            Chance chance(seed);
            Rows rows;
            for (int n = 0; n < 2500; ++n) rows.push_back(odd_coil(chance, n));
            const auto counts = check_the_same(prepare, kind("coils"), coils_head, rows);
            CHECK(counts.added > 1000);
            CHECK(counts.changed > 10);
            CHECK(counts.refused > 100);
        }
    }

    TEST_CASE("readings come in as they would piece by piece, whatever is in the file") {
        const auto prepare = [](Workshop& workshop) {
            std::string coils = "id,code\n";
            for (int n = 0; n < coils_with_readings; ++n) {
                coils += "02" + id_of(n).substr(2) + ",K" + std::to_string(n) + "\n";
            }
            REQUIRE(imported(workshop, kind("coils"), coils).counts->refused == 0);
            REQUIRE(imported(workshop, kind("readings"),
                             "coil_code,field,as_written\nK1,sample_weight,20 gr\n"
                             "K2,sample_length,24 in\nK2,diameters,0.8 mm\n")
                        .counts->added == 3);
        };
        for (unsigned seed = 1; seed <= 3; ++seed) {
            CAPTURE(seed);
            Chance chance(seed);
            Rows rows;
            for (int n = 0; n < 4000; ++n) rows.push_back(odd_reading(chance, n));
            const auto counts = check_the_same(prepare, kind("readings"), readings_head, rows);
            CHECK(counts.added > 1000);
            CHECK(counts.refused > 100);
        }
    }
}
