#include "cli/options.h"

#include <optional>

#include "base/error.h"
#include "base/text.h"
#include "quantity/parse.h"

namespace coilbook::cli {

void add_format(CLI::App& command, app::Format& format) {
    command
        .add_option_function<std::string>(
            "--format",
            [&format](const std::string& name) {
                format = value_of("--format", app::format_from(name));
            },
            "How rows are written: table for people (default), csv or json for scripts")
        ->type_name("table|csv|json");
}

void add_catalog(CLI::App& command, std::string& file, const std::string& otherwise) {
    command.add_option("--catalog", file, "The catalogue" + otherwise)->type_name("FILE");
}

std::filesystem::path catalogue_path_from(const std::string& file) {
    return app::catalogue_path(file.empty() ? std::nullopt : std::optional(file));
}

std::filesystem::path existing_catalogue(const std::string& file) {
    auto path = catalogue_path_from(file);
    std::error_code ignored;
    if (!std::filesystem::exists(path, ignored) && !ignored) {
        throw Error("there is no catalogue " + app::on_one_line(path.string()) +
                    "; 'coilbook init' makes one, or check the name");
    }
    return path;
}

app::Workshop open_workshop(const std::string& file, const Terminal& terminal) {
    auto surroundings = terminal.surroundings;
    if (!surroundings.warn) {
        surroundings.warn = [&terminal](const std::string& words) {
            terminal.err << app::on_one_line(words) << '\n';
        };
    }
    return app::Workshop::open(existing_catalogue(file), std::move(surroundings));
}

void add_water(CLI::App& command, WaterOptions& options) {
    command
        .add_option("--temperature", options.temperature,
                    "Temperature of the water that the line is fished in")
        ->type_name("T")
        ->capture_default_str();
    command
        .add_option("--salinity", options.salinity,
                    "Its practical salinity: 0 is fresh, 35 the open sea")
        ->type_name("S")
        ->capture_default_str();
}

Water water_from(const WaterOptions& options) {
    const auto temperature =
        value_of("--temperature", parse_temperature(options.temperature)).value;
    const auto number = parse_number(options.salinity);
    if (!number) {
        throw CLI::ValidationError("--salinity", coilbook::quoted(options.salinity) +
                                                     " is no number; expected a practical "
                                                     "salinity, such as 0 for fresh water or 35 "
                                                     "for the open sea");
    }
    const auto salinity = value_of("--salinity", Salinity::from_practical(*number));
    return value_of("--temperature", water_at(temperature, salinity));
}

}  // namespace coilbook::cli
