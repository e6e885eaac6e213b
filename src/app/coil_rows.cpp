#include "app/coil_rows.h"

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "app/bin.h"
#include "app/coil_changes.h"
#include "app/learning.h"
#include "app/text_width.h"
#include "app/verdict_rows.h"
#include "quantity/print.h"
#include "quantity/units.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"

namespace coilbook::app {
namespace {

std::vector<Column> list_columns() {
    return {{"code"},
            {"state"},
            {"confirmed_class"},
            {"best_class"},
            {"best_class_probability", true},
            {"grains_per_foot", true},
            {"grains_per_foot_u", true},
            {"sink_rate_in_s", true},
            {"sink_rate_in_s_u", true},
            {"next_reading"},
            {"flags"},
            {"notes"}};
}

std::vector<Column> list_summary_columns() {
    return {{"code"},
            {"state", false, 4, 1},
            {"class"},
            {"gr/ft", true, 4, 2},
            {"sinks in/s", true},
            {"read next", false, 4, 3},
            {"notes", false, 4, 4}};
}

// The cells of `columns`, picked by name from a row under `all`.
std::vector<Cell> picked(const std::vector<Column>& columns, const std::vector<Column>& all,
                         const std::vector<Cell>& cells) {
    std::vector<Cell> few;
    for (const auto& column : columns) {
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (all[i].name == column.name) few.push_back(cells[i]);
        }
    }
    return few;
}

std::vector<Cell> list_cells(Bin& bin, std::size_t at) {
    const auto& entry = bin.entry(at);
    auto all = verdict_columns();
    auto cells = verdict_cells(entry.coil.code, bin.verdict(at), bin.library());
    all.insert(all.end(), {{"state"}, {"confirmed_class"}, {"notes"}});
    cells.insert(cells.end(),
                 {std::string(name_of(bin.state(at))), cell_of(entry.confirmed_class.value_or("")),
                  cell_of(entry.coil.notes)});
    return picked(list_columns(), all, cells);
}

std::vector<Cell> list_summary_cells(Bin& bin, std::size_t at) {
    const auto& entry = bin.entry(at);
    const auto all = verdict_summary_columns();
    const auto cells = verdict_summary_cells(entry.coil.code, bin.verdict(at), bin.library());
    const auto facts = picked({{"gr/ft"}, {"sinks in/s"}, {"read next"}}, all, cells);
    const auto state = bin.state(at);
    return {entry.coil.code,
            std::string(name_of(state)),
            cell_of(bin.label(at).text()),
            facts[0],
            facts[1],
            state == CoilState::needs_reading ? facts[2] : Cell{},
            cell_of(entry.coil.notes)};
}

std::vector<Column> reading_columns() {
    return {{"field"}, {"as_written"}, {"instrument"}, {"taken_at"}};
}

std::vector<Cell> reading_cells(const Reading& reading) {
    return {std::string(name_of(reading.field)), cell_of(reading.as_written),
            cell_of(reading.instrument), to_text(reading.taken_at)};
}

// "sample_weight: 22.4 gr; tint: dark"
std::string readings_text(const std::vector<Reading>& readings) {
    std::string text;
    for (const auto& reading : readings) {
        text += text.empty() ? "" : "; ";
        text += std::string(name_of(reading.field)) + ": " + reading.as_written;
    }
    return text;
}

exchange::Json said_json(const std::vector<Confirmation>& said) {
    auto array = exchange::Json::array();
    for (const auto& each : said) {
        array.push_back({{"at", to_text(each.at)},
                         {"by", each.by},
                         {"class", exchange::json_from(each.class_name)},
                         {"note", each.note}});
    }
    return array;
}

// What a person said of the coil, a line each: "2026-01-01 guide: T-11 (the spool turned up)".
void write_said(const std::vector<Confirmation>& said, std::ostream& out) {
    for (const auto& each : said) {
        auto line = to_text(each.at).substr(0, 10) + " " + each.by + ": " +
                    (each.class_name ? *each.class_name : "took that back");
        if (!each.note.empty()) line += " (" + each.note + ")";
        out << on_one_line(line) << '\n';
    }
    if (!said.empty()) out << '\n';
}

exchange::Json readings_json(const std::vector<Reading>& readings) {
    auto array = exchange::Json::array();
    for (const auto& reading : readings) {
        const auto instrument =
            reading.instrument.empty() ? std::nullopt : std::optional(reading.instrument);
        array.push_back({{"field", name_of(reading.field)},
                         {"as_written", reading.as_written},
                         {"instrument", exchange::json_from(instrument)},
                         {"taken_at", to_text(reading.taken_at)}});
    }
    return array;
}

void write_page(Bin& bin, std::size_t at, const std::vector<Reading>& readings,
                const std::vector<Confirmation>& said, const std::string& doubt, std::ostream& out,
                std::size_t terminal_width) {
    const auto& entry = bin.entry(at);
    out << entry.coil.code << ": " << name_of(bin.state(at));
    if (entry.confirmed_class) out << " as " << on_one_line(*entry.confirmed_class);
    out << '\n';
    if (!entry.coil.notes.empty()) out << on_one_line(entry.coil.notes) << '\n';
    out << '\n';
    if (!doubt.empty()) out << on_one_line(doubt) << '\n';
    for (const auto& reason : bin.verdict(at).because) out << on_one_line(reason) << '\n';
    out << '\n';
    write_said(said, out);
    RowWriter writer(out, reading_columns(), Format::table, terminal_width);
    for (const auto& reading : readings) writer.add(reading_cells(reading));
    writer.finish("± is one standard deviation (k = 1).");
}

}  // namespace

