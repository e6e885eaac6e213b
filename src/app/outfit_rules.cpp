#include "app/outfit_rules.h"

#include <array>

#include "app/coil_care.h"
#include "base/text.h"
#include "catalog/coil_care.h"
#include "catalog/custody.h"
#include "catalog/outing.h"
#include "catalog/rig.h"
#include "store/care_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {
namespace {

using Cells = const KindCells&;

std::optional<std::int64_t> count_in(Cells cells, const char* column) {
    const auto* number = std::get_if<std::int64_t>(&cells[column]);
    return number ? std::optional(*number) : std::nullopt;
}

Result<void> check_count(Cells cells, const char* column, std::int64_t least, std::int64_t most) {
    const auto number = count_in(cells, column);
    if (!number || (*number >= least && *number <= most)) return {};
    return problem(column, "this is out of its range",
                   "a whole number from " + std::to_string(least) + " to " + std::to_string(most));
}

// The thing of `kind` that a column's id names is there; a missing id names none.
Result<void> check_is_kept(Workshop& workshop, Cells cells, const char* column, const char* kind) {
    if (cells.is_missing(column)) return {};
    if (is_kept(workshop, kind, {{"id", cells.text(column)}})) return {};
    return problem(
        column, "there is nothing of that id",
        "one of this catalogue; " + std::string(kind) + " come in before what hangs on them");
}

// What an outing or a promise says is never changed; only whether it still stands.
Result<void> check_unchanged(Workshop& workshop, Cells cells, const char* kind_name,
                             std::initializer_list<const char*> columns) {
    auto there = kept_row(workshop, kind_name, {{"id", cells.text("id")}});
    if (!there) return {};
    const auto& kind = **store::kind_named(kind_name);
    const KindCells kept(kind, *there);
    for (const auto* column : columns) {
        if (kept[column] == cells[column]) continue;
        return problem(column,
                       "this is never changed of a" +
                           std::string(kind.thing == "outing" ? "n " : " ") +
                           std::string(kind.thing),
                       "a further row without an id");
    }
    return {};
}

}  // namespace

Result<void> boat_rule(Workshop& workshop, Cells cells) {
    const auto name = cells.text("name");
    if (name.empty() || name.size() > 60 || trimmed(name) != name) {
        return problem("name", "a boat needs a name", "1 to 60 letters, no blanks around them");
    }
    if (auto wrong = check_count(cells, "seats", 1, 99); !wrong) return wrong;
    if (!cells.is_missing("retired_at")) return {};
    const auto other = workshop.catalogue().outings().boat_named(name);
    if (other && other->id.text() != cells.text("id")) {
        return problem("name", "there is a boat " + coilbook::quoted(name) + " already",
                       "another name");
    }
    return {};
}

Result<void> rig_rule(Workshop& workshop, Cells cells) {
    if (auto wrong = check_count(cells, "line_size", 1, 15); !wrong) return wrong;
    Rig rig{.id = Id<Rig>::from_text(cells.text("id")).value(),
            .code = cells.text("code"),
            .name = cells.text("name"),
            .line_size = {},
            .rod = cells.text("rod"),
            .reel = cells.text("reel"),
            .backing = cells.text("backing"),
            .running_line = cells.text("running_line"),
            .notes = cells.text("notes"),
            .made_at = {},
            .is_retired = !cells.is_missing("retired_at")};
    return workshop.catalogue().rigs().check(rig);
}

