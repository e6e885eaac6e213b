// The instruments on the bench, as the catalogue keeps them.
#pragma once

#include <string_view>

#include "base/id.h"
#include "db/statement.h"
#include "metrology/instrument.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

struct BenchInstrument;
using InstrumentId = Id<BenchInstrument>;

class InstrumentRepository {
  public:
    explicit InstrumentRepository(const db::Database& database);

    // Adds the instrument, or gives the one of that kind and code these figures (it then keeps its
    // own id, and readings taken with it are seen with the new figures; the old ones are in the
    // history). An empty code replaces the default of its kind. A Problem names a code that cannot
    // be one, and figures that are negative or not finite.
    [[nodiscard]] Result<void> put(Act& act, const InstrumentId& id, const Scale& scale);
    [[nodiscard]] Result<void> put(Act& act, const InstrumentId& id, const Tape& tape);
    [[nodiscard]] Result<void> put(Act& act, const InstrumentId& id, const Micrometer& micrometer);
    [[nodiscard]] Result<void> put(Act& act, const InstrumentId& id, const Stopwatch& stopwatch);
    [[nodiscard]] Result<void> put(Act& act, const InstrumentId& id,
                                   const Thermometer& thermometer);

    // default_instruments(), with those of the catalogue added or put in their place.
    [[nodiscard]] Instruments all();

  private:
    template <class Q>
    Result<void> put_figures(Act& act, const InstrumentId& id, std::string_view kind,
                             const Instrument<Q>& instrument);

    db::Statement find_;
    db::Statement insert_;
    db::Statement update_;
    db::Statement list_;
};

}  // namespace coilbook::store
