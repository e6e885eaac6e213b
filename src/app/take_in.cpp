#include "app/take_in.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <functional>
#include <iterator>
#include <sstream>

#include "app/embedded.h"
#include "exchange/readings_file.h"
#include "store/coil_repository.h"
#include "store/reading_repository.h"

extern "C" {
extern const char coilbook_demo_bin_begin[];
extern const char coilbook_demo_bin_end[];
}

namespace coilbook::app {
namespace {

// The code of the instrument that the row names for a field of this kind.
std::string instrument_of(const CoilReadings& readings, ReadingField field) {
    const auto kind = store::instrument_kind_of(field);
    if (kind == "scale") return readings.scale;
    if (kind == "tape") return readings.tape;
    if (kind == "micrometer") return readings.micrometer;
    return "";
}

Result<int> add_row(Workshop& workshop, store::Act& act, const exchange::ReadingsRow& row) {
    const Instant now = workshop.surroundings().now();
    const auto code = coil_code_from(row.code);
    if (!code) return tl::unexpected(code.error());
    const Coil coil{workshop.new_id<Coil>(), *code, row.notes, now};
    if (const auto added = workshop.catalogue().coils().add(act, coil); !added) {
        return tl::unexpected(added.error());
    }
    for (const auto& raw : row.raw) {
        const Reading reading{workshop.new_id<Reading>(),
                              coil.id,
                              raw.field,
                              raw.as_written,
                              raw.value,
                              instrument_of(row.readings, raw.field),
                              now,
                              {}};
        if (const auto added = workshop.catalogue().readings().add(act, reading); !added) {
            return tl::unexpected(added.error());
        }
    }
    return static_cast<int>(row.raw.size());
}

// At least 1.
std::size_t lines_in(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return static_cast<std::size_t>(std::count(std::istreambuf_iterator<char>(in), {}, '\n')) + 1;
}

using TakenInResult = tl::expected<TakenIn, std::vector<Problem>>;

TakenInResult take_in(Workshop& workshop, Result<exchange::ReadingsFile> file,
                      const std::string& file_name, const std::string& what,
                      const std::function<void(std::size_t)>& reached = {}) {
    if (!file) return tl::unexpected(std::vector{file.error()});
    std::vector<Problem> problems;
    TakenIn taken{.warnings = file->warnings()};
    int rows = 0;
    int known = 0;  // whose code a coil of the catalogue has
    const auto done =
        workshop.catalogue().act(workshop.note(what), [&](store::Act& act) -> Result<void> {
            while (auto row = file->next()) {
                if (!*row) {
                    problems.insert(problems.end(), row->error().begin(), row->error().end());
                    continue;
                }
                ++rows;
                if (reached) reached((*row)->line);
                if (workshop.catalogue().coils().by_code((*row)->code)) ++known;
                const auto added = add_row(workshop, act, **row);
                if (!added) {
                    problems.push_back(exchange::in_file(file_name, (*row)->line, added.error()));
                    continue;
                }
                ++taken.coils;
                taken.readings += *added;
            }
            if (!problems.empty()) return tl::unexpected(problems.front());  // undoes the act
            return {};
        });
    if (done) return taken;
    if (rows > 0 && known == rows) {
        problems.push_back(exchange::in_file(
            file_name, 0,
            {"", "every coil of this file is in the catalogue already: it was taken in before",
             "nothing more to do; 'coilbook readings add' adds a reading to a coil, and 'coilbook "
             "undo' takes a whole file back"}));
    } else if (known > 0) {
        problems.push_back(exchange::in_file(
            file_name, 0,
            {"",
             fmt::format("{} of its coils {} in the catalogue already", known,
                         known == 1 ? "is" : "are"),
             "a file of new coils only; 'coilbook readings add' adds a reading to a coil"}));
    }
    return tl::unexpected(problems);
}

}  // namespace

std::string counts_in_words(const TakenIn& taken) {
    return fmt::format("{} {}, {} {}", taken.coils, taken.coils == 1 ? "coil" : "coils",
                       taken.readings, taken.readings == 1 ? "reading" : "readings");
}

TakenInResult take_in_readings(Workshop& workshop, std::istream& stream,
                               const std::string& file_name, const std::string& what) {
    return take_in(workshop, exchange::ReadingsFile::over(stream, file_name), file_name, what);
}

TakenInResult take_in_file(Workshop& workshop, const std::filesystem::path& path) {
    const auto lines = static_cast<double>(lines_in(path));
    const auto reached = [&](std::size_t line) {
        // Not quite all: it is still to be sealed and written to the disk.
        workshop.progress().reached(0.95 * static_cast<double>(line) / lines);
    };
    return take_in(workshop, exchange::ReadingsFile::open(path), path.string(),
                   "take in " + path.filename().string(), reached);
}

TakenIn take_in_demo(Workshop& workshop) {
    std::istringstream bin(embedded_text(coilbook_demo_bin_begin, coilbook_demo_bin_end));
    const auto taken =
        take_in_readings(workshop, bin, "the demonstration bin", "take in the demonstration bin");
    if (!taken) throw Error(to_line(taken.error().front()));
    return *taken;
}

}  // namespace coilbook::app
