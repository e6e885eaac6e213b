#include "store/instrument_repository.h"

#include <array>
#include <cmath>
#include <string>
#include <utility>

#include "base/text.h"
#include "catalog/coil.h"
#include "store/stored_value.h"

namespace coilbook::store {
namespace {

template <class Q>
Q from_si(double si) {
    if constexpr (std::is_same_v<Q, TemperatureDifference>) {
        return TemperatureDifference::from_kelvin(si);
    } else {
        return Q::from_si(si);
    }
}

// Fills the figures of `instrument`, of whatever kind, from a row.
template <class Q>
void fill(Instrument<Q>& instrument, const db::Row& row) {
    instrument.code = row.text("code");
    instrument.resolution = from_si<Q>(row.real("resolution_si"));
    instrument.limit_of_error = from_si<Q>(row.real("limit_of_error_si"));
    instrument.repeatability = from_si<Q>(row.real("repeatability_si"));
    instrument.offset = from_si<Q>(row.real("offset_si"));
    instrument.offset_uncertainty = from_si<Q>(row.real("offset_uncertainty_si"));
}

template <class Kind>
void keep(std::map<std::string, Kind, std::less<>>& instruments, const db::Row& row) {
    Kind instrument;
    fill(instrument, row);
    instruments.insert_or_assign(instrument.code, instrument);
}

void keep(Instruments& instruments, const db::Row& row) {
    const auto kind = row.text("kind");
    if (kind == "scale") return keep(instruments.scales, row);
    if (kind == "tape") return keep(instruments.tapes, row);
    if (kind == "micrometer") return keep(instruments.micrometers, row);
    if (kind == "stopwatch") return keep(instruments.stopwatches, row);
    if (kind == "thermometer") return keep(instruments.thermometers, row);
    throw Error("the catalogue is damaged: it has an instrument of kind " + coilbook::quoted(kind));
}

}  // namespace

InstrumentRepository::InstrumentRepository(const db::Database& database)
    : find_(database, R"sql(
          SELECT id FROM instrument WHERE kind = :kind AND code = :code
          ORDER BY is_undone, rid DESC LIMIT 1)sql"),
      insert_(database, R"sql(
          INSERT INTO instrument (id, kind, code, resolution_si, limit_of_error_si,
                                  repeatability_si, offset_si, offset_uncertainty_si)
          VALUES (:id, :kind, :code, :resolution_si, :limit_of_error_si, :repeatability_si,
                  :offset_si, :offset_uncertainty_si))sql"),
      update_(database, R"sql(
          UPDATE instrument SET
              is_undone = 0,
              resolution_si = :resolution_si,
              limit_of_error_si = :limit_of_error_si,
              repeatability_si = :repeatability_si,
              offset_si = :offset_si,
              offset_uncertainty_si = :offset_uncertainty_si
          WHERE id = :id)sql"),
      list_(database, R"sql(
          SELECT kind, code, resolution_si, limit_of_error_si, repeatability_si, offset_si,
                 offset_uncertainty_si
          FROM standing_instrument ORDER BY kind, code)sql") {}

template <class Q>
Result<void> InstrumentRepository::put_figures(Act& act, const InstrumentId& id,
                                               std::string_view kind,
                                               const Instrument<Q>& instrument) {
    if (!instrument.code.empty()) {  // an instrument's code is written as a coil's is
        const auto code = coil_code_from(instrument.code);
        if (!code) return tl::unexpected(code.error());
        if (*code != instrument.code) {
            return problem("code", coilbook::quoted(instrument.code) + " has blanks around it",
                           *code);
        }
    }
    const std::array figures{
        std::pair{"resolution", si_of(instrument.resolution)},
        std::pair{"limit_of_error", si_of(instrument.limit_of_error)},
        std::pair{"repeatability", si_of(instrument.repeatability)},
        std::pair{"offset_u", si_of(instrument.offset_uncertainty)},
    };
    for (const auto& [name, figure] : figures) {
        if (!std::isfinite(figure) || figure < 0.0) {
            return problem(name, std::string(name) + " is negative or no number", "zero or more");
        }
    }
    if (!std::isfinite(si_of(instrument.offset))) {
        return problem("offset", "offset is no number", "a finite number");
    }
    const auto known =
        find_.bind(":kind", kind).bind(":code", instrument.code).first([](const db::Row& row) {
            return row.text("id");
        });
    auto& put = known ? update_ : insert_;
    if (!known) put.bind(":kind", kind).bind(":code", instrument.code);
    put.bind(":id", known.value_or(id.text()))
        .bind(":resolution_si", si_of(instrument.resolution))
        .bind(":limit_of_error_si", si_of(instrument.limit_of_error))
        .bind(":repeatability_si", si_of(instrument.repeatability))
        .bind(":offset_si", si_of(instrument.offset))
        .bind(":offset_uncertainty_si", si_of(instrument.offset_uncertainty))
        .run(act.transaction());
    return {};
}

Result<void> InstrumentRepository::put(Act& act, const InstrumentId& id, const Scale& scale) {
    return put_figures<Mass>(act, id, "scale", scale);
}
Result<void> InstrumentRepository::put(Act& act, const InstrumentId& id, const Tape& tape) {
    return put_figures<Length>(act, id, "tape", tape);
}
Result<void> InstrumentRepository::put(Act& act, const InstrumentId& id,
                                       const Micrometer& micrometer) {
    return put_figures<Length>(act, id, "micrometer", micrometer);
}
Result<void> InstrumentRepository::put(Act& act, const InstrumentId& id,
                                       const Stopwatch& stopwatch) {
    return put_figures<Duration>(act, id, "stopwatch", stopwatch);
}
Result<void> InstrumentRepository::put(Act& act, const InstrumentId& id,
                                       const Thermometer& thermometer) {
    return put_figures<TemperatureDifference>(act, id, "thermometer", thermometer);
}

Instruments InstrumentRepository::all() {
    auto instruments = default_instruments();
    for (auto rows = list_.rows(); rows.next();) keep(instruments, rows.row());
    return instruments;
}

}  // namespace coilbook::store