Result<void> client_rule(Workshop& workshop, Cells cells) {
    if (const auto code = cells.text("code");
        code.empty() || code.size() > 40 || trimmed(code) != code) {
        return problem("code", "a client needs a code", "1 to 40 letters, no blanks around them");
    }
    constexpr std::array personal{"name", "line_size", "hand", "notes"};
    if (!cells.is_missing("forgotten_at")) {
        for (const auto* column : personal) cells[column] = db::Value{};
        return {};
    }
    if (auto wrong = check_count(cells, "line_size", 1, 15); !wrong) return wrong;
    if (const auto hand = cells.text("hand"); !hand.empty() && hand != "left" && hand != "right") {
        return problem("hand", coilbook::quoted(hand) + " is no hand", "left or right");
    }
    if (cells.text("name").size() > 200) {
        return problem("name", "this is too long for a name", "1 to 200 letters");
    }
    for (const auto* column : personal) {
        if (!cells.text(column).empty() && cells.is_missing("name")) {
            return problem("name", "somebody of whom something is told needs a name", "a name");
        }
    }
    auto there = kept_row(workshop, "clients", {{"id", cells.text("id")}});
    if (!there) {
        if (!cells.is_missing("name") && cells.is_missing("told_at")) {
            cells["told_at"] = to_text(workshop.surroundings().now());
        }
        return {};
    }
    const KindCells kept(**store::kind_named("clients"), *there);
    for (const auto* column : personal) {
        if (kept[column] == cells[column] || kept["told_at"] != cells["told_at"]) continue;
        cells["told_at"] = to_text(workshop.surroundings().now());
    }
    return {};
}

Result<void> outing_rule(Workshop& workshop, Cells cells) {
    if (const auto day = day_from(cells.text("day")); !day) {
        return problem("day", coilbook::quoted(cells.text("day")) + " is no day",
                       "one such as 2026-06-14");
    }
    if (auto wrong = check_unchanged(workshop, cells, "outings", {"day", "boat_id", "client_id"});
        !wrong) {
        return wrong;
    }
    if (auto wrong = check_is_kept(workshop, cells, "boat_id", "boats"); !wrong) return wrong;
    return check_is_kept(workshop, cells, "client_id", "clients");
}

Result<void> promise_rule(Workshop& workshop, Cells cells) {
    const int said = static_cast<int>(!cells.is_missing("rig_id")) +
                     static_cast<int>(!cells.is_missing("coil_id")) +
                     static_cast<int>(!cells.is_missing("class"));
    if (said != 1) {
        return problem("class", "a promise is of one thing", "a rig, a coil or so many of a class");
    }
    if (cells.is_missing("class") && count_in(cells, "count") != 1) {
        return problem("count", "there is one of a rig and of a coil", "1");
    }
    if (auto wrong = check_count(cells, "count", 1, 999); !wrong) return wrong;
    if (auto wrong = check_unchanged(workshop, cells, "promises",
                                     {"outing_id", "rig_id", "coil_id", "class", "count"});
        !wrong) {
        return wrong;
    }
    if (auto wrong = check_is_kept(workshop, cells, "outing_id", "outings"); !wrong) return wrong;
    if (auto wrong = check_is_kept(workshop, cells, "rig_id", "rigs"); !wrong) return wrong;
    return check_is_kept(workshop, cells, "coil_id", "coils");
}

