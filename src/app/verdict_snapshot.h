// What the program says about a coil at the moment when a person gives their word, to be kept.
#pragma once

#include "app/workshop.h"
#include "catalog/coil.h"
#include "store/confirmation_repository.h"

namespace coilbook::app {

// The verdict on the coil's current readings, in names. A Problem for an unknown instrument.
[[nodiscard]] Result<store::VerdictSnapshot> verdict_snapshot(Workshop& workshop, const Coil& coil);

// A short name for exactly this library: 64 bits over all of its figures (FNV-1a), in hexadecimal.
// Catalogues with the same learned classes have the same one.
[[nodiscard]] std::string library_name(const ReferenceLibrary& library);

}  // namespace coilbook::app
