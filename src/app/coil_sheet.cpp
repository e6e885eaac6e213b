#include "app/coil_sheet.h"

#include "identify/identify.h"

#include "store/reading_repository.h"

namespace coilbook::app {

std::vector<Reading> current_readings(Workshop& workshop, const Coil& coil) {
    return workshop.catalogue().readings().current_of(coil.id);
}

std::string unit_doubt(Workshop& workshop, const Coil& coil) {
    const auto readings = workshop.catalogue().readings().readings_of(coil.id);
    const auto verdict =
        identify(readings, workshop.instruments(), workshop.library(), fresh_water_at_10_C());
    if (!verdict || !verdict->has(Flag::unit_mixup)) return {};
    return verdict->because.front();
}

}  // namespace coilbook::app