Result<void> handover_rule(Workshop& workshop, Cells cells) {
    if (cells.is_missing("coil_id") == cells.is_missing("rig_id")) {
        return problem("coil_id", "one thing is handed over at a time", "a coil or a rig");
    }
    const auto place = whereabouts_from(cells.text("place"));
    if (!place || name_of(*place) != cells.text("place")) {
        return problem("place", coilbook::quoted(cells.text("place")) + " is no place",
                       "bin, boat, rig, lent, lost, damaged or retired");
    }
    if (!cells.is_missing("role")) {
        const auto role = rig_role_from(cells.text("role"));
        if (!role || name_of(*role) != cells.text("role")) {
            return problem("role", coilbook::quoted(cells.text("role")) + " is no part of a rig",
                           "head, tip, leader or wallet");
        }
    }
    const bool is_in_rig = *place == Whereabouts::rig;
    if (is_in_rig != !cells.is_missing("in_rig_id") || is_in_rig != !cells.is_missing("role")) {
        return problem("in_rig_id", "what is in a rig has a rig and its part in it, and only that",
                       "in_rig_id and role with place rig");
    }
    if (is_in_rig && cells.is_missing("coil_id")) {
        return problem("rig_id", "no rig is in a rig", "a coil");
    }
    if (*place == Whereabouts::boat && cells.is_missing("boat_id")) {
        return problem("boat_id", "with which boat is not said", "a boat");
    }
    if (!cells.is_missing("client_id") && *place != Whereabouts::lent) {
        return problem("client_id", "only what is lent is with a client", "none, or place lent");
    }
    if (auto wrong = check_count(cells, "turn", 0, 1'000'000'000); !wrong) return wrong;
    if (auto wrong = check_is_kept(workshop, cells, "coil_id", "coils"); !wrong) return wrong;
    if (auto wrong = check_is_kept(workshop, cells, "rig_id", "rigs"); !wrong) return wrong;
    if (auto wrong = check_is_kept(workshop, cells, "in_rig_id", "rigs"); !wrong) return wrong;
    if (auto wrong = check_is_kept(workshop, cells, "boat_id", "boats"); !wrong) return wrong;
    return check_is_kept(workshop, cells, "client_id", "clients");
}

// That something is good again is taken as it is told: two laptops may have said so.
Result<void> condition_rule(Workshop& workshop, Cells cells) {
    if (auto wrong = check_is_kept(workshop, cells, "coil_id", "coils"); !wrong) return wrong;
    const auto what = wear_from(cells.text("what"));
    if (!what || name_of(*what) != cells.text("what")) {
        return problem("what", coilbook::quoted(cells.text("what")) + " is no condition",
                       what ? std::string(name_of(*what)) : what.error().suggestion);
    }
    if (*what == Wear::other && cells.number("found") == 1.0 &&
        trimmed(cells.text("note")).empty()) {
        return problem("note", "'other' says nothing by itself", "a note that says what it is");
    }
    return {};
}

namespace {

// What puts a photograph away has no picture, and is of the same coil.
Result<void> check_puts_away(Workshop& workshop, Cells cells) {
    for (const auto* column : {"picture", "sha256", "format", "width", "height", "size"}) {
        if (cells.is_missing(column)) continue;
        return problem(column, "a row that puts a photograph away has no picture itself",
                       "an empty cell");
    }
    if (auto there = kept_row(workshop, "photographs", {{"id", cells.text("puts_away")}})) {
        const KindCells shown(**store::kind_named("photographs"), *there);
        const bool is_of_coil = shown.text("coil_id") == cells.text("coil_id");
        if (is_of_coil && shown.is_missing("puts_away")) return {};
    }
    return problem("puts_away", "this is no photograph of that coil",
                   "the id of one; it comes in before what puts it away");
}

// Fills the cell in, or holds it against what it must be.
Result<void> put_fact(Cells cells, const char* column, const db::Value& fact) {
    if (cells.is_missing(column)) cells[column] = fact;
    if (cells[column] == fact) return {};
    return problem(column, "this is not what the picture has", "an empty cell, or the right one");
}

}  // namespace

Result<void> photograph_rule(Workshop& workshop, Cells cells) {
    if (auto wrong = check_is_kept(workshop, cells, "coil_id", "coils"); !wrong) return wrong;
    if (!cells.is_missing("puts_away")) return check_puts_away(workshop, cells);
    auto picture = std::optional(cells.text("picture"));
    if (picture->empty()) picture = workshop.catalogue().care().picture(cells.text("sha256"));
    if (!picture) {
        return problem("picture", "the picture is neither here nor in this catalogue",
                       "the bytes of a PNG or JPEG file in base64");
    }
    const auto facts = picture_facts(*picture);
    if (!facts) {
        auto wrong = facts.error();
        wrong.field = "picture";
        return tl::unexpected(std::move(wrong));
    }
    const std::array<std::pair<const char*, db::Value>, 5> all{
        {{"sha256", facts->sha256},
         {"format", std::string(name_of(facts->head.format))},
         {"width", std::int64_t{facts->head.width}},
         {"height", std::int64_t{facts->head.height}},
         {"size", facts->size}}};
    for (const auto& [column, fact] : all) {
        if (auto wrong = put_fact(cells, column, fact); !wrong) return wrong;
    }
    return {};
}

}  // namespace coilbook::app
