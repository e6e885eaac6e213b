// Options that several commands share, and how their texts become values.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

#include "app/table.h"
#include "base/result.h"
#include "line/water.h"

namespace coilbook::cli {

// --format table|csv|json, into `format`.
void add_format(CLI::App& command, app::Format& format);

// --temperature and --salinity of the water that the line is fished in.
struct WaterOptions {
    std::string temperature = "10 C";
    double salinity = 0.0;
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
