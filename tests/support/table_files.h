// Tables of a workshop for tests: as files hold them, and brought in.
#pragma once

#include <map>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "app/export_table.h"
#include "app/import_table.h"
#include "support/workshop.h"

namespace coilbook::app {

inline const store::Kind& kind(std::string_view name) {
    return **store::kind_named(name);
}

inline std::string exported(Workshop& workshop, const store::Kind& of, Format format,
                            bool with_names = true) {
    std::ostringstream out;
    export_table(workshop, of, out, format, with_names);
    return out.str();
}
inline std::map<std::string, std::string> exported(Workshop& workshop, Format format,
                                                   bool with_names = true) {
    std::map<std::string, std::string> files;
    for (const auto& each : store::all_kinds()) {
        files[std::string(each.name)] = exported(workshop, each, format, with_names);
    }
    return files;
}

struct Imported {
    Result<ImportCounts> counts;
    std::string out;
    std::vector<std::string> problems;
};
inline Imported imported(Workshop& workshop, const store::Kind& of, const std::string& text,
                         ImportRequest request = {}) {
    request.kind = &of;
    if (request.file.empty()) request.file = "file";
    std::istringstream stream(text);
    std::ostringstream out;
    std::vector<std::string> problems;
    ImportReports reports;
    reports.problem = [&](const Problem& problem) { problems.push_back(to_line(problem)); };
    auto counts = import_table(workshop, request, stream, out, reports);
    return {std::move(counts), out.str(), std::move(problems)};
}

}  // namespace coilbook::app
