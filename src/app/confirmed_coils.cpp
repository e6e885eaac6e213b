#include "app/confirmed_coils.h"

#include <algorithm>

#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"

namespace coilbook::app {

std::vector<SaidCoil> confirmed_coils(Workshop& workshop) {
    auto& catalogue = workshop.catalogue();
    std::vector<SaidCoil> coils;
    for (auto& entry : catalogue.readings().bin()) {
        if (!entry.confirmed_class) continue;
        coils.push_back(
            {std::move(entry.coil), std::move(*entry.confirmed_class), std::move(entry.readings)});
    }
    // The bin leaves out what is retired.
    std::vector<Id<Coil>> in_bin;
    for (const auto& each : coils) in_bin.push_back(each.coil.id);
    std::ranges::sort(in_bin);
    for (const auto& said : catalogue.confirmations().current()) {
        if (std::ranges::binary_search(in_bin, said.coil)) continue;
        auto coil = catalogue.coils().by_id(said.coil);
        if (!coil) continue;
        coils.push_back(
            {std::move(*coil), *said.class_name, catalogue.readings().readings_of(said.coil)});
    }
    std::ranges::stable_sort(
        coils, {}, [](const SaidCoil& each) -> const std::string& { return each.coil.code; });
    return coils;
}

}  // namespace coilbook::app
