#include "store/seals.h"

#include "base/error.h"

#include "db/digest.h"

namespace coilbook::store {
namespace {

std::vector<db::Statement> sealed_parts(const db::Database& database) {
    std::vector<db::Statement> parts;
    parts.emplace_back(database, R"sql(
        SELECT thing_table, thing, field, was, became FROM change WHERE act = :act ORDER BY rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT r.id, coil.id AS coil, r.field, r.as_written, r.value_si, r.value_text,
               r.standard_uncertainty_si, i.id AS instrument, r.taken_at_utc, s.id AS supersedes
        FROM change AS c
        LEFT JOIN reading AS r ON r.id = c.thing
        LEFT JOIN coil ON coil.rid = r.coil
        LEFT JOIN instrument AS i ON i.rid = r.instrument
        LEFT JOIN reading AS s ON s.rid = r.supersedes
        WHERE c.act = :act AND c.thing_table = 'reading' AND c.field = 'id'
        ORDER BY c.rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT v.id, coil.id AS coil, v.at_utc, v.best_class, v.best_class_probability,
               v.grain_class, v.grain_class_probability, v.density_grade,
               v.density_grade_probability, v.line_size, v.line_size_probability, v.family,
               v.family_probability, v.unlisted_probability, v.library, v.program
        FROM change AS c
        LEFT JOIN verdict AS v ON v.id = c.thing
        LEFT JOIN coil ON coil.rid = v.coil
        WHERE c.act = :act AND c.thing_table = 'verdict' AND c.field = 'id'
        ORDER BY c.rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT w.id, coil.id AS coil, k.name AS class, v.id AS verdict, w.said_by, w.at_utc, w.note
        FROM change AS c
        LEFT JOIN confirmation AS w ON w.id = c.thing
        LEFT JOIN coil ON coil.rid = w.coil
        LEFT JOIN reference_class AS k ON k.rid = w.class
        LEFT JOIN verdict AS v ON v.rid = w.verdict
        WHERE c.act = :act AND c.thing_table = 'confirmation' AND c.field = 'id'
        ORDER BY c.rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT o.id, o.day, boat.id AS boat, client.id AS client
        FROM change AS c
        LEFT JOIN outing AS o ON o.id = c.thing
        LEFT JOIN boat ON boat.rid = o.boat
        LEFT JOIN client ON client.rid = o.client
        WHERE c.act = :act AND c.thing_table = 'outing' AND c.field = 'id'
        ORDER BY c.rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT p.id, outing.id AS outing, rig.id AS rig, coil.id AS coil, p.class, p.count
        FROM change AS c
        LEFT JOIN promise AS p ON p.id = c.thing
        LEFT JOIN outing ON outing.rid = p.outing
        LEFT JOIN rig ON rig.rid = p.rig
        LEFT JOIN coil ON coil.rid = p.coil
        WHERE c.act = :act AND c.thing_table = 'promise' AND c.field = 'id'
        ORDER BY c.rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT h.id, coil.id AS coil, rig.id AS rig, h.place, boat.id AS boat,
               holder.id AS in_rig, h.role, client.id AS client, h.at_utc, h.by_whom, h.note, h.turn
        FROM change AS c
        LEFT JOIN handover AS h ON h.id = c.thing
        LEFT JOIN coil ON coil.rid = h.coil
        LEFT JOIN rig ON rig.rid = h.rig
        LEFT JOIN boat ON boat.rid = h.boat
        LEFT JOIN rig AS holder ON holder.rid = h.in_rig
        LEFT JOIN client ON client.rid = h.client
        WHERE c.act = :act AND c.thing_table = 'handover' AND c.field = 'id'
        ORDER BY c.rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT n.id, coil.id AS coil, n.what, n.is_found, n.at_utc, n.by_whom, n.note
        FROM change AS c
        LEFT JOIN condition AS n ON n.id = c.thing
        LEFT JOIN coil ON coil.rid = n.coil
        WHERE c.act = :act AND c.thing_table = 'condition' AND c.field = 'id'
        ORDER BY c.rid)sql");
    parts.emplace_back(database, R"sql(
        SELECT p.id, coil.id AS coil, p.sha256, p.format, p.width, p.height, p.size,
               away.id AS puts_away, p.at_utc, p.by_whom, p.note
        FROM change AS c
        LEFT JOIN photograph AS p ON p.id = c.thing
        LEFT JOIN coil ON coil.rid = p.coil
        LEFT JOIN photograph AS away ON away.rid = p.puts_away
        WHERE c.act = :act AND c.thing_table = 'photograph' AND c.field = 'id'
        ORDER BY c.rid)sql");
    return parts;
}

std::int64_t rid_of(const db::Row& row) {
    return row.integer("rid");
}

}  // namespace

Seals::Seals(const db::Database& database)
    : act_(database, R"sql(
          SELECT a.id, a.at_utc, a.who, a.program, a.what, a.why, undone.id AS undoes
          FROM act AS a
          LEFT JOIN undo AS u ON u.act = a.rid
          LEFT JOIN act AS undone ON undone.rid = u.undoes
          WHERE a.rid = :act)sql"),
      parts_(sealed_parts(database)),
      unsealed_(database, R"sql(
          SELECT rid FROM act WHERE rid > (SELECT coalesce(max(act), 0) FROM seal) ORDER BY rid)sql"),
      last_seal_(database, R"sql(
          SELECT sha256 FROM seal ORDER BY act DESC LIMIT 1)sql"),
      insert_(database, R"sql(
          INSERT INTO seal (act, sha256) VALUES (:act, :sha256))sql"),
      all_(database, R"sql(
          SELECT a.rid, s.sha256 FROM act AS a LEFT JOIN seal AS s ON s.act = a.rid
          ORDER BY a.rid)sql"),
      last_two_(database, R"sql(
          SELECT a.rid, s.sha256 FROM act AS a LEFT JOIN seal AS s ON s.act = a.rid
          ORDER BY a.rid DESC LIMIT 2)sql"),
      strays_(database, R"sql(
          SELECT 1 AS found WHERE EXISTS (SELECT 1 FROM seal WHERE act NOT IN (SELECT rid FROM act))
                               OR EXISTS (SELECT 1 FROM open_act))sql"),
      size_(database, R"sql(
          SELECT count(*) AS changes FROM (SELECT 1 FROM change WHERE act = :act LIMIT :most))sql") {
}

