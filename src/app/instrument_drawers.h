// The five drawers of Instruments, gone through in order. For the use cases about instruments.
#pragma once

#include <string>
#include <string_view>

#include "app/instrument_kinds.h"
#include "quantity/print.h"

namespace coilbook::app {

// Calls `use(kind, member of Instruments)` for each kind of instrument.
template <class Use>
void for_each_kind(Use use) {
    use(InstrumentKind::scale, &Instruments::scales);
    use(InstrumentKind::tape, &Instruments::tapes);
    use(InstrumentKind::micrometer, &Instruments::micrometers);
    use(InstrumentKind::stopwatch, &Instruments::stopwatches);
    use(InstrumentKind::thermometer, &Instruments::thermometers);
}

// The unit in which an instrument's figures are told by the command line.
[[nodiscard]] inline NamedUnit<Mass> unit_of(Mass) {
    return {"gr", grain};
}
[[nodiscard]] inline NamedUnit<Length> unit_of(Length) {
    return {"mm", millimetre};
}
[[nodiscard]] inline NamedUnit<Duration> unit_of(Duration) {
    return {"s", second};
}
[[nodiscard]] inline NamedUnit<TemperatureDifference> unit_of(TemperatureDifference) {
    return {"K", TemperatureDifference::from_kelvin(1.0)};
}
template <class Q>
[[nodiscard]] double in_its_unit(Q quantity) {
    return quantity.si() / unit_of(Q{}).size.si();
}

// What an instrument reads.
template <class Q>
Q quantity_read(const Instrument<Q>&) {
    return {};
}
template <class Kind>
using QuantityOf = decltype(quantity_read(Kind{}));

}  // namespace coilbook::app
