#include "catalog/custody.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <utility>
#include <vector>

#include "base/text.h"

namespace coilbook {
namespace {

constexpr std::array<std::pair<Whereabouts, std::string_view>, 7> places{
    {{Whereabouts::bin, "bin"},
     {Whereabouts::boat, "boat"},
     {Whereabouts::rig, "rig"},
     {Whereabouts::lent, "lent"},
     {Whereabouts::lost, "lost"},
     {Whereabouts::damaged, "damaged"},
     {Whereabouts::retired, "retired"}}};
constexpr std::array<std::pair<RigRole, std::string_view>, 4> roles{{{RigRole::head, "head"},
                                                                     {RigRole::tip, "tip"},
                                                                     {RigRole::leader, "leader"},
                                                                     {RigRole::wallet, "wallet"}}};

template <class Names, class Value>
std::string_view name_in(const Names& names, Value value) {
    for (const auto& [known, name] : names) {
        if (known == value) return name;
    }
    assert(false && "every value is named above");
    return "";
}

template <class Names>
auto value_in(const Names& names, std::string_view name, const char* field)
    -> Result<typename Names::value_type::first_type> {
    const auto wanted = lower_ascii(trimmed(name));
    std::vector<std::string> accepted;
    for (const auto& [value, known] : names) {
        if (known == wanted) return value;
        accepted.emplace_back(known);
    }
    return problem(field, coilbook::quoted(name) + " is not known", listed(accepted));
}

}  // namespace

std::string_view name_of(Whereabouts where) {
    return name_in(places, where);
}
std::string_view name_of(RigRole role) {
    return name_in(roles, role);
}
Result<Whereabouts> whereabouts_from(std::string_view name) {
    return value_in(places, name, "place");
}
Result<RigRole> rig_role_from(std::string_view name) {
    return value_in(roles, name, "role");
}

bool is_at_hand(Whereabouts where) {
    return where == Whereabouts::bin || where == Whereabouts::rig;
}

const std::string& id_text_of(const Thing& thing) {
    return std::visit([](const auto& id) -> const std::string& { return id.text(); }, thing);
}

}  // namespace coilbook
