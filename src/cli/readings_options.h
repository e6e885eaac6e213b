// What the commands that read a readings file have in common: the file, what counts as known, the
// format, and how problems are told.
#pragma once

#include <cstddef>
#include <string>

#include "app/built_in_library.h"
#include "cli/options.h"
#include "cli/progress_line.h"
#include "cli/run.h"

namespace coilbook::cli {

struct ReadingsOptions {
    std::string readings;
    std::string catalog;
    std::string instruments;
    app::Format format = app::Format::table;
};
void add_readings_file(CLI::App& command, ReadingsOptions& options);

// Fills in what the options say; a Request is one of app's. Throws Error if the catalogue cannot be
// opened.
template <class Request>
[[nodiscard]] Request request_from(const ReadingsOptions& options, const Terminal& terminal) {
    Request request;
    request.readings = options.readings;
    request.instruments_file = options.instruments;
    if (options.catalog.empty()) {
        request.library = app::built_in_library();
    } else {
        const auto workshop = open_workshop(options.catalog, terminal);
        request.library = workshop.library();
        request.instruments = workshop.instruments();
    }
    request.format = options.format;
    request.terminal_width = terminal.out_width;
    return request;
}

// Problems go to standard error, the count of coils to a line that they hide. Both must outlive it.
template <class Reports>
[[nodiscard]] Reports reports_on(const Terminal& terminal, ProgressLine& progress) {
    Reports reports;
    reports.problem = [&](const Problem& problem) {
        progress.hide();
        tell(terminal, problem);
    };
    if constexpr (requires { reports.warning; }) {
        reports.warning = [&](const Problem& problem) {
            terminal.err << "note: ";
            tell(terminal, problem);
        };
    }
    reports.progress = [&](std::size_t coils_done) { progress.show(coils_done, "coils"); };
    reports.coils_are_done = [&] { progress.hide(); };
    return reports;
}

}  // namespace coilbook::cli
