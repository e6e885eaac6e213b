#include "store/custody_repository.h"

#include "base/text.h"

namespace coilbook::store {
namespace {

Thing thing_from(const db::Row& row) {
    const auto coil = optional_id_at<Coil>(row, "coil_id");
    return coil ? Thing(*coil) : Thing(id_at<Rig>(row, "rig_id"));
}

Handover handover_from(const db::Row& row) {
    Place place{.where = kept(whereabouts_from(row.text("place")), "place"),
                .boat = optional_id_at<Boat>(row, "boat_id"),
                .rig = optional_id_at<Rig>(row, "in_rig_id"),
                .role = {},
                .client = optional_id_at<Client>(row, "client_id")};
    if (const auto role = row.optional_text("role")) {
        place.role = kept(rig_role_from(*role), "role");
    }
    return {.id = id_at<Handover>(row, "id"),
            .thing = thing_from(row),
            .to = place,
            .at = instant_at(row, "at_utc"),
            .by = row.text("by_whom"),
            .note = row.text("note"),
            .turn = count_at(row, "turn")};
}

}  // namespace

CustodyRepository::CustodyRepository(const db::Database& database)
    : insert_(database, R"sql(
          INSERT INTO handover (id, coil, rig, place, boat, in_rig, role, client, at_utc, by_whom,
                                note, turn)
          SELECT :id, coil, rig, :place, (SELECT rid FROM boat WHERE id = :boat),
                 (SELECT rid FROM rig WHERE id = :in_rig), :role,
                 (SELECT rid FROM client WHERE id = :client), :at_utc, :by_whom, :note,
                 (SELECT count(*) FROM handover AS h
                  WHERE h.is_undone = 0 AND (h.coil = thing.coil OR h.rig = thing.rig))
          FROM (SELECT (SELECT rid FROM coil WHERE id = :coil) AS coil,
                       (SELECT rid FROM rig WHERE id = :rig) AS rig) AS thing)sql"),
      list_(database, R"sql(
          SELECT h.id, h.place, h.role, h.at_utc, h.by_whom, h.note, h.turn, c.id AS coil_id,
                 r.id AS rig_id, b.id AS boat_id, i.id AS in_rig_id, p.id AS client_id
          FROM handover AS h
          LEFT JOIN coil AS c ON c.rid = h.coil
          LEFT JOIN rig AS r ON r.rid = h.rig
          LEFT JOIN boat AS b ON b.rid = h.boat
          LEFT JOIN rig AS i ON i.rid = h.in_rig
          LEFT JOIN client AS p ON p.rid = h.client
          WHERE h.is_undone = 0
          ORDER BY h.rid)sql"),
      list_last_(database, R"sql(
          SELECT h.id, h.place, h.role, h.at_utc, h.by_whom, h.note, h.turn, c.id AS coil_id,
                 r.id AS rig_id, b.id AS boat_id, i.id AS in_rig_id, p.id AS client_id,
                 last.handovers
          FROM (SELECT max(rid) AS rid, count(*) AS handovers FROM handover
                WHERE coil IS NOT NULL AND is_undone = 0 GROUP BY coil
                UNION ALL
                SELECT max(rid), count(*) FROM handover
                WHERE rig IS NOT NULL AND is_undone = 0 GROUP BY rig) AS last
          JOIN handover AS h ON h.rid = last.rid
          LEFT JOIN coil AS c ON c.rid = h.coil
          LEFT JOIN rig AS r ON r.rid = h.rig
          LEFT JOIN boat AS b ON b.rid = h.boat
          LEFT JOIN rig AS i ON i.rid = h.in_rig
          LEFT JOIN client AS p ON p.rid = h.client
          ORDER BY h.rid)sql"),
      list_of_thing_(database, R"sql(
          SELECT h.id, h.place, h.role, h.at_utc, h.by_whom, h.note, h.turn, c.id AS coil_id,
                 r.id AS rig_id, b.id AS boat_id, i.id AS in_rig_id, p.id AS client_id
          FROM (SELECT rid FROM handover WHERE coil = (SELECT rid FROM coil WHERE id = :coil)
                UNION ALL
                SELECT rid FROM handover WHERE rig = (SELECT rid FROM rig WHERE id = :rig)) AS mine
          JOIN handover AS h ON h.rid = mine.rid
          LEFT JOIN coil AS c ON c.rid = h.coil
          LEFT JOIN rig AS r ON r.rid = h.rig
          LEFT JOIN boat AS b ON b.rid = h.boat
          LEFT JOIN rig AS i ON i.rid = h.in_rig
          LEFT JOIN client AS p ON p.rid = h.client
          WHERE h.is_undone = 0
          ORDER BY h.rid)sql"),
      list_retired_(database, R"sql(
          SELECT id AS coil_id, NULL AS rig_id, retired_at_utc FROM coil
          WHERE code = :code AND retired_at_utc IS NOT NULL AND is_undone = 0
          UNION ALL
          SELECT NULL, id, retired_at_utc FROM rig
          WHERE code = :code AND retired_at_utc IS NOT NULL AND is_undone = 0
          ORDER BY retired_at_utc DESC)sql") {}

Result<void> CustodyRepository::add(Act& act, const Handover& handover) {
    if (const auto plain = check_plain("note", handover.note); !plain) return plain;
    std::optional<std::string> coil, rig, boat, in_rig, role, client;
    if (const auto* id = std::get_if<Id<Coil>>(&handover.thing)) coil = id->text();
    if (const auto* id = std::get_if<Id<Rig>>(&handover.thing)) rig = id->text();
    if (handover.to.boat) boat = handover.to.boat->text();
    if (handover.to.rig) in_rig = handover.to.rig->text();
    if (handover.to.role) role = std::string(name_of(*handover.to.role));
    if (handover.to.client) client = handover.to.client->text();
    insert_.bind(":id", handover.id.text())
        .bind(":coil", coil)
        .bind(":rig", rig)
        .bind(":place", name_of(handover.to.where))
        .bind(":boat", boat)
        .bind(":in_rig", in_rig)
        .bind(":role", role)
        .bind(":client", client)
        .bind(":at_utc", to_text(handover.at))
        .bind(":by_whom", handover.by)
        .bind(":note", handover.note)
        .run(act.transaction());
    return {};
}

std::vector<Handover> CustodyRepository::record() {
    return list_.all(handover_from);
}

std::vector<Standing> CustodyRepository::standings() {
    return list_last_.all([](const db::Row& row) {
        return Standing{handover_from(row), count_at(row, "handovers")};
    });
}

std::vector<Handover> CustodyRepository::all_of(const Thing& thing) {
    std::optional<std::string> coil, rig;
    if (const auto* id = std::get_if<Id<Coil>>(&thing)) coil = id->text();
    if (const auto* id = std::get_if<Id<Rig>>(&thing)) rig = id->text();
    return list_of_thing_.bind(":coil", coil).bind(":rig", rig).all(handover_from);
}

std::vector<RetiredThing> CustodyRepository::retired_with(std::string_view code) {
    if (!is_plain_text(code)) return {};
    return list_retired_.bind(":code", code).all([](const db::Row& row) {
        return RetiredThing{thing_from(row), instant_at(row, "retired_at_utc")};
    });
}

}  // namespace coilbook::store
