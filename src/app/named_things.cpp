#include "app/named_things.h"

#include <algorithm>

#include "app/codes.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {
namespace {

template <class Thing>
std::optional<std::string> id_text(const std::optional<Thing>& thing) {
    if (!thing) return std::nullopt;
    return thing->id.text();
}

using FoundId = Result<std::optional<std::string>>;

FoundId coil_id(Workshop& workshop, const std::string& code) {
    if (const auto one = check_only_one_has(workshop, code); !one)
        return tl::unexpected(one.error());
    return id_text(workshop.catalogue().coils().by_code(code));
}
FoundId rig_id(Workshop& workshop, const std::string& code) {
    return id_text(workshop.catalogue().rigs().by_code(code));
}
FoundId boat_id(Workshop& workshop, const std::string& name) {
    return id_text(workshop.catalogue().outings().boat_named(name));
}
FoundId client_id(Workshop& workshop, const std::string& code) {
    for (const auto& client : workshop.catalogue().clients().list()) {
        if (client.code == code) return client.id.text();
    }
    return std::optional<std::string>();
}

}  // namespace

constexpr std::string_view coil_words = "the code of a coil in this catalogue, or its id";
constexpr std::string_view rig_words = "the code of a rig in this catalogue, or its id";

const std::array<NamedThing, 5> named_things{
    {{"coil_id", "coil_code", "coils", "code", "coil", coil_words, coil_id},
     {"rig_id", "rig_code", "rigs", "code", "rig", rig_words, rig_id},
     {"in_rig_id", "in_rig_code", "rigs", "code", "rig", rig_words, rig_id},
     {"boat_id", "boat", "boats", "name", "boat", "the name of a boat in this catalogue, or its id",
      boat_id},
     {"client_id", "client_code", "clients", "code", "client",
      "the code of a client in this catalogue, or its id", client_id}}};

}  // namespace coilbook::app
