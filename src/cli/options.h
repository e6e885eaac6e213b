// Options that several commands share, and how their texts become values.
#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>
#include <string>

#include "app/table.h"
#include "app/workshop.h"
#include "base/result.h"
#include "cli/run.h"
#include "line/water.h"

namespace coilbook::cli {

// --format table|csv|json, into `format`.
void add_format(CLI::App& command, app::Format& format);

// --catalog FILE, into `file`; what it means when it is not given is told by `otherwise`.
void add_catalog(CLI::App& command, std::string& file, const std::string& otherwise);
// The catalogue of --catalog, $COILBOOK_CATALOG or the default place.
[[nodiscard]] std::filesystem::path catalogue_path_from(const std::string& file);
// The same; throws Error, naming the command that makes one, where there is none.
[[nodiscard]] std::filesystem::path existing_catalogue(const std::string& file);
[[nodiscard]] app::Workshop open_workshop(const std::string& file, const Terminal& terminal);
inline constexpr const char* or_default_catalogue =
    "; else $COILBOOK_CATALOG, else coilbook/catalogue.coilbook in the data folder";

// Adds a command below `parent` that does `act` with `options`, and gives it --catalog; what else
// it takes is for the caller to add.
template <class Options>
CLI::App* add_below(CLI::App& parent, const char* name, const char* what,
                    const std::shared_ptr<Options>& options, const Terminal& terminal, int& status,
                    int (*act)(const Options&, const Terminal&)) {
    auto* command = parent.add_subcommand(name, what);
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->callback([=, &terminal, &status] { status = act(*options, terminal); });
    return command;
}

// 0, or 1 after telling the Problem.
template <class Value>
[[nodiscard]] int status_of(const Result<Value>& result, const Terminal& terminal) {
    if (result) return done;
    tell(terminal, result.error());
    return could_not_be_done;
}

// --temperature and --salinity of the water that the line is fished in.
struct WaterOptions {
    std::string temperature = "10 C";
    std::string salinity = "0";
};
void add_water(CLI::App& command, WaterOptions& options);
[[nodiscard]] Water water_from(const WaterOptions& options);

// The value, or a CLI::ValidationError that names `option` and tells the Problem.
template <class Value>
[[nodiscard]] Value value_of(const char* option, Result<Value> result) {
    if (!result) {
        auto problem = result.error();
        problem.field.clear();
        throw CLI::ValidationError(option, to_line(problem));
    }
    return std::move(*result);
}

}  // namespace coilbook::cli
