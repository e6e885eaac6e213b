#include "exchange/instruments_file.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "catalog/coil.h"
#include "exchange/column_head.h"
#include "exchange/csv.h"

namespace coilbook::exchange {
namespace {

constexpr std::array columns{"code",          "kind",   "resolution", "limit_of_error",
                             "repeatability", "offset", "offset_u",   "notes"};
constexpr const char* kinds = "scale, tape, micrometer, stopwatch or thermometer";

// A figure of the kind of quantity that the instrument reads.
template <class Q>
Result<Q> figure_from(std::string_view text, NumberStyle style);

template <class Q>
Result<Q> without_uncertainty(const Result<Stated<Q>>& stated, std::string_view text) {
    if (!stated) return tl::unexpected(stated.error());
    if (stated->uncertainty) {
        return problem("", quoted(text) + " has an uncertainty of its own",
                       "one figure and a unit");
    }
    return stated->value;
}

template <>
Result<Mass> figure_from(std::string_view text, NumberStyle style) {
    return without_uncertainty(parse_mass(text, style), text);
}
template <>
Result<Length> figure_from(std::string_view text, NumberStyle style) {
    return without_uncertainty(parse_length(text, style), text);
}
template <>
Result<Duration> figure_from(std::string_view text, NumberStyle style) {
    return without_uncertainty(parse_duration(text, style), text);
}
template <>
Result<TemperatureDifference> figure_from(std::string_view text, NumberStyle style) {
    return parse_temperature_difference(text, style);
}

// One file on its way to being instruments.
class InstrumentsReader {
  public:
    InstrumentsReader(CsvReader csv, Instruments drawer)
        : csv_(std::move(csv)), instruments_(std::move(drawer)) {}

    [[nodiscard]] InstrumentsResult read() {
        understand_header();
        if (!problems_.empty()) return tl::unexpected(std::move(problems_));
        while (const auto row = csv_.next()) {
            if (*row) {
                read_row(**row);
            } else {
                problems_.push_back(row->error());
            }
        }
        if (!problems_.empty()) return tl::unexpected(std::move(problems_));
        return std::move(instruments_);
    }

  private:
    void refuse(std::size_t line, Problem problem) {
        problems_.push_back(in_file(csv_.name(), line, std::move(problem)));
    }

    void understand_header() {
        const auto line = csv_.header().line;
        auto heads = column_heads_from(csv_.header().cells);
        if (!heads) return refuse(line, heads.error());
        heads_ = std::move(*heads);
        for (const auto& head : heads_) {
            if (std::ranges::find(columns, head.name) == columns.end()) {
                refuse(line, {head.name, "the column is unknown",
                              "code, kind, resolution, limit_of_error, repeatability, offset, "
                              "offset_u or notes"});
            }
        }
        if (!column_named(heads_, "kind")) {
            refuse(line, {"kind", "the header has no such column", std::string("kind: ") + kinds});
        }
    }

    [[nodiscard]] std::string_view cell(const CsvRow& row, std::string_view column) const {
        const auto index = column_named(heads_, column);
        return index ? trimmed(row.cells[*index]) : std::string_view{};
    }

    void read_row(const CsvRow& row) {
        std::string code;
        if (const auto text = cell(row, "code"); !text.empty()) {
            const auto checked = coil_code_from(text);
            if (!checked) return refuse(row.line, checked.error());
            code = *checked;
        }
        const auto kind = lower_ascii(cell(row, "kind"));
        // Codes are unique in the file; each kind may have one row without a code.
        const auto key = code.empty() ? " " + kind : code;
        const auto [first, is_new] = line_of_code_.emplace(key, row.line);
        if (!is_new) {
            return refuse(
                row.line,
                {"code",
                 (code.empty() ? "a " + kind + " without code" : coilbook::quoted(code)) +
                     " stands already in the row on line " + std::to_string(first->second),
                 "one row for each instrument"});
        }
        if (kind == "scale") return read_figures(row, code, &Instruments::scales);
        if (kind == "tape") return read_figures(row, code, &Instruments::tapes);
        if (kind == "micrometer") return read_figures(row, code, &Instruments::micrometers);
        if (kind == "stopwatch") return read_figures(row, code, &Instruments::stopwatches);
        if (kind == "thermometer") return read_figures(row, code, &Instruments::thermometers);
        refuse(row.line, {"kind", coilbook::quoted(kind) + " is not a kind of instrument", kinds});
    }

    // `drawer` is the member of Instruments that holds one kind.
    template <class Drawer>
    void read_figures(const CsvRow& row, const std::string& code, Drawer Instruments::*drawer) {
        auto instrument = (default_instruments().*drawer).at("");
        instrument.code = code;
        const auto before = problems_.size();
        read_figure(row, "resolution", false, instrument.resolution);
        read_figure(row, "limit_of_error", false, instrument.limit_of_error);
        read_figure(row, "repeatability", false, instrument.repeatability);
        read_figure(row, "offset", true, instrument.offset);
        read_figure(row, "offset_u", false, instrument.offset_uncertainty);
        if (problems_.size() > before) return;
        const auto none = decltype(instrument.resolution){};
        if (instrument.resolution == none && instrument.limit_of_error == none &&
            instrument.repeatability == none && instrument.offset_uncertainty == none) {
            return refuse(row.line, {"resolution", "an instrument is never right without limits",
                                     "a resolution, limit of error, repeatability or offset_u "
                                     "above zero"});
        }
        (instruments_.*drawer).insert_or_assign(code, instrument);
    }

    // An empty cell leaves the figure as it is.
    template <class Q>
    void read_figure(const CsvRow& row, std::string_view column, bool may_be_negative, Q& figure) {
        const auto text = cell(row, column);
        if (text.empty()) return;
        const auto& unit = heads_[*column_named(heads_, column)].unit;
        auto read = figure_from<Q>(text, {csv_.separator() == ';' ? ',' : '.', unit});
        if (read && !may_be_negative && *read < Q{}) {
            read = problem("", quoted(text) + " is negative", "a figure of zero or more");
        }
        if (!read) {
            auto wrong = read.error();
            wrong.field = column;
            return refuse(row.line, std::move(wrong));
        }
        figure = *read;
    }

    CsvReader csv_;
    std::vector<ColumnHead> heads_;
    Instruments instruments_;
    std::vector<Problem> problems_;
    std::map<std::string, std::size_t> line_of_code_;
};

InstrumentsResult read_all(Result<CsvReader> csv, Instruments drawer) {
    if (!csv) return tl::unexpected(std::vector{csv.error()});
    return InstrumentsReader(std::move(*csv), std::move(drawer)).read();
}

}  // namespace

InstrumentsResult read_instruments(const std::filesystem::path& path, Instruments drawer) {
    return read_all(CsvReader::open(path), std::move(drawer));
}
InstrumentsResult read_instruments(std::istream& stream, const std::string& name,
                                   Instruments drawer) {
    return read_all(CsvReader::over(stream, name), std::move(drawer));
}

}  // namespace coilbook::exchange
