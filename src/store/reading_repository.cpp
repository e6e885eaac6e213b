#include "store/reading_repository.h"

#include <algorithm>
#include <cassert>
#include <unordered_map>

#include "base/text.h"
#include "store/coil_repository.h"
#include "store/stored_value.h"

namespace coilbook::store {
namespace {

template <class Q>
Stated<Q> stated_from(const db::Row& row) {
    Stated<Q> stated{Q::from_si(row.real("value_si")), {}};
    if (const auto u = row.optional_real("standard_uncertainty_si")) {
        stated.uncertainty = Q::from_si(*u);
    }
    return stated;
}
template <>
Stated<Temperature> stated_from(const db::Row& row) {
    Stated<Temperature> stated{Temperature::from_kelvin(row.real("value_si")), {}};
    if (const auto u = row.optional_real("standard_uncertainty_si")) {
        stated.uncertainty = TemperatureDifference::from_kelvin(*u);
    }
    return stated;
}

ReadingValue value_from(ReadingField field, const db::Row& row) {
    switch (field) {
        case ReadingField::sample_weight:
        case ReadingField::submerged_weight:
        case ReadingField::whole_weight:
            return stated_from<Mass>(row);
        case ReadingField::sample_length:
        case ReadingField::diameters:
        case ReadingField::sink_distance:
        case ReadingField::whole_length:
            return stated_from<Length>(row);
        case ReadingField::sink_time:
            return stated_from<Duration>(row);
        case ReadingField::water_temperature:
            return stated_from<Temperature>(row);
        case ReadingField::tint:
            return kept(tint_from(row.text("value_text")), "value_text");
        case ReadingField::taper:
            return kept(taper_from(row.text("value_text")), "value_text");
        case ReadingField::floats:
            return row.text("value_text") == "yes";
    }
    assert(false && "every field is read above");
    return false;
}

bool has_value(const db::Row& row) {
    return !row.is_null("value_si") || !row.is_null("value_text");
}

Reading reading_from(const db::Row& row) {
    const auto field = kept(reading_field_from(row.text("field")), "field");
    Reading reading{.id = id_at<Reading>(row, "id"),
                    .coil = id_at<Coil>(row, "coil_id"),
                    .field = field,
                    .as_written = row.text("as_written"),
                    .value = {},
                    .instrument = row.text("instrument_code"),
                    .taken_at = instant_at(row, "taken_at_utc"),
                    .supersedes = optional_id_at<Reading>(row, "superseded_id")};
    if (has_value(row)) reading.value = value_from(field, row);
    return reading;
}

// Where CoilReadings names the instrument of this kind; null where it names none.
std::string* instrument_in(CoilReadings& readings, std::string_view kind) {
    if (kind == "scale") return &readings.scale;
    if (kind == "tape") return &readings.tape;
    if (kind == "micrometer") return &readings.micrometer;
    return nullptr;
}

void put_reading(CoilReadings& readings, ReadingField field, const ReadingValue& value,
                 const std::string& instrument) {
    put(readings, field, value);
    const auto kind = instrument_kind_of(field);
    if (!kind || instrument.empty()) return;
    if (std::string* named = instrument_in(readings, *kind)) *named = instrument;
}

// A row of the statements that list what lies in the bin.
BinEntry entry_without_readings(const db::Row& row) {
    return {.coil = coil_from(row),
            .confirmed_class = row.optional_text("confirmed_class"),
            .readings = {}};
}

}  // namespace

void put_reading_of(CoilReadings& readings, const db::Row& row) {
    const auto field = kept(reading_field_from(row.text("field")), "field");
    put_reading(readings, field, value_from(field, row), row.text("instrument_code"));
}

std::optional<std::string_view> instrument_kind_of(ReadingField field) {
    switch (field) {
        case ReadingField::sample_weight:
        case ReadingField::submerged_weight:
        case ReadingField::whole_weight:
            return "scale";
        case ReadingField::sample_length:
        case ReadingField::sink_distance:
        case ReadingField::whole_length:
            return "tape";
        case ReadingField::diameters:
            return "micrometer";
        case ReadingField::sink_time:
            return "stopwatch";
        case ReadingField::water_temperature:
            return "thermometer";
        case ReadingField::tint:
        case ReadingField::taper:
        case ReadingField::floats:
            return std::nullopt;
    }
    assert(false && "every field is named above");
    return std::nullopt;
}

ReadingRepository::ReadingRepository(const db::Database& database)
    : database_(database),
      insert_(database, R"sql(
          INSERT INTO reading (id, coil, field, as_written, value_si, value_text,
                               standard_uncertainty_si, instrument, taken_at_utc, supersedes)
          VALUES (:id, (SELECT rid FROM coil WHERE id = :coil), :field, :as_written, :value_si,
                  :value_text, :standard_uncertainty_si, :instrument, :taken_at_utc,
                  (SELECT rid FROM reading WHERE id = :supersedes)))sql"),
      find_instrument_(database, R"sql(
          SELECT rid FROM standing_instrument WHERE kind = :kind AND code = :code)sql"),
      list_all_(database, R"sql(
          SELECT r.*, c.id AS coil_id, coalesce(i.code, '') AS instrument_code,
                 s.id AS superseded_id
          FROM reading AS r
          JOIN coil AS c ON c.rid = r.coil
          LEFT JOIN instrument AS i ON i.rid = r.instrument
          LEFT JOIN reading AS s ON s.rid = r.supersedes
          WHERE c.id = :coil AND r.is_undone = 0
          ORDER BY r.taken_at_utc, r.rid)sql"),
      list_current_(database, R"sql(
          SELECT r.*, c.id AS coil_id, coalesce(i.code, '') AS instrument_code,
                 s.id AS superseded_id
          FROM current_reading AS r
          JOIN coil AS c ON c.rid = r.coil
          LEFT JOIN instrument AS i ON i.rid = r.instrument
          LEFT JOIN reading AS s ON s.rid = r.supersedes
          WHERE c.id = :coil
          ORDER BY r.taken_at_utc, r.rid)sql"),
      list_bin_(database, R"sql(
          SELECT coil.*, k.name AS confirmed_class
          FROM coil
          LEFT JOIN current_confirmation AS c ON c.coil = coil.rid
          LEFT JOIN reference_class AS k ON k.rid = c.class
          WHERE coil.retired_at_utc IS NULL AND coil.is_undone = 0
          ORDER BY coil.code)sql"),
      list_bin_readings_(database, R"sql(
          SELECT r.coil, r.field, r.value_si, r.value_text, r.standard_uncertainty_si,
                 coalesce(i.code, '') AS instrument_code
          FROM current_reading AS r
          LEFT JOIN instrument AS i ON i.rid = r.instrument
          ORDER BY r.coil, r.taken_at_utc, r.rid)sql"),
      find_in_bin_(database, R"sql(
          SELECT coil.*, k.name AS confirmed_class
          FROM coil
          LEFT JOIN current_confirmation AS c ON c.coil = coil.rid
          LEFT JOIN reference_class AS k ON k.rid = c.class
          WHERE coil.id = :coil AND coil.retired_at_utc IS NULL AND coil.is_undone = 0)sql"),
      list_readings_in_bin_(database, R"sql(
          SELECT r.coil, r.field, r.value_si, r.value_text, r.standard_uncertainty_si,
                 coalesce(i.code, '') AS instrument_code
          FROM current_reading AS r
          LEFT JOIN instrument AS i ON i.rid = r.instrument
          WHERE r.coil = (SELECT rid FROM coil WHERE id = :coil)
          ORDER BY r.taken_at_utc, r.rid)sql") {}

Result<std::optional<std::int64_t>> ReadingRepository::check(const Reading& reading,
                                                             OthersOfCoil others) {
    assert((reading.value || reading.supersedes) && "a withdrawal names what it withdraws");
    const std::string field(name_of(reading.field));
    if (const auto plain = check_plain(field, reading.as_written); !plain) {
        return tl::unexpected(plain.error());
    }

    std::optional<std::int64_t> instrument;
    if (!reading.instrument.empty()) {
        const auto kind = instrument_kind_of(reading.field);
        if (!kind) {
            return problem(field, field + " is looked at, not measured", "no instrument");
        }
        if (is_plain_text(reading.instrument)) {
            instrument = find_instrument_.bind(":kind", *kind)
                             .bind(":code", reading.instrument)
                             .first([](const db::Row& row) { return row.integer("rid"); });
        }
        if (!instrument) {
            return problem(
                std::string(*kind),
                coilbook::quoted(reading.instrument) + " is not a known " + std::string(*kind),
                "the code of one in this catalogue, or none for the default");
        }
    }

    if (others == OthersOfCoil::do_not_matter) return instrument;
    const auto current = current_of(reading.coil);
    if (reading.supersedes) {
        const bool is_current = std::ranges::any_of(current, [&](const Reading& each) {
            return each.id == *reading.supersedes && each.field == reading.field;
        });
        if (!is_current) {
            return problem(field, "the reading to replace is no longer a current one of this coil",
                           "one that has been neither replaced nor withdrawn");
        }
    } else if (reading.field != ReadingField::diameters) {
        const auto there = std::ranges::find(current, reading.field, &Reading::field);
        if (there != current.end()) {
            return problem(field, field + " has been read already: " + there->as_written,
                           "a correction of that reading");
        }
    }

    return instrument;
}

Result<void> ReadingRepository::add(Act& act, const Reading& reading) {
    const auto instrument = check(reading);
    if (!instrument) return tl::unexpected(instrument.error());
    const auto cells = reading.value ? stored(*reading.value) : StoredValue{};
    std::optional<std::string> superseded;
    if (reading.supersedes) superseded = reading.supersedes->text();
    insert_.bind(":id", reading.id.text())
        .bind(":coil", reading.coil.text())
        .bind(":field", name_of(reading.field))
        .bind(":as_written", reading.as_written)
        .bind(":value_si", cells.value_si)
        .bind(":value_text", cells.value_text)
        .bind(":standard_uncertainty_si", cells.standard_uncertainty_si)
        .bind(":instrument", *instrument)
        .bind(":taken_at_utc", to_text(reading.taken_at))
        .bind(":supersedes", superseded)
        .run(act.transaction());
    return {};
}

std::vector<Reading> ReadingRepository::all_of(const Id<Coil>& coil) {
    return list_all_.bind(":coil", coil.text()).all(reading_from);
}

std::vector<Reading> ReadingRepository::current_of(const Id<Coil>& coil) {
    return list_current_.bind(":coil", coil.text()).all(reading_from);
}

CoilReadings ReadingRepository::readings_of(const Id<Coil>& coil) {
    CoilReadings readings;
    for (const auto& reading : current_of(coil)) {
        put_reading(readings, reading.field, *reading.value, reading.instrument);
    }
    return readings;
}

std::optional<BinEntry> ReadingRepository::bin_entry(const Id<Coil>& coil) {
    const db::Snapshot one_moment(database_);
    auto entry = find_in_bin_.bind(":coil", coil.text()).first(entry_without_readings);
    if (!entry) return entry;
    for (auto rows = list_readings_in_bin_.bind(":coil", coil.text()).rows(); rows.next();) {
        put_reading_of(entry->readings, rows.row());
    }
    return entry;
}

std::vector<BinEntry> ReadingRepository::bin() {
    const db::Snapshot one_moment(database_);
    std::vector<BinEntry> entries;
    std::unordered_map<std::int64_t, std::size_t> place;  // of a coil's rid in entries
    for (auto rows = list_bin_.rows(); rows.next();) {
        const auto& row = rows.row();
        place.emplace(row.integer("rid"), entries.size());
        entries.push_back(entry_without_readings(row));
    }
    for (auto rows = list_bin_readings_.rows(); rows.next();) {
        const auto& row = rows.row();
        const auto found = place.find(row.integer("coil"));
        if (found == place.end()) continue;  // of a retired coil
        put_reading_of(entries[found->second].readings, row);
    }
    return entries;
}

}  // namespace coilbook::store
