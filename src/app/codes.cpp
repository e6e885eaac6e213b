#include "app/codes.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "catalog/given_code.h"
#include "store/coil_repository.h"

namespace coilbook::app {
namespace {

std::uint64_t draw_from(const RandomBytes& bytes) {
    std::uint64_t draw = 0;
    for (std::size_t at = 0; at < 8; ++at) draw = draw << 8 | bytes[at];
    return draw;
}

}  // namespace

std::string new_code(Workshop& workshop) {
    return new_codes(workshop, 1).front();
}

std::vector<std::string> new_codes(Workshop& workshop, int count) {
    std::vector<std::string> codes;
    std::set<std::string> drawn;
    while (codes.size() < static_cast<std::size_t>(count)) {
        auto code = given_code(draw_from(workshop.surroundings().random()));
        // A code that is scanned into the field of a weight is not to be taken for one.
        if (code.find_first_not_of("0123456789") == std::string::npos) continue;
        if (!drawn.insert(code).second) continue;
        if (workshop.catalogue().coils().ever_had(code)) continue;
        codes.push_back(std::move(code));
    }
    return codes;
}

Result<void> check_only_one_has(Workshop& workshop, std::string_view code) {
    if (workshop.catalogue().coils().things_with(code) < 2) return {};
    return problem(
        "code",
        "two things have the code " + coilbook::quoted(code) + " since laptops came together",
        "first another code for one of them: 'coilbook conflicts list' shows them");
}

std::string advice_on_code(Workshop& workshop, std::string_view code, std::string otherwise) {
    auto nearest = nearest_codes(code, workshop.catalogue().coils().codes());
    if (nearest.empty()) return otherwise;
    for (auto& each : nearest) each = coilbook::quoted(each);
    auto advice = "perhaps " + nearest.front();
    for (std::size_t at = 1; at < nearest.size(); ++at) {
        advice += (at + 1 == nearest.size() ? " or " : ", ") + nearest[at];
    }
    if (is_mistyped_code(code)) {
        advice += ": its check character says that it was mistyped";
    }
    return advice;
}

}  // namespace coilbook::app
