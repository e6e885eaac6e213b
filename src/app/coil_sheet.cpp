#include "app/coil_sheet.h"

#include "store/reading_repository.h"

namespace coilbook::app {

std::vector<Reading> current_readings(Workshop& workshop, const Coil& coil) {
    return workshop.catalogue().readings().current_of(coil.id);
}

}  // namespace coilbook::app
