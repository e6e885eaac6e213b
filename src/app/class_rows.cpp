#include "app/class_rows.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "app/facet_cells.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::app {
namespace {

// "11.0 ± 3 %": a median and a standard deviation of the logarithm.
std::string median_and_spread(double ln_mean, double ln_sd) {
    return significant(std::exp(ln_mean), 3) + " ± " + significant(100.0 * ln_sd, 2) + " %";
}

// "10 15": exact numbers, separated by blanks.
Cell lengths_in_feet(const std::optional<UsualLengths>& usual) {
    std::string text;
    if (usual) {
        for (const auto length : usual->lengths) {
            text += (text.empty() ? "" : " ") + exact(length.in(foot));
        }
    }
    return cell_of(std::move(text));
}

}  // namespace

std::vector<ClassListing> listings_of(const ReferenceLibrary& library) {
    std::vector<ClassListing> listings;
    for (const auto& reference : library) listings.push_back({reference, reference.line, 0});
    return listings;
}

std::vector<Column> class_columns() {
    const auto text = [](const char* name) { return Column{name, false, 4}; };
    const auto number = [](const char* name) { return Column{name, true, 4}; };
    return {
        text("class"),
        text("family"),
        text("grain_class"),
        text("density_grade"),
        number("line_size"),
        number("weight"),
        number("ln_grains_per_foot_mean"),
        number("ln_grains_per_foot_sd"),
        number("ln_density_mean"),
        number("ln_density_sd"),
        number("correlation"),
        number("confirmed"),
        number("degrees_of_freedom"),
        number("built_in_ln_grains_per_foot_mean"),
        number("built_in_ln_grains_per_foot_sd"),
        number("built_in_ln_density_mean"),
        number("built_in_ln_density_sd"),
        number("set_aside"),
        number("tapered"),
        number("tint_clear"),
        number("tint_pale"),
        number("tint_brown"),
        number("tint_dark"),
        number("tint_black"),
        text("usual_lengths_ft"),
        number("usual_length_sd"),
    };
}

std::vector<Cell> class_cells(const ClassListing& listing) {
    const auto& reference = listing.now;
    const auto& built_in = listing.built_in;
    return {reference.name,
            facet_cell(reference.family),
            facet_cell(reference.grain_class),
            facet_cell(reference.density_grade),
            facet_cell(reference.line_size),
            cell_of(reference.weight),
            cell_of(reference.line.ln_grains_per_foot_mean),
            cell_of(reference.line.ln_grains_per_foot_sd),
            cell_of(reference.line.ln_density_mean),
            cell_of(reference.line.ln_density_sd),
            cell_of(reference.line.correlation),
            std::int64_t{reference.confirmed},
            cell_of(reference.line.degrees_of_freedom),
            cell_of(built_in.ln_grains_per_foot_mean),
            cell_of(built_in.ln_grains_per_foot_sd),
            cell_of(built_in.ln_density_mean),
            cell_of(built_in.ln_density_sd),
            std::int64_t{listing.set_aside},
            cell_of(reference.tapered),
            cell_of(reference.tints[0]),
            cell_of(reference.tints[1]),
            cell_of(reference.tints[2]),
            cell_of(reference.tints[3]),
            cell_of(reference.tints[4]),
            lengths_in_feet(reference.usual),
            reference.usual ? cell_of(reference.usual->relative_sd) : Cell{}};
}

exchange::Json class_details(const ReferenceClass& reference) {
    auto tints = exchange::Json::object();
    for (std::size_t i = 0; i < all_tints.size(); ++i) {
        tints[name_of(all_tints[i])] = exchange::json_from(reference.tints[i]);
    }
    exchange::Json lengths = nullptr;
    if (reference.usual) {
        lengths = exchange::Json::array();
        for (const auto length : reference.usual->lengths) {
            lengths.push_back(exchange::json_from(length.in(foot)));
        }
    }
    return {{"tints", std::move(tints)},
            {"usual_lengths_ft", std::move(lengths)},
            {"basis", reference.basis}};
}

std::vector<Column> class_summary_columns() {
    return {{"class"},       {"family"},      {"density grade"},   {"weight", true, 3},
            {"gr/ft", true}, {"g/cm3", true}, {"confirmed", true}, {"basis", false, 4, 1}};
}

std::vector<Cell> class_summary_cells(const ClassListing& listing) {
    const auto& reference = listing.now;
    const auto& line = reference.line;
    return {reference.name,
            facet_cell(reference.family),
            facet_cell(reference.density_grade),
            cell_of(reference.weight),
            median_and_spread(line.ln_grains_per_foot_mean, line.ln_grains_per_foot_sd),
            median_and_spread(line.ln_density_mean, line.ln_density_sd),
            std::int64_t{reference.confirmed},
            reference.basis};
}

void write_classes(const std::vector<ClassListing>& classes, std::ostream& out, Format format,
                   std::size_t terminal_width) {
    const bool is_for_people = format == Format::table;
    RowWriter writer(out, is_for_people ? class_summary_columns() : class_columns(), format,
                     terminal_width);
    for (const auto& listing : classes) {
        if (is_for_people) {
            writer.add(class_summary_cells(listing));
        } else {
            writer.add(class_cells(listing), class_details(listing.now));
        }
    }
    writer.finish("± is one standard deviation (k = 1).");
}

}  // namespace coilbook::app
