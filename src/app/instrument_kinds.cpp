#include "app/instrument_kinds.h"

#include <cassert>
#include <optional>

#include "app/instrument_drawers.h"
#include "base/text.h"
#include "quantity/parse.h"

namespace coilbook::app {
namespace {

constexpr std::array<std::string_view, 2> weights{"gr", "g"};
constexpr std::array<std::string_view, 2> lengths{"mm", "in"};
constexpr std::array<std::string_view, 1> times{"s"};
constexpr std::array<std::string_view, 2> temperatures{"°C", "°F"};

template <class Q>
Result<ShownFigure> figure_of(const Result<Stated<Q>>& stated, std::string_view text) {
    if (!stated) return tl::unexpected(stated.error());
    if (stated->uncertainty) {
        return problem("", coilbook::quoted(text) + " has an uncertainty of its own", "one figure");
    }
    return ShownFigure{stated->value};
}

double size_of(std::string_view unit) {
    if (unit == "gr") return grain.si();
    if (unit == "g") return gram.si();
    if (unit == "mm") return millimetre.si();
    if (unit == "in") return inch.si();
    if (unit == "°F") return 1.0 / 1.8;
    assert((unit == "s" || unit == "°C") && "a unit that an instrument shows");
    return 1.0;
}

double si_of(const ShownFigure& figure) {
    return std::visit([](auto quantity) { return quantity.si(); }, figure);
}

}  // namespace

std::string_view name_of(InstrumentKind kind) {
    switch (kind) {
        case InstrumentKind::scale:
            return "scale";
        case InstrumentKind::tape:
            return "tape";
        case InstrumentKind::micrometer:
            return "micrometer";
        case InstrumentKind::stopwatch:
            return "stopwatch";
        case InstrumentKind::thermometer:
            return "thermometer";
    }
    return {};
}

std::string in_words(const InstrumentKey& key) {
    return std::string(name_of(key.kind)) + (key.code.empty() ? "" : " " + key.code);
}

std::span<const std::string_view> units_of(InstrumentKind kind) {
    switch (kind) {
        case InstrumentKind::scale:
            return weights;
        case InstrumentKind::tape:
        case InstrumentKind::micrometer:
            return lengths;
        case InstrumentKind::stopwatch:
            return times;
        case InstrumentKind::thermometer:
            return temperatures;
    }
    return {};
}

Result<ShownFigure> reading_from(InstrumentKind kind, std::string_view text,
                                 std::string_view unit) {
    const NumberStyle style{'.', unit};
    switch (kind) {
        case InstrumentKind::scale:
            return figure_of(parse_mass(text, style), text);
        case InstrumentKind::tape:
        case InstrumentKind::micrometer:
            return figure_of(parse_length(text, style), text);
        case InstrumentKind::stopwatch:
            return figure_of(parse_duration(text, style), text);
        case InstrumentKind::thermometer: {
            const auto read = parse_temperature(text, style);
            if (!read) return tl::unexpected(read.error());
            if (read->uncertainty) {
                return problem("", coilbook::quoted(text) + " has an uncertainty of its own",
                               "one figure");
            }
            return ShownFigure{TemperatureDifference::from_kelvin(read->value.celsius())};
        }
    }
    return problem("", "no such kind of instrument", "");
}

Result<ShownFigure> span_from(InstrumentKind kind, std::string_view text, std::string_view unit) {
    auto span = kind == InstrumentKind::thermometer
                    ? parse_temperature_difference(text, {'.', unit}).map([](auto difference) {
                          return ShownFigure{difference};
                      })
                    : reading_from(kind, text, unit);
    if (span && si_of(*span) < 0.0) {
        return problem("", coilbook::quoted(text) + " is negative", "zero or more");
    }
    return span;
}

double number_of_reading(const ShownFigure& reading, std::string_view unit) {
    return number_of_span(reading, unit) + (unit == "°F" ? 32.0 : 0.0);
}

double number_of_span(const ShownFigure& span, std::string_view unit) {
    return si_of(span) / size_of(unit);
}

std::string span_in_words(const ShownFigure& span, const ShownFigure& uncertainty,
                          std::string_view unit) {
    return with_uncertainty(number_of_span(span, unit), number_of_span(uncertainty, unit)) + " " +
           std::string(unit);
}

std::string span_in_words(const ShownFigure& span, std::string_view unit) {
    return significant(number_of_span(span, unit), 2) + " " + std::string(unit);
}

Result<AnyInstrument> instrument_of(const Instruments& instruments, const InstrumentKey& key) {
    std::optional<AnyInstrument> found;
    for_each_kind([&](InstrumentKind kind, auto drawer) {
        if (kind != key.kind) return;
        const auto at = (instruments.*drawer).find(key.code);
        if (at != (instruments.*drawer).end()) found = at->second;
    });
    if (found) return *found;
    return problem("instrument", "there is no " + in_words(key) + " in the catalogue",
                   "an instrument that 'coilbook instruments list' shows");
}

}  // namespace coilbook::app
