#include "app/groups.h"

#include <algorithm>
#include <map>
#include <optional>

#include "app/coil_changes.h"
#include "app/named_groups.h"
#include "app/verdict_rows.h"
#include "base/text.h"
#include "exchange/readings_file.h"
#include "store/class_repository.h"
#include "store/reading_repository.h"

namespace coilbook::app {
namespace {

void tell_all(const IdentifyReports& reports, const std::vector<Problem>& problems) {
    if (!reports.problem) return;
    for (const auto& problem : problems) reports.problem(problem);
}

std::vector<Column> group_columns() {
    const auto number = [](const char* name) { return Column{name, true, 4}; };
    return {{"code"},
            number("group"),
            number("group_size"),
            number("group_probability"),
            {"class"},
            number("class_probability"),
            number("group_grains_per_foot"),
            number("group_grains_per_foot_u"),
            number("group_density_g_cm3"),
            number("group_density_g_cm3_u")};
}

std::vector<Column> group_summary_columns() {
    return {{"group", true}, {"coils", true}, {"which"}, {"gr/ft"}, {"g/cm3"}, {"what it is"}};
}

std::optional<double> value_of(const std::optional<Figure>& figure) {
    return figure ? std::optional(figure->value) : std::nullopt;
}
std::optional<double> uncertainty_of(const std::optional<Figure>& figure) {
    return figure ? std::optional(figure->uncertainty) : std::nullopt;
}
std::string class_name(const NamedGroup& each, const ReferenceLibrary& library) {
    return each.name.listed ? library[*each.name.listed].name : "unlisted";
}

void write_groups(const std::vector<NamedGroup>& groups, const ReferenceLibrary& library,
                  std::ostream& out, std::size_t terminal_width) {
    RowWriter writer(out, group_summary_columns(), Format::table, terminal_width);
    for (std::size_t i = 0; i < groups.size(); ++i) {
        const auto& each = groups[i];
        std::string codes;
        for (const auto& code : each.group.codes) codes += (codes.empty() ? "" : " ") + code;
        writer.add({static_cast<std::int64_t>(i + 1),
                    static_cast<std::int64_t>(each.group.codes.size()), codes,
                    cell_of(words_of(each.grains_per_foot)), cell_of(words_of(each.density)),
                    what_it_is(each, library)});
    }
    writer.finish("± is one standard deviation (k = 1) of the line, not of its coils.");
}

void write_coils(const std::vector<BinCoilLine>& coils, const std::vector<NamedGroup>& groups,
                 const ReferenceLibrary& library, std::ostream& out, Format format) {
    std::map<std::string, std::pair<std::size_t, std::size_t>> place;  // group and place in it
    for (std::size_t i = 0; i < groups.size(); ++i) {
        const auto& codes = groups[i].group.codes;
        for (std::size_t k = 0; k < codes.size(); ++k) place[codes[k]] = {i, k};
    }
    RowWriter writer(out, group_columns(), format);
    for (const auto& coil : coils) {
        const auto [i, k] = place.at(coil.code);
        const auto& each = groups[i];
        writer.add({coil.code, static_cast<std::int64_t>(i + 1),
                    static_cast<std::int64_t>(each.group.codes.size()),
                    cell_of(each.group.probabilities[k]), class_name(each, library),
                    cell_of(each.name.probability), cell_of(value_of(each.grains_per_foot)),
                    cell_of(uncertainty_of(each.grains_per_foot)), cell_of(value_of(each.density)),
                    cell_of(uncertainty_of(each.density))});
    }
    writer.finish();
}

}  // namespace

bool group_file(const IdentifyRequest& request, std::ostream& results,
                const IdentifyReports& reports) {
    const auto instruments = instruments_for(request.instruments, request.instruments_file);
    if (!instruments) {
        tell_all(reports, instruments.error());
        return false;
    }
    auto file = exchange::ReadingsFile::open(request.readings);
    if (!file) {
        tell_all(reports, {file.error()});
        return false;
    }
    if (reports.warning) {
        for (const auto& warning : file->warnings()) reports.warning(warning);
    }
    bool all_are_fine = true;
    std::vector<BinCoilLine> coils;
    while (const auto row = file->next()) {
        if (!*row) {
            tell_all(reports, row->error());
            all_are_fine = false;
            continue;
        }
        const auto& readings = (*row)->readings;
        const auto evidence = evidence_of(readings, *instruments);
        if (!evidence) {
            tell_all(reports, {exchange::in_file(request.readings.string(), (*row)->line,
                                                 evidence.error())});
            all_are_fine = false;
            continue;
        }
        coils.push_back({(*row)->code, information_of(*evidence), readings.tint, readings.taper});
    }
    const auto groups = named_groups(coils, request.library);
    if (request.format == Format::table) {
        write_groups(groups, request.library, results, request.terminal_width);
    } else {
        write_coils(coils, groups, request.library, results, request.format);
    }
    return all_are_fine;
}

Result<std::optional<Family>> family_of_class(const std::string& name) {
    if (name.empty()) return std::nullopt;
    const auto known = family_from(name);
    if (!known) return tl::unexpected(known.error());
    if (*known == Family::unlisted) {
        return problem("family", "'unlisted' is what no class is",
                       "level line, matched tip or sinking leader");
    }
    return *known;
}

Result<void> make_class(Workshop& workshop, const std::string& name, const std::string& family,
                        const std::vector<std::string>& codes) {
    const auto of_family = family_of_class(family);
    if (!of_family) return tl::unexpected(of_family.error());
    std::vector<BinCoilLine> coils;
    std::vector<CoilAndClass> confirmed;
    for (const auto& code : codes) {
        const auto coil = coil_by_code(workshop, code);
        if (!coil) return tl::unexpected(coil.error());
        if (std::ranges::find(coils, coil->code, &BinCoilLine::code) != coils.end()) {
            return problem("codes", coilbook::quoted(coil->code) + " is named twice",
                           "each coil once: a class is only as sure as its coils are many");
        }
        const auto readings = workshop.catalogue().readings().readings_of(coil->id);
        const auto evidence = evidence_of(readings, workshop.instruments());
        if (!evidence) return tl::unexpected(evidence.error());
        coils.push_back({coil->code, information_of(*evidence), readings.tint, readings.taper});
        confirmed.push_back({*coil, name});
    }
    if (coils.empty()) return problem("codes", "no coil is named", "the codes of its coils");
    const auto group = one_group_of(coils);
    const auto& line = group.line;
    if (!weight_of(line) || !density_of(line)) {
        return problem("codes", "these coils' readings do not tell weight and density",
                       "coils with a weighed sample and a diameter or a weighing under water");
    }
    auto library = workshop.catalogue().classes().library();
    auto made = class_from_group(name, *of_family, group, coils, library);
    if (!made) return tl::unexpected(made.error());
    const auto unlisted =
        std::ranges::find(library, std::optional{Family::unlisted}, &ReferenceClass::family);
    library.insert(unlisted, std::move(*made));
    const auto confirmations = ManyConfirmations::prepared(workshop, confirmed);
    if (!confirmations) return tl::unexpected(confirmations.error());
    const auto done = workshop.catalogue().act(
        workshop.note("make the class " + name + " from " + listed(group.codes)),
        [&](store::Act& act) {
            workshop.catalogue().classes().put_library(act, library);
            return confirmations->add(workshop, act);
        });
    if (done) workshop.refresh();
    return done;
}

}  // namespace coilbook::app
