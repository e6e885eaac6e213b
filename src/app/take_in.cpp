#include "app/take_in.h"

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

}  // namespace

tl::expected<TakenIn, std::vector<Problem>> take_in_readings(Workshop& workshop,
                                                             std::istream& stream,
                                                             const std::string& file_name,
                                                             const std::string& what) {
    auto file = exchange::ReadingsFile::over(stream, file_name);
    if (!file) return tl::unexpected(std::vector{file.error()});
    std::vector<Problem> problems;
    TakenIn taken;
    const auto done =
        workshop.catalogue().act(workshop.note(what), [&](store::Act& act) -> Result<void> {
            while (auto row = file->next()) {
                if (!*row) {
                    problems.insert(problems.end(), row->error().begin(), row->error().end());
                    continue;
                }
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
    if (!done) return tl::unexpected(problems);
    return taken;
}

TakenIn take_in_demo(Workshop& workshop) {
    std::istringstream bin(embedded_text(coilbook_demo_bin_begin, coilbook_demo_bin_end));
    const auto taken =
        take_in_readings(workshop, bin, "the demonstration bin", "take in the demonstration bin");
    if (!taken) throw Error(to_line(taken.error().front()));
    return *taken;
}

}  // namespace coilbook::app
