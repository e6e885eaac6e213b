#include "app/labels.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>

#include "app/inventory.h"
#include "app/picture_place.h"
#include "app/rigs.h"
#include "base/text.h"
#include "labels/label_files.h"
#include "quantity/print.h"

namespace coilbook::app {
namespace {

// The class that the label names, if any.
const ReferenceClass* class_of(Bin& bin, std::size_t at) {
    const auto& library = bin.library();
    const auto found = std::ranges::find(library, bin.label(at).name, &ReferenceClass::name);
    return found == library.end() ? nullptr : &*found;
}

// "T-11, type 7": the name, and the grade where the name does not have it.
std::string name_of_line(const ReferenceClass& known, bool is_sure) {
    auto name = known.name;
    const bool has_grade =
        known.density_grade && name.find(name_of(*known.density_grade)) == std::string::npos;
    // A leader's name tells its rate, which is its grade.
    if (has_grade && known.family != Family::sinking_leader) {
        name += ", " + name_of(*known.density_grade);
    }
    return is_sure ? name : name + " ?";
}

std::string length_and_weight(const CoilReadings& readings, const Facts& facts,
                              const Units& units) {
    std::string text;
    const auto add = [&](const std::string& piece) { text += (text.empty() ? "" : ", ") + piece; };
    if (readings.whole_length) add(in_unit(readings.whole_length->value, units.length, 3));
    if (readings.whole_weight) {
        add(in_unit(readings.whole_weight->value, units.weight, 3));
    } else if (readings.whole_length && facts.linear_density) {
        const auto weight = facts.linear_density->value * readings.whole_length->value;
        add(in_unit(weight, units.weight, 3));
    }
    if (facts.linear_density) {
        add(in_unit(facts.linear_density->value, units.weight_per_length, 3));
    }
    return text;
}

std::string sink_words(const Facts& facts, const Units& units) {
    if (!facts.sink_rate) return "";
    const double rate = facts.sink_rate->value.in(units.sink_rate.size);
    if (rate < 0) return "floats";
    return fmt::format("sinks {:.1f} {}", rate, units.sink_rate.name);
}

std::string ending_of(const std::filesystem::path& file) {
    return lower_ascii(file.extension().string());
}

using Contents = std::vector<labels::LabelContent>;

// Of the time: before all labels are known; the rest is drawing them.
constexpr double until_known = 0.5;

Result<Contents> contents_of(Workshop& workshop, const LabelRequest& request) {
    Inventory inventory(workshop);
    Bin& bin = inventory.bin();
    Contents contents;
    const auto all = static_cast<double>((request.all ? bin.size() : 0) + request.codes.size());
    const auto tell = [&] {
        workshop.progress().reached(until_known * static_cast<double>(contents.size()) / all);
    };
    if (request.all) {
        for (std::size_t at = 0; at < bin.size(); ++at) {
            contents.push_back(label_of(bin, at, request.with_notes, request.units));
            tell();
        }
    }
    for (const auto& code : request.codes) {
        const auto thing = inventory.thing_called(code);
        if (!thing) return tl::unexpected(thing.error());
        if (const auto* rig = std::get_if<Id<Rig>>(&*thing)) {
            contents.push_back(label_of_rig(inventory, *inventory.rig(*rig), request.with_notes));
        } else {
            const auto at = bin.find(std::get<Id<Coil>>(*thing));
            contents.push_back(label_of(bin, at.value(), request.with_notes, request.units));
        }
        tell();
    }
    for (const auto& code : request.blank) {
        contents.push_back({.code = code, .name = {}, .figures = {}, .notes = {}, .mark = {}});
    }
    if (contents.empty()) {
        return problem("code", "there is nothing to print a label of",
                       "the codes of coils, or --all");
    }
    return contents;
}

std::string bytes_of(const Contents& contents, const LabelRequest& request,
                     const std::string& ending, Progress& progress) {
    const auto& size = request.sheet.label;
    if (ending == ".png") {
        return label_png(contents.front(), size, request.shape, request.dots_per_inch);
    }
    if (ending == ".svg") return label_svg(contents.front(), size, request.shape);
    return sheets_pdf(
        request.sheet, contents, {request.first_cell, request.shape, request.outlines},
        [&](std::size_t drawn) {
            const auto share = static_cast<double>(drawn) / static_cast<double>(contents.size());
            progress.reached(until_known + (1 - until_known) * share);
        });
}

}  // namespace

labels::LabelContent label_of(Bin& bin, std::size_t at, bool with_notes, const Units& units) {
    const auto& entry = bin.entry(at);
    labels::LabelContent content{
        .code = entry.coil.code, .name = {}, .figures = {}, .notes = {}, .mark = {}};
    if (with_notes) content.notes = entry.coil.notes;
    if (bin.state(at) == CoilState::unmeasured) return content;
    const auto& facts = bin.summary(at).facts;
    const auto state = bin.state(at);
    const bool is_sure = state == CoilState::confirmed || state == CoilState::ready;
    const auto* known = class_of(bin, at);
    if (known != nullptr) content.name = name_of_line(*known, is_sure);
    for (auto& figure :
         {length_and_weight(entry.readings, facts, units), sink_words(facts, units)}) {
        if (!figure.empty()) content.figures.push_back(figure);
    }
    if (known != nullptr && is_sure && facts.linear_density) {
        content.mark = loop_mark(known->density_grade, facts.linear_density->value);
    }
    return content;
}

Result<LabelsMade> write_labels(Workshop& workshop, const LabelRequest& request) {
    const auto ending = ending_of(request.out);
    if (ending != ".pdf" && ending != ".png" && ending != ".svg") {
        return problem("out",
                       coilbook::quoted(request.out.string()) + " is no kind of file to print",
                       "a name that ends in .pdf, or for one label .png or .svg");
    }
    const auto cells = labels::labels_per_page(request.sheet);
    if (request.first_cell >= cells) {
        return problem("start", fmt::format("the sheet has no label {}", request.first_cell + 1),
                       fmt::format("1 to {}", cells));
    }
    const auto contents = contents_of(workshop, request);
    if (!contents) return tl::unexpected(contents.error());
    if (ending != ".pdf" && contents->size() != 1) {
        return problem("out", fmt::format("a picture holds one label, not {}", contents->size()),
                       "one code, or a file that ends in .pdf");
    }
    const auto bytes = bytes_of(*contents, request, ending, workshop.progress());
    write_file(request.out, bytes);
    return LabelsMade{contents->size(),
                      (request.first_cell + contents->size() + cells - 1) / cells};
}

labels::Sheet usual_label_sheet() {
    return labels::sheet_from("letter-30").value();
}

std::filesystem::path label_place(Workshop& workshop, std::string_view of_what) {
    return picture_place(workshop, "label-" + std::string(of_what), {".pdf"}).string() + ".pdf";
}

Result<std::filesystem::path> save_label(Workshop& workshop, std::string_view code,
                                         const Units& units) {
    LabelRequest request;
    request.units = units;
    request.codes = {std::string(code)};
    request.sheet = labels::sheet_from("roll-62").value();
    request.out = label_place(workshop, code);
    const auto made = write_labels(workshop, request);
    if (!made) return tl::unexpected(made.error());
    return request.out;
}

void write_file(const std::filesystem::path& file, const std::string& bytes) {
    std::ofstream out(file, std::ios::binary | std::ios::trunc);
    out << bytes;
    out.flush();
    if (!out) throw Error("the file " + file.string() + " cannot be written");
}

}  // namespace coilbook::app
