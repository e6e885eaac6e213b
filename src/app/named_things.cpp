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

std::optional<std::string> code_of_coil(Workshop& workshop, const std::string& id) {
    const auto known = Id<Coil>::from_text(id);
    const auto coil = known ? workshop.catalogue().coils().by_id(*known) : std::nullopt;
    return coil ? std::optional(coil->code) : std::nullopt;
}
std::optional<std::string> code_of_rig(Workshop& workshop, const std::string& id) {
    const auto known = Id<Rig>::from_text(id);
    const auto rig = known ? workshop.catalogue().rigs().by_id(*known) : std::nullopt;
    return rig ? std::optional(rig->code) : std::nullopt;
}
std::optional<std::string> name_of_boat(Workshop& workshop, const std::string& id) {
    for (const auto& boat : workshop.catalogue().outings().boats(true)) {
        if (boat.id.text() == id) return boat.name;
    }
    return std::nullopt;
}
std::optional<std::string> code_of_client(Workshop& workshop, const std::string& id) {
    const auto known = Id<Client>::from_text(id);
    const auto client = known ? workshop.catalogue().clients().by_id(*known) : std::nullopt;
    return client ? std::optional(client->code) : std::nullopt;
}

}  // namespace

constexpr std::string_view coil_words = "the code of a coil in this catalogue, or its id";
constexpr std::string_view rig_words = "the code of a rig in this catalogue, or its id";

const std::array<NamedThing, 5> named_things{
    {{"coil_id", "coil_code", "coil", coil_words, coil_id, code_of_coil},
     {"rig_id", "rig_code", "rig", rig_words, rig_id, code_of_rig},
     {"in_rig_id", "in_rig_code", "rig", rig_words, rig_id, code_of_rig},
     {"boat_id", "boat", "boat", "the name of a boat in this catalogue, or its id", boat_id,
      name_of_boat},
     {"client_id", "client_code", "client", "the code of a client in this catalogue, or its id",
      client_id, code_of_client}}};

}  // namespace coilbook::app
