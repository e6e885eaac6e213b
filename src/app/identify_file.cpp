#include "app/identify_file.h"

#include "app/verdict_rows.h"
#include "exchange/instruments_file.h"
#include "exchange/readings_file.h"
#include "identify/identify.h"

namespace coilbook::app {
namespace {

exchange::InstrumentsResult instruments_for(const IdentifyRequest& request) {
    if (request.instruments_file.empty()) return request.instruments;
    return exchange::read_instruments(request.instruments_file, request.instruments);
}

// The verdict on one row, or what is wrong with it.
tl::expected<Verdict, std::vector<Problem>> verdict_on(const exchange::ReadingsRowResult& row,
                                                       const Instruments& instruments,
                                                       const IdentifyRequest& request) {
    if (!row) return tl::unexpected(row.error());
    auto verdict = identify(row->readings, instruments, request.library, request.fished_in);
    if (verdict) return std::move(*verdict);
    return tl::unexpected(std::vector{
        exchange::in_file(request.readings.string(), row->line, std::move(verdict.error()))});
}

void add_row(RowWriter& writer, const std::string& code, const Verdict& verdict,
             const IdentifyRequest& request) {
    switch (request.format) {
        case Format::table:
            return writer.add(verdict_summary_cells(code, verdict, request.library));
        case Format::csv:
            return writer.add(verdict_cells(code, verdict, request.library));
        case Format::json:
            return writer.add(verdict_cells(code, verdict, request.library),
                              verdict_details(verdict, request.library));
    }
}

}  // namespace

bool identify_file(const IdentifyRequest& request, std::ostream& results,
                   const IdentifyReports& reports) {
    const auto tell = [](const auto& whom, const auto& what) {
        if (whom) whom(what);
    };
    const auto instruments = instruments_for(request);
    if (!instruments) {
        for (const auto& problem : instruments.error()) tell(reports.problem, problem);
        return false;
    }
    auto file = exchange::ReadingsFile::open(request.readings);
    if (!file) {
        tell(reports.problem, file.error());
        return false;
    }
    for (const auto& warning : file->warnings()) tell(reports.warning, warning);
    RowWriter writer(
        results, request.format == Format::table ? verdict_summary_columns() : verdict_columns(),
        request.format, request.terminal_width);
    bool all_are_fine = true;
    std::size_t coils_done = 0;
    while (const auto row = file->next()) {
        if (const auto verdict = verdict_on(*row, *instruments, request)) {
            add_row(writer, (*row)->code, *verdict, request);
            tell(reports.progress, ++coils_done);
            continue;
        } else {
            for (const auto& problem : verdict.error()) tell(reports.problem, problem);
        }
        all_are_fine = false;
        if (request.stops_at_first_problem) break;
    }
    if (reports.coils_are_done) reports.coils_are_done();
    writer.finish("± is one standard deviation (k = 1).");
    return all_are_fine;
}

}  // namespace coilbook::app
