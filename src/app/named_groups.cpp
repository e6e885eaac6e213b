#include "app/named_groups.h"

#include <algorithm>
#include <cmath>

#include "app/verdict_rows.h"
#include "base/error.h"
#include "identify/facts.h"
#include "quantity/print.h"

namespace coilbook::app {
namespace {

std::optional<Figure> figure(double ln_value, double variance) {
    const double sd = std::sqrt(variance);
    if (!(sd < determined_below / 2.0)) return std::nullopt;
    return Figure{std::exp(ln_value), sd * std::exp(ln_value)};
}

}  // namespace

std::optional<Figure> weight_of(const Gaussian2& line) {
    return figure(line.mean.x(), line.covariance(0, 0));
}
std::optional<Figure> density_of(const Gaussian2& line) {
    return figure(line.mean.y(), line.covariance(1, 1));
}
std::string words_of(const std::optional<Figure>& figure) {
    return figure ? with_uncertainty(figure->value, figure->uncertainty) : "";
}

std::vector<NamedGroup> named_groups(const std::vector<BinCoilLine>& coils,
                                     const ReferenceLibrary& library) {
    std::vector<NamedGroup> named;
    for (auto& group : same_lines(coils)) {
        const auto name = name_of_group(group, library);
        const auto weight = weight_of(group.line);
        const auto density = density_of(group.line);
        named.push_back({std::move(group), name, weight, density});
    }
    return named;
}

std::string what_it_is(const NamedGroup& each, const ReferenceLibrary& library) {
    if (!each.grains_per_foot) return "not measured enough";
    if (each.name.listed) {
        return library[*each.name.listed].name + ", " + percent(each.name.probability);
    }
    if (!each.density) return "not measured enough";
    return each.group.codes.size() > 1 ? "one line, not in your library: name it"
                                       : "not in your library";
}

std::vector<BinCoilLine> coil_lines(const Bin& bin) {
    std::vector<BinCoilLine> coils;
    for (std::size_t at = 0; at < bin.size(); ++at) {
        const auto& [coil, confirmed, readings] = bin.entry(at);
        const bool is_measured = std::ranges::any_of(
            all_reading_fields, [&](ReadingField field) { return has(readings, field); });
        if (!is_measured) continue;
        const auto evidence = evidence_of(readings, bin.instruments());
        if (!evidence) throw Error("coil " + coil.code + ": " + to_line(evidence.error()));
        coils.push_back({coil.code, information_of(*evidence), readings.tint, readings.taper});
    }
    return coils;
}

}  // namespace coilbook::app
