#include "catalog/readings.h"

#include <algorithm>
#include <cassert>
#include <utility>

#include "base/text.h"
#include "catalog/read_into.h"
#include "quantity/units.h"

namespace coilbook {
namespace {

struct FieldInfo {
    ReadingField field;
    std::string_view name;
    std::string_view unit;
};

constexpr std::array field_infos{
    FieldInfo{ReadingField::sample_length, "sample_length", "in"},
    FieldInfo{ReadingField::sample_weight, "sample_weight", "gr"},
    FieldInfo{ReadingField::diameters, "diameters", "mm"},
    FieldInfo{ReadingField::submerged_weight, "submerged_weight", "gr"},
    FieldInfo{ReadingField::sink_distance, "sink_distance", "in"},
    FieldInfo{ReadingField::sink_time, "sink_time", "s"},
    FieldInfo{ReadingField::water_temperature, "water_temperature", "C"},
    FieldInfo{ReadingField::tint, "tint", ""},
    FieldInfo{ReadingField::taper, "taper", ""},
    FieldInfo{ReadingField::whole_length, "whole_length", "ft"},
    FieldInfo{ReadingField::whole_weight, "whole_weight", "gr"},
    FieldInfo{ReadingField::floats, "floats", ""},
};

const FieldInfo& info_of(ReadingField field) {
    for (const auto& info : field_infos) {
        if (info.field == field) return info;
    }
    assert(false && "every field has its line in field_infos");
    return field_infos.front();
}

// Below, `take` is called with each value that is read.

// Accepts a positive value of at most `most`; `limits` says so in words.
template <class Q>
Result<void> within(const Result<Stated<Q>>& stated, std::string_view text, bool zero_is_fine,
                    Q most, const char* limits, const auto& take) {
    if (!stated) return tl::unexpected(stated.error());
    if (stated->value < Q{} || (stated->value == Q{} && !zero_is_fine)) {
        return problem("", quoted(text) + (stated->value == Q{} ? " is zero" : " is negative"),
                       limits);
    }
    if (stated->value > most) return problem("", quoted(text) + " is more than any line", limits);
    take(*stated);
    return {};
}

Result<void> read_diameters(std::string_view text, NumberStyle style, const auto& take) {
    const auto lengths = parse_lengths(text, style);
    if (!lengths) return tl::unexpected(lengths.error());
    for (const auto& length : *lengths) {
        const auto checked = within<Length>(length, text, false, 25.0 * millimetre,
                                            "diameters above zero, up to 25 mm", take);
        if (!checked) return checked;
    }
    return {};
}

Result<void> read_temperature(std::string_view text, NumberStyle style, const auto& take) {
    const auto stated = parse_temperature(text, style);
    if (!stated) return tl::unexpected(stated.error());
    // A hair of room for 32 F and 104 F, which are 0 and 40 °C but for rounding.
    const double celsius = stated->value.celsius();
    if (celsius < -1e-9 || celsius > 40.0 + 1e-9) {
        return problem("", quoted(text) + " is not liquid water at a bench",
                       "a temperature from 0 C (32 F) to 40 C (104 F)");
    }
    take(*stated);
    return {};
}

Result<bool> yes_or_no_from(std::string_view text) {
    const auto word = lower_ascii(trimmed(text));
    if (word == "yes") return true;
    if (word == "no") return false;
    return problem("", quoted(text) + " is not an answer", "yes or no");
}

template <class Value>
Result<void> one(const Result<Value>& value, const auto& take) {
    if (!value) return tl::unexpected(value.error());
    take(*value);
    return {};
}

// Whether bare numbers are in grams, centimetres or metres: then examples are, too.
bool bare_are_metric(NumberStyle style) {
    const auto unit = style.column_unit;
    return unit == "g" || unit == "cm" || unit == "m";
}

Result<void> read_any(ReadingField field, std::string_view text, NumberStyle style,
                      const auto& take) {
    constexpr Mass heaviest = 10.0 * kilogram;
    constexpr Length longest = 1000.0 * metre;
    switch (field) {
        case ReadingField::sample_length:
        case ReadingField::sink_distance:
        case ReadingField::whole_length:
            return within(parse_length(text, style), text, false, longest,
                          bare_are_metric(style) ? "a length above zero, up to 1 km, such as 61 cm"
                                                 : "a length above zero, up to 1 km, such as 24 in",
                          take);
        case ReadingField::sample_weight:
        case ReadingField::whole_weight:
            return within(parse_mass(text, style), text, false, heaviest,
                          bare_are_metric(style)
                              ? "a weight above zero, up to 10 kg, such as 1.45 g"
                              : "a weight above zero, up to 10 kg, such as 22.4 gr",
                          take);
        case ReadingField::submerged_weight:
            return within(parse_mass(text, style), text, true, heaviest,
                          bare_are_metric(style)
                              ? "a weight of zero or more, up to 10 kg, such as 0.98 g"
                              : "a weight of zero or more, up to 10 kg, such as 15.2 gr",
                          take);
        case ReadingField::diameters:
            return read_diameters(text, style, take);
        case ReadingField::sink_time:
            return within(parse_duration(text, style), text, false, 3600.0 * second,
                          "a time above zero, up to an hour, such as 12.5 s", take);
        case ReadingField::water_temperature:
            return read_temperature(text, style, take);
        case ReadingField::tint:
            return one(tint_from(text), take);
        case ReadingField::taper:
            return one(taper_from(text), take);
        case ReadingField::floats:
            return one(yes_or_no_from(text), take);
    }
    assert(false && "every field is read above");
    return {};
}

}  // namespace

std::string_view name_of(ReadingField field) {
    return info_of(field).name;
}
std::string_view usual_unit(ReadingField field) {
    return info_of(field).unit;
}

Result<ReadingField> reading_field_from(std::string_view name) {
    std::string known;
    for (const auto& info : field_infos) {
        if (info.name == name) return info.field;
        known += (known.empty() ? "" : ", ") + std::string(info.name);
    }
    return problem("", quoted(name) + " is not a reading", "one of " + known);
}

Result<std::vector<ReadingValue>> read_values(ReadingField field, std::string_view text,
                                              NumberStyle style) {
    std::vector<ReadingValue> values;
    auto read = read_any(field, text, style, [&](const auto& value) { values.push_back(value); });
    if (read) return values;
    read.error().field = name_of(field);
    return tl::unexpected(std::move(read.error()));
}

Result<void> read_into(CoilReadings& readings, ReadingField field, std::string_view text,
                       NumberStyle style) {
    auto read = read_any(field, text, style,
                         [&](const auto& value) { put(readings, field, ReadingValue(value)); });
    if (!read) read.error().field = name_of(field);
    return read;
}

void put(CoilReadings& readings, ReadingField field, const ReadingValue& value) {
    switch (field) {
        case ReadingField::sample_length:
            readings.sample_length = std::get<Stated<Length>>(value);
            break;
        case ReadingField::sample_weight:
            readings.sample_weight = std::get<Stated<Mass>>(value);
            break;
        case ReadingField::diameters:
            readings.diameters.push_back(std::get<Stated<Length>>(value));
            break;
        case ReadingField::submerged_weight:
            readings.submerged_weight = std::get<Stated<Mass>>(value);
            break;
        case ReadingField::sink_distance:
            readings.sink_distance = std::get<Stated<Length>>(value);
            break;
        case ReadingField::sink_time:
            readings.sink_time = std::get<Stated<Duration>>(value);
            break;
        case ReadingField::water_temperature:
            readings.water_temperature = std::get<Stated<Temperature>>(value);
            break;
        case ReadingField::tint:
            readings.tint = std::get<Tint>(value);
            break;
        case ReadingField::taper:
            readings.taper = std::get<Taper>(value);
            break;
        case ReadingField::whole_length:
            readings.whole_length = std::get<Stated<Length>>(value);
            break;
        case ReadingField::whole_weight:
            readings.whole_weight = std::get<Stated<Mass>>(value);
            break;
        case ReadingField::floats:
            readings.floats = std::get<bool>(value);
            break;
    }
}

bool has(const CoilReadings& readings, ReadingField field) {
    switch (field) {
        case ReadingField::sample_length:
            return readings.sample_length.has_value();
        case ReadingField::sample_weight:
            return readings.sample_weight.has_value();
        case ReadingField::diameters:
            return !readings.diameters.empty();
        case ReadingField::submerged_weight:
            return readings.submerged_weight.has_value();
        case ReadingField::sink_distance:
            return readings.sink_distance.has_value();
        case ReadingField::sink_time:
            return readings.sink_time.has_value();
        case ReadingField::water_temperature:
            return readings.water_temperature.has_value();
        case ReadingField::tint:
            return readings.tint.has_value();
        case ReadingField::taper:
            return readings.taper.has_value();
        case ReadingField::whole_length:
            return readings.whole_length.has_value();
        case ReadingField::whole_weight:
            return readings.whole_weight.has_value();
        case ReadingField::floats:
            return readings.floats.has_value();
    }
    return false;
}

}  // namespace coilbook
