#include "app/verdict_snapshot.h"

#include <fmt/format.h>

#include <cstdint>

#include "app/class_rows.h"
#include "identify/identify.h"
#include "store/reading_repository.h"

namespace coilbook::app {
namespace {

template <class Value>
store::JudgedFacet judged(const Facet<Value>& facet) {
    return {facet.value ? name_of(*facet.value) : "", facet.probability};
}

}  // namespace

std::string library_name(const ReferenceLibrary& library) {
    // FNV-1a, 64 bits. Source: Fowler, Noll and Vo; offset and prime as in RFC 9923 (from memory).
    std::uint64_t hash = 0xcbf29ce484222325ULL;
    const auto take = [&](std::string_view text) {
        for (const char c : text) {
            hash ^= static_cast<unsigned char>(c);
            hash *= 0x100000001b3ULL;
        }
    };
    for (const auto& listing : listings_of(library)) {
        for (const auto& cell : class_cells(listing)) {
            std::visit(
                [&](const auto& value) {
                    using T = std::decay_t<decltype(value)>;
                    if constexpr (std::is_same_v<T, std::string>) {
                        take(value);
                    } else if constexpr (!std::is_same_v<T, std::monostate>) {
                        take(fmt::format("{}", value));
                    }
                    take("\x1f");
                },
                cell);
        }
    }
    return fmt::format("{:016x}", hash);
}

Result<store::VerdictSnapshot> verdict_snapshot(Workshop& workshop, const Coil& coil) {
    const auto& library = workshop.library();
    const auto verdict = identify(workshop.catalogue().readings().readings_of(coil.id),
                                  workshop.instruments(), library, fresh_water_at_10_C());
    if (!verdict) return tl::unexpected(verdict.error());
    return store::VerdictSnapshot{
        workshop.new_id<store::VerdictSnapshot>(),
        coil.id,
        workshop.surroundings().now(),
        {library[verdict->best()].name, verdict->probabilities[verdict->best()]},
        judged(verdict->grain_class),
        judged(verdict->density_grade),
        judged(verdict->line_size),
        judged(verdict->family),
        verdict->unlisted_probability,
        library_name(library),
        workshop.surroundings().program};
}

}  // namespace coilbook::app
