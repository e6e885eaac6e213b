#include "app/codes.h"

#include <fmt/format.h>

#include <array>
#include <optional>
#include <set>

#include "app/backups.h"
#include "base/text.h"
#include "catalog/given_code.h"
#include "store/coil_repository.h"
#include "store/custody_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {
namespace {

std::uint64_t draw_from(const RandomBytes& bytes) {
    std::uint64_t draw = 0;
    for (std::size_t at = 0; at < 8; ++at) draw = draw << 8 | bytes[at];
    return draw;
}

struct CodeWords {
    const char* field;
    const char* thing;
    const char* accepted;
};
// In the order of CodeOf.
constexpr std::array<CodeWords, 3> words_for{
    {{"code", "coil", "the code of a coil in this catalogue; 'coilbook coils list' shows them"},
     {"rig", "rig", "a code that 'coilbook rig list' shows"},
     {"code", "coil or rig", "a code that 'coilbook coils list' or 'coilbook rig list' shows"}}};

std::vector<std::string> codes_of(Workshop& workshop, CodeOf sort) {
    std::vector<std::string> codes;
    if (sort != CodeOf::rig) codes = workshop.catalogue().coils().codes();
    if (sort == CodeOf::coil) return codes;
    for (auto& rig : workshop.catalogue().rigs().list()) codes.push_back(std::move(rig.code));
    return codes;
}

// What would be accepted in place of `code`: the nearest of `codes`, else `otherwise`.
std::string advice_on_code(std::string_view code, const std::vector<std::string>& codes,
                           const char* otherwise) {
    auto nearest = nearest_codes(code, codes);
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

// The last thing of that sort that was retired with exactly that code.
std::optional<Problem> retired_problem(Workshop& workshop, CodeOf sort, const std::string& code) {
    const auto& words = words_for[static_cast<std::size_t>(sort)];
    for (const auto& each : workshop.catalogue().custody().retired_with(code)) {
        const bool is_coil = std::holds_alternative<Id<Coil>>(each.thing);
        if (sort == (is_coil ? CodeOf::rig : CodeOf::coil)) continue;
        return Problem{
            words.field,
            fmt::format("{} {} was retired on {}", is_coil ? "coil" : "rig", coilbook::quoted(code),
                        moment_in_words(each.at)),
            fmt::format("{}; '{}' shows what was done, 'coilbook undo ID' takes it back",
                        words.accepted,
                        is_coil ? "coilbook history --coil " + code : "coilbook history")};
    }
    return std::nullopt;
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

Problem unknown_code(Workshop& workshop, CodeOf sort, std::string_view code) {
    const auto& words = words_for[static_cast<std::size_t>(sort)];
    const auto meant = read_given_code(trimmed(code));
    for (const auto& each : {std::string(trimmed(code)), meant.value_or("")}) {
        if (auto retired = retired_problem(workshop, sort, each)) return *retired;
    }
    return {words.field, fmt::format("there is no {} {}", words.thing, coilbook::quoted(code)),
            advice_on_code(code, codes_of(workshop, sort), words.accepted)};
}

}  // namespace coilbook::app
