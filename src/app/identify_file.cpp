#include "app/identify_file.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <thread>

#include "app/in_order.h"
#include "app/verdict_rows.h"
#include "exchange/readings_file.h"
#include "identify/identify.h"

namespace coilbook::app {
namespace {

// What has become of a row of the file.
struct RowOutcome {
    std::vector<Problem> problems;  // none: it was done
    std::vector<Cell> cells;        // of a table's row
    std::string rendered;           // of any other
};

// Some rows, so that threads need not meet for each, with the codes that stood already.
struct Batch {
    std::vector<Result<exchange::CsvRow>> rows;
    std::vector<std::optional<Problem>> repeated;
};
constexpr std::size_t rows_of_a_batch = 256;

std::optional<Batch> next_batch(exchange::ReadingsFile& file) {
    Batch batch;
    while (batch.rows.size() < rows_of_a_batch) {
        auto cells = file.next_cells();
        if (!cells) break;
        batch.repeated.push_back(*cells ? file.repeated_code(**cells) : std::nullopt);
        batch.rows.push_back(std::move(*cells));
    }
    if (batch.rows.empty()) return std::nullopt;
    return batch;
}

// What one thread needs to do rows.
class Clerk {
  public:
    Clerk(const PreparedLibrary& library, const Instruments& instruments,
          const IdentifyRequest& request, const exchange::ReadingsFile& file,
          const RowWriter& writer)
        : library_(library),
          identifier_(library, instruments),
          inquiry_{.fished_in = request.fished_in,
                   .advice = Advice::the_best,
                   .in_words = request.format == Format::json},
          request_(request),
          file_(file),
          writer_(writer) {}

    std::vector<RowOutcome> work(Batch& batch) {
        std::vector<RowOutcome> outcomes;
        outcomes.reserve(batch.rows.size());
        for (std::size_t i = 0; i < batch.rows.size(); ++i) {
            outcomes.push_back(work(batch.rows[i], batch.repeated[i]));
        }
        return outcomes;
    }

  private:
    RowOutcome work(const Result<exchange::CsvRow>& cells, std::optional<Problem>& repeated) {
        if (!cells) return {{cells.error()}, {}, {}};
        auto row = file_.understand(*cells, false);
        if (repeated) {
            if (row) return {{std::move(*repeated)}, {}, {}};
            row.error().push_back(std::move(*repeated));
        }
        if (!row) return {std::move(row.error()), {}, {}};
        auto verdict = identifier_.verdict_on(row->readings, inquiry_);
        if (!verdict) {
            return {{exchange::in_file(request_.readings.string(), row->line,
                                       std::move(verdict.error()))},
                    {},
                    {}};
        }
        const auto& library = library_.classes();
        if (request_.format == Format::table) {
            return {{}, verdict_summary_cells(row->code, *verdict, library), {}};
        }
        const auto cell_row = verdict_cells(row->code, *verdict, library);
        if (request_.format == Format::csv) return {{}, {}, writer_.rendered(cell_row)};
        return {{}, {}, writer_.rendered(cell_row, verdict_details(*verdict, library))};
    }

    const PreparedLibrary& library_;
    Identifier identifier_;
    Inquiry inquiry_;
    const IdentifyRequest& request_;
    const exchange::ReadingsFile& file_;
    const RowWriter& writer_;
};

}  // namespace

exchange::InstrumentsResult instruments_for(const Instruments& known,
                                            const std::filesystem::path& file) {
    if (file.empty()) return known;
    return exchange::read_instruments(file, known);
}

bool identify_file(const IdentifyRequest& request, std::ostream& results,
                   const IdentifyReports& reports) {
    const auto tell = [](const auto& whom, const auto& what) {
        if (whom) whom(what);
    };
    const auto instruments = instruments_for(request.instruments, request.instruments_file);
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

    const PreparedLibrary library(request.library);
    std::vector<Clerk> clerks;
    for (unsigned i = 0; i < std::max(1U, std::thread::hardware_concurrency()); ++i) {
        clerks.emplace_back(library, *instruments, request, *file, writer);
    }
    bool all_are_fine = true;
    std::size_t coils_done = 0;
    in_order<Batch, std::vector<RowOutcome>>(
        static_cast<unsigned>(clerks.size()), [&] { return next_batch(*file); },
        [&](Batch& batch, unsigned number) { return clerks[number].work(batch); },
        [&](std::vector<RowOutcome>& outcomes) {
            for (const auto& outcome : outcomes) {
                for (const auto& problem : outcome.problems) tell(reports.problem, problem);
                if (!outcome.problems.empty()) {
                    all_are_fine = false;
                    if (request.stops_at_first_problem) return false;
                } else if (request.format == Format::table) {
                    writer.add(outcome.cells);
                    tell(reports.progress, ++coils_done);
                } else {
                    writer.add_rendered(outcome.rendered);
                    tell(reports.progress, ++coils_done);
                }
            }
            return true;
        });
    if (reports.coils_are_done) reports.coils_are_done();
    writer.finish("± is one standard deviation (k = 1).");
    return all_are_fine;
}

}  // namespace coilbook::app
