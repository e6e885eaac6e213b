#include "app/identify_file.h"

#include <algorithm>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>
#include <span>
#include <thread>

#include "app/in_order.h"
#include "app/verdict_rows.h"
#include "exchange/readings_file.h"
#include "identify/identify.h"

namespace coilbook::app {
namespace {

// A row of the file and what has become of it.
struct Row {
    exchange::CsvRow cells;
    bool has_cells = false;         // it could be read at all
    std::vector<Problem> problems;  // none: it was done
    std::vector<Cell> summary;      // of a table's row
    std::size_t text_end = 0;       // of any other: of its text in the batch's
};

// Some rows, so that threads need not meet for each. Batches are used again, so that a row of a
// long file asks for no memory.
struct Batch {
    std::vector<Row> rows = std::vector<Row>(rows_of_a_batch);
    std::size_t count = 0;
    std::string text;  // of all rows that were done, one after the other

    static constexpr std::size_t rows_of_a_batch = 256;
};
using BatchPointer = std::unique_ptr<Batch>;

// Reads the next rows, and finds whose code stood already; gives whether there were any.
bool fill(Batch& batch, exchange::ReadingsFile& file) {
    batch.count = 0;
    batch.text.clear();
    while (batch.count < batch.rows.size()) {
        auto& row = batch.rows[batch.count];
        row.problems.clear();
        const auto read = file.next_cells(row.cells);
        if (!read) break;
        ++batch.count;
        row.has_cells = read->has_value();
        if (!row.has_cells) row.problems.push_back(read->error());
    }
    const std::span rows(batch.rows.data(), batch.count);
    for (const auto& row : rows) {
        if (row.has_cells) file.expect_code(row.cells);
    }
    for (auto& row : rows) {
        if (!row.has_cells) continue;
        if (auto repeated = file.repeated_code(row.cells)) {
            row.problems.push_back(std::move(*repeated));
        }
    }
    return batch.count > 0;
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
                   .in_words = request.format == Format::json,
                   .ranked = request.format == Format::json ? SIZE_MAX : 2},
          request_(request),
          file_(file),
          writer_(writer) {}

    void work(Batch& batch) {
        for (auto& row : std::span(batch.rows.data(), batch.count)) {
            work(row, batch.text);
            row.text_end = batch.text.size();
        }
    }

  private:
    void work(Row& row, std::string& text) {
        if (!row.has_cells) return;
        if (auto understood = file_.understand(row.cells, false, readings_row_); !understood) {
            // A code that stood already is told last.
            row.problems.insert(row.problems.begin(),
                                std::move_iterator(understood.error().begin()),
                                std::move_iterator(understood.error().end()));
        }
        if (!row.problems.empty()) return;
        auto given = identifier_.give_verdict(readings_row_.readings, inquiry_, verdict_);
        if (!given) {
            row.problems.push_back(exchange::in_file(request_.readings.string(), readings_row_.line,
                                                     std::move(given.error())));
            return;
        }
        const auto& library = library_.classes();
        const auto& code = readings_row_.code;
        switch (request_.format) {
            case Format::table:
                row.summary = verdict_summary_cells(code, verdict_, library);
                break;
            case Format::csv:
                append_verdict_csv(text, code, verdict_, library);
                break;
            case Format::json:
                text += writer_.rendered(verdict_cells(code, verdict_, library),
                                         verdict_details(verdict_, library));
                break;
        }
    }

    const PreparedLibrary& library_;
    Identifier identifier_;
    Inquiry inquiry_;
    const IdentifyRequest& request_;
    const exchange::ReadingsFile& file_;
    const RowWriter& writer_;
    exchange::ReadingsRow readings_row_{};  // the last one; used again
    Verdict verdict_;
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
    const PreparedLibrary library(request.library);
    if (const auto fit = check_library(library); !fit) {
        tell(reports.problem, fit.error());
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

    std::vector<Clerk> clerks;
    for (unsigned i = 0; i < std::max(1U, std::thread::hardware_concurrency()); ++i) {
        clerks.emplace_back(library, *instruments, request, *file, writer);
    }
    bool all_are_fine = true;
    std::size_t coils_done = 0;
    std::vector<BatchPointer> done_with;
    const auto next_batch = [&]() -> std::optional<BatchPointer> {
        if (done_with.empty()) done_with.push_back(std::make_unique<Batch>());
        auto batch = std::move(done_with.back());
        done_with.pop_back();
        if (!fill(*batch, *file)) return std::nullopt;
        return batch;
    };
    // Gives whether to go on.
    const auto put_out = [&](Row& row, std::string_view text) {
        for (const auto& problem : row.problems) tell(reports.problem, problem);
        if (!row.problems.empty()) {
            all_are_fine = false;
            return !request.stops_at_first_problem;
        }
        if (request.format == Format::table) {
            writer.add(row.summary);
        } else {
            writer.add_rendered(text);
        }
        tell(reports.progress, ++coils_done);
        return true;
    };
    in_order<BatchPointer, BatchPointer>(
        static_cast<unsigned>(clerks.size()), next_batch,
        [&](BatchPointer& batch, unsigned number) {
            clerks[number].work(*batch);
            return std::move(batch);
        },
        [&](BatchPointer& batch) {
            std::size_t from = 0;
            for (auto& row : std::span(batch->rows.data(), batch->count)) {
                const auto text = std::string_view(batch->text).substr(from, row.text_end - from);
                if (!put_out(row, text)) return false;
                from = row.text_end;
            }
            done_with.push_back(std::move(batch));
            return true;
        });
    if (reports.coils_are_done) reports.coils_are_done();
    writer.finish("± is one standard deviation (k = 1).");
    return all_are_fine;
}

}  // namespace coilbook::app
