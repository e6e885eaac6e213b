// What can be read off a coil, and how a person's words for it become values.
//
// A reading is one thing read off one instrument at one time. The same words come in from a file, a
// command, a window's field and the catalogue, and go through the one function here, read_values.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "catalog/facets.h"
#include "quantity/parse.h"

namespace coilbook {

// The columns of a readings file that hold measurements, by the names that the contract gives them.
enum class ReadingField {
    sample_length,      // of a piece of the line, or of the whole coil, that was weighed
    sample_weight,      // of that piece, in air
    diameters,          // over the coating; the only field that may be read several times
    submerged_weight,   // of the same piece, hanging in fresh water
    sink_distance,      // of a timed drop of a level piece in still fresh water
    sink_time,          // of that drop
    water_temperature,  // of the water of the weighing and of the drop
    tint,
    taper,
    whole_length,
    whole_weight,
    floats,
};

inline constexpr std::array all_reading_fields{
    ReadingField::sample_length,     ReadingField::sample_weight, ReadingField::diameters,
    ReadingField::submerged_weight,  ReadingField::sink_distance, ReadingField::sink_time,
    ReadingField::water_temperature, ReadingField::tint,          ReadingField::taper,
    ReadingField::whole_length,      ReadingField::whole_weight,  ReadingField::floats,
};

[[nodiscard]] std::string_view name_of(ReadingField field);  // "sample_weight"
[[nodiscard]] Result<ReadingField> reading_field_from(std::string_view name);
// The unit that a bare number in this field has in the trade ("gr", "in", "mm", "s", "C"); empty
// for fields without one. The window shows it beside the field.
[[nodiscard]] std::string_view usual_unit(ReadingField field);

using ReadingValue = std::variant<Stated<Mass>, Stated<Length>, Stated<Duration>,
                                  Stated<Temperature>, Tint, Taper, bool>;

// The values in `text`: one, or for diameters one or more. A Problem names the field and what would
// be accepted, for text that is not understood and for values that no line has: nothing negative
// or zero (a weight under water may be zero), no weight above 10 kg, no length above 1 km, no
// diameter above 25 mm, no drop longer than an hour, no water outside 0 … 40 °C.
[[nodiscard]] Result<std::vector<ReadingValue>> read_values(ReadingField field,
                                                            std::string_view text,
                                                            NumberStyle style = {});

// All current readings of one coil, ready for the physics. An empty one means 'not measured'.
struct CoilReadings {
    std::optional<Stated<Length>> sample_length;
    std::optional<Stated<Mass>> sample_weight;
    std::vector<Stated<Length>> diameters;
    std::optional<Stated<Mass>> submerged_weight;
    std::optional<Stated<Length>> sink_distance;
    std::optional<Stated<Duration>> sink_time;
    std::optional<Stated<Temperature>> water_temperature;
    std::optional<Tint> tint;
    std::optional<Taper> taper;
    std::optional<Stated<Length>> whole_length;
    std::optional<Stated<Mass>> whole_weight;
    std::optional<bool> floats;
    // Codes of the instruments used; empty: the default one.
    std::string scale, tape, micrometer;

    bool operator==(const CoilReadings&) const = default;
};

// Puts a value into its field: a diameter is added, anything else replaces what was there.
// REQUIRES: `value` holds the alternative that read_values gives for `field`.
void put(CoilReadings& readings, ReadingField field, const ReadingValue& value);

// Whether `field` has been read. This is about the field alone: a sample's weight says nothing
// without its length (identify/evidence.h).
[[nodiscard]] bool has(const CoilReadings& readings, ReadingField field);

}  // namespace coilbook
