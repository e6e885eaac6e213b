// The kinds of instruments on the bench, their names, and figures in the units that they show.
//
// A figure is what an instrument shows: a weight, a length, a time, or a temperature as its
// difference from 0 °C. A span (an offset, an uncertainty) is of the same type; only temperatures
// are written differently then: a reading of 41 °F is 5 °C, a span of 9 °F is 5 °C.
#pragma once

#include <array>
#include <compare>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "exchange/bench_tables.h"
#include "metrology/instrument.h"

namespace coilbook::app {

using Done = tl::expected<void, std::vector<Problem>>;
using ShownFigure = exchange::Figure;

enum class InstrumentKind { scale, tape, micrometer, stopwatch, thermometer };
inline constexpr std::array all_instrument_kinds{
    InstrumentKind::scale, InstrumentKind::tape, InstrumentKind::micrometer,
    InstrumentKind::stopwatch, InstrumentKind::thermometer};
// An instrument of any kind, the kinds in their order.
using AnyInstrument = std::variant<Scale, Tape, Micrometer, Stopwatch, Thermometer>;

// Which instrument: its kind and its code, which is empty for the default one of its kind.
struct InstrumentKey {
    InstrumentKind kind = InstrumentKind::scale;
    std::string code;

    auto operator<=>(const InstrumentKey&) const = default;
};

[[nodiscard]] std::string_view name_of(InstrumentKind kind);  // "scale"
// "scale S2", or "scale" for the default one.
[[nodiscard]] std::string in_words(const InstrumentKey& key);

// The units in which an instrument of the kind may show, the usual one first: "gr", "g".
[[nodiscard]] std::span<const std::string_view> units_of(InstrumentKind kind);

// What people type for a reading, and for a span, which is zero or more; a bare number is in
// `unit`. A Problem (field empty) where it is something else.
[[nodiscard]] Result<ShownFigure> reading_from(InstrumentKind kind, std::string_view text,
                                               std::string_view unit);
[[nodiscard]] Result<ShownFigure> span_from(InstrumentKind kind, std::string_view text,
                                            std::string_view unit);

// The number of `unit`s, for an axis or a field: of a reading, and of a span.
// REQUIRES: a unit of units_of() that fits.
[[nodiscard]] double number_of_reading(const ShownFigure& reading, std::string_view unit);
[[nodiscard]] double number_of_span(const ShownFigure& span, std::string_view unit);

// "0.25 ± 0.02 gr", and "0.058 gr" with two significant figures; of spans.
[[nodiscard]] std::string span_in_words(const ShownFigure& span, const ShownFigure& uncertainty,
                                        std::string_view unit);
[[nodiscard]] std::string span_in_words(const ShownFigure& span, std::string_view unit);

// The instrument of that key; a Problem (field `instrument`) where there is none.
[[nodiscard]] Result<AnyInstrument> instrument_of(const Instruments& instruments,
                                                  const InstrumentKey& key);

}  // namespace coilbook::app