std::string Seals::seal_of(std::int64_t act, const std::optional<std::string>& before) {
    db::Digest digest;
    digest.add("coilbook seal 1");
    if (before) {
        digest.add(*before);
    } else {
        digest.add_null();
    }
    act_.bind(":act", act);
    for (auto rows = act_.rows(); rows.next();) rows.row().add_to(digest);
    for (auto& part : parts_) {
        part.bind(":act", act);
        for (auto rows = part.rows(); rows.next();) rows.row().add_to(digest);
    }
    return digest.finish();
}

void Seals::seal(db::Transaction& transaction) {
    auto before = last_seal_.first([](const db::Row& row) { return row.text("sha256"); });
    for (const auto act : unsealed_.all(rid_of)) {
        before = seal_of(act, before);
        insert_.bind(":act", act).bind(":sha256", *before).run(transaction);
    }
}

std::optional<BrokenSeal> Seals::fault_of(std::int64_t act, const std::optional<std::string>& found,
                                          const std::optional<std::string>& before) {
    if (found && *found == seal_of(act, before)) return std::nullopt;
    std::string id = "number " + std::to_string(act);
    try {
        id = act_.bind(":act", act)
                 .first([](const db::Row& row) { return row.text("id"); })
                 .value_or(id);
    } catch (const Error&) {  // its id is what was damaged
    }
    return BrokenSeal{id, found ? "what this act wrote is not what it was when it was sealed"
                                : "this act has no seal"};
}

std::vector<BrokenSeal> Seals::broken() {
    std::vector<BrokenSeal> faults;
    std::optional<std::string> before;
    for (auto rows = all_.rows(); rows.next();) {
        const auto found = rows.row().optional_text("sha256");
        if (auto fault = fault_of(rows.row().integer("rid"), found, before)) {
            faults.push_back(std::move(*fault));
        }
        before = found;
    }
    const auto is_there = [](const db::Row&) { return true; };
    if (strays_.first(is_there)) {
        faults.push_back({"", "there are seals without an act, or an act that was never finished"});
    }
    return faults;
}

std::vector<BrokenSeal> Seals::last_broken(std::int64_t most) {
    struct Sealed {
        std::int64_t act;
        std::optional<std::string> seal;
    };
    const auto last = last_two_.all([](const db::Row& row) {
        return Sealed{row.integer("rid"), row.optional_text("sha256")};
    });
    if (last.empty()) return {};
    const auto& [act, seal] = last.front();
    const auto changes = size_.bind(":act", act).bind(":most", most + 1).first([](const auto& row) {
        return row.integer("changes");
    });
    if (seal && changes > most) return {};
    const auto before = last.size() > 1 ? last[1].seal : std::nullopt;
    if (auto fault = fault_of(act, seal, before)) return {std::move(*fault)};
    return {};
}

}  // namespace coilbook::store