void list_coils(Workshop& workshop, std::ostream& out, Format format, std::size_t terminal_width) {
    Bin bin;
    bin.refresh(workshop);
    const bool is_for_people = format == Format::table;
    RowWriter writer(out, is_for_people ? list_summary_columns() : list_columns(), format,
                     terminal_width);
    for (std::size_t at = 0; at < bin.size(); ++at) {
        writer.add(is_for_people ? list_summary_cells(bin, at) : list_cells(bin, at));
    }
    writer.finish("± is one standard deviation (k = 1).");
}

Result<void> show_coil(Workshop& workshop, std::string_view code, std::ostream& out, Format format,
                       std::size_t terminal_width) {
    const auto coil = coil_by_code(workshop, code);
    if (!coil) return tl::unexpected(coil.error());
    Bin bin;
    bin.refresh(workshop);
    const auto at = bin.find(coil->id);
    if (!at) return problem("code", "the coil was retired just now", "another coil");
    const auto readings = workshop.catalogue().readings().current_of(coil->id);
    const auto& verdict = bin.verdict(*at);
    const auto doubt = doubt_about(workshop, coil->id);
    const auto said = workshop.catalogue().confirmations().all_of(coil->id);
    if (format == Format::table) {
        write_page(bin, *at, readings, said, doubt, out, terminal_width);
        return {};
    }
    auto more = verdict_details(verdict, bin.library());
    const auto& confirmed_class = bin.entry(*at).confirmed_class;
    more["state"] = name_of(bin.state(*at));
    more["confirmed_class"] = exchange::json_from(confirmed_class);
    more["notes"] = coil->notes;
    more["doubt"] = exchange::json_from(doubt.empty() ? std::nullopt : std::optional(doubt));
    more["readings"] = readings_json(readings);
    more["said"] = said_json(said);
    auto columns = verdict_columns();
    auto cells = verdict_cells(coil->code, verdict, bin.library());
    if (format == Format::csv) {
        columns.insert(columns.end(), {{"state"},
                                       {"confirmed_class"},
                                       {"notes"},
                                       {"doubt"},
                                       {"readings"},
                                       {"confirmation_note"}});
        cells.insert(cells.end(),
                     {std::string(name_of(bin.state(*at))), cell_of(confirmed_class.value_or("")),
                      cell_of(coil->notes), cell_of(doubt), cell_of(readings_text(readings)),
                      confirmed_class ? cell_of(said.back().note) : Cell{}});
    }
    RowWriter writer(out, std::move(columns), format);
    writer.add(cells, more);
    writer.finish();
    return {};
}

}  // namespace coilbook::app
