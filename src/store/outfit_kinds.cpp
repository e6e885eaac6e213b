#include "store/outfit_kinds.h"

#include <array>

namespace coilbook::store {
namespace {

using enum ColumnType;

constexpr KindColumn id_column{"id", id, true, ColumnUse::identity};
constexpr KindColumn words_beside(std::string_view name) {
    return {name, text, true, ColumnUse::reference};
}

constexpr std::array boat_columns{
    id_column,
    KindColumn{"name", text},
    KindColumn{"seats", count, true},
    KindColumn{"notes", text},
    KindColumn{"made_at", moment},
    KindColumn{"retired_at", moment, true},
};

constexpr std::array rig_columns{
    id_column,
    KindColumn{"code", text},
    KindColumn{"name", text},
    KindColumn{"line_size", count, true},
    KindColumn{"rod", text},
    KindColumn{"reel", text},
    KindColumn{"backing", text},
    KindColumn{"running_line", text},
    KindColumn{"notes", text},
    KindColumn{"made_at", moment},
    KindColumn{"retired_at", moment, true},
};

constexpr std::array client_columns{
    id_column,
    KindColumn{"code", text},
    KindColumn{"made_at", moment},
    KindColumn{"told_at", moment, true, ColumnUse::said},
    KindColumn{"forgotten_at", moment, true, ColumnUse::said},
    KindColumn{"name", text, true, ColumnUse::personal},
    KindColumn{"line_size", count, true, ColumnUse::personal},
    KindColumn{"hand", text, true, ColumnUse::personal},
    KindColumn{"notes", text, true, ColumnUse::personal},
};

constexpr std::array outing_columns{
    id_column,
    KindColumn{"day", text},
    KindColumn{"boat_id", id},
    words_beside("boat"),
    KindColumn{"client_id", id, true},
    words_beside("client_code"),
    KindColumn{"cancelled_at", moment, true},
};

constexpr std::array promise_columns{
    id_column,
    KindColumn{"outing_id", id},
    KindColumn{"rig_id", id, true},
    words_beside("rig_code"),
    KindColumn{"coil_id", id, true},
    words_beside("coil_code"),
    KindColumn{"class", text, true},
    KindColumn{"count", count},
    KindColumn{"withdrawn_at", moment, true},
};

constexpr std::array handover_columns{
    id_column,
    KindColumn{"coil_id", id, true},
    words_beside("coil_code"),
    KindColumn{"rig_id", id, true},
    words_beside("rig_code"),
    KindColumn{"place", text},
    KindColumn{"boat_id", id, true},
    words_beside("boat"),
    KindColumn{"in_rig_id", id, true},
    words_beside("in_rig_code"),
    KindColumn{"role", text, true},
    KindColumn{"client_id", id, true},
    words_beside("client_code"),
    KindColumn{"at", moment},
    KindColumn{"by_whom", text},
    KindColumn{"note", text},
    KindColumn{"turn", count, true, ColumnUse::counted},
};

constexpr std::array condition_columns{
    id_column,
    KindColumn{"coil_id", id},
    words_beside("coil_code"),
    KindColumn{"what", text},
    KindColumn{"found", flag},  // no: it is good again
    KindColumn{"at", moment},
    KindColumn{"by_whom", text},
    KindColumn{"note", text},
};

// A row has a picture, or says that another one's is not to be shown any more.
constexpr std::array photograph_columns{
    id_column,
    KindColumn{"coil_id", id},
    words_beside("coil_code"),
    KindColumn{"sha256", text, true, ColumnUse::derived},
    KindColumn{"format", text, true, ColumnUse::derived},
    KindColumn{"width", count, true, ColumnUse::derived},
    KindColumn{"height", count, true, ColumnUse::derived},
    KindColumn{"size", count, true, ColumnUse::derived},
    KindColumn{"puts_away", id, true},
    KindColumn{"at", moment},
    KindColumn{"by_whom", text},
    KindColumn{"note", text},
    KindColumn{"picture", picture, true},
};

}  // namespace

std::vector<Kind> outfit_kinds() {
    return {
        {.name = "boats",
         .thing = "boat",
         .only_grows = false,
         .columns = boat_columns,
         .list = R"sql(
        SELECT *, made_at_utc AS made_at, retired_at_utc AS retired_at
        FROM boat WHERE is_undone = 0 ORDER BY rid)sql",
         .find = R"sql(
        SELECT *, made_at_utc AS made_at, retired_at_utc AS retired_at
        FROM boat
        WHERE id = :id OR (:id IS NULL AND name = :name COLLATE NOCASE
                           AND retired_at_utc IS NULL AND is_undone = 0)
        LIMIT 1)sql",
         .insert = {R"sql(
        INSERT INTO boat (id, name, seats, notes, made_at_utc, retired_at_utc)
        VALUES (:id, :name, :seats, :notes, :made_at, :retired_at))sql"},
         .bring_back_or_change = {R"sql(
        UPDATE boat SET name = :name, seats = :seats, notes = :notes, made_at_utc = :made_at,
                        retired_at_utc = :retired_at, is_undone = 0
        WHERE id = :id)sql"}},

        {.name = "rigs",
         .thing = "rig",
         .only_grows = false,
         .columns = rig_columns,
         .list = R"sql(
        SELECT *, made_at_utc AS made_at, retired_at_utc AS retired_at
        FROM rig WHERE is_undone = 0 ORDER BY rid)sql",
         .find = R"sql(
        SELECT *, made_at_utc AS made_at, retired_at_utc AS retired_at
        FROM rig
        WHERE id = :id OR (:id IS NULL AND code = :code AND retired_at_utc IS NULL
                           AND is_undone = 0)
        LIMIT 1)sql",
         .insert = {R"sql(
        INSERT INTO rig (id, code, name, line_size, rod, reel, backing, running_line, notes,
                         made_at_utc, retired_at_utc)
        VALUES (:id, :code, :name, :line_size, :rod, :reel, :backing, :running_line, :notes,
                :made_at, :retired_at))sql"},
         .bring_back_or_change = {R"sql(
        UPDATE rig SET code = :code, name = :name, line_size = :line_size, rod = :rod,
                       reel = :reel, backing = :backing, running_line = :running_line,
                       notes = :notes, made_at_utc = :made_at, retired_at_utc = :retired_at,
                       is_undone = 0
        WHERE id = :id)sql"}},

        // Who a client is stands in another table, has no history, and goes when it is forgotten.
        {.name = "clients",
         .thing = "client",
         .only_grows = false,
         .columns = client_columns,
         .list = R"sql(
        SELECT c.id, c.code, c.made_at_utc AS made_at, c.told_at_utc AS told_at,
               c.forgotten_at_utc AS forgotten_at, p.name, p.line_size,
               nullif(p.hand, '') AS hand, nullif(p.notes, '') AS notes
        FROM client AS c LEFT JOIN client_person AS p ON p.client = c.rid
        WHERE c.is_undone = 0 ORDER BY c.rid)sql",
         .find = R"sql(
        SELECT c.id, c.code, c.made_at_utc AS made_at, c.told_at_utc AS told_at,
               c.forgotten_at_utc AS forgotten_at, p.name, p.line_size,
               nullif(p.hand, '') AS hand, nullif(p.notes, '') AS notes, c.is_undone
        FROM client AS c LEFT JOIN client_person AS p ON p.client = c.rid
        WHERE c.id = :id OR (:id IS NULL AND c.code = :code AND c.is_undone = 0)
        ORDER BY c.rid LIMIT 1)sql",
         .insert = {R"sql(
        INSERT INTO client (id, code, made_at_utc, told_at_utc, forgotten_at_utc)
        VALUES (:id, :code, :made_at, :told_at, :forgotten_at))sql",
                    R"sql(
        INSERT INTO client_person (client, name, line_size, hand, notes, told_at_utc)
        SELECT (SELECT rid FROM client WHERE id = :id), :name, :line_size, coalesce(:hand, ''),
               coalesce(:notes, ''), coalesce(:told_at, '')
        WHERE :name IS NOT NULL)sql"},
         .bring_back_or_change = {R"sql(
        UPDATE client SET code = :code, made_at_utc = :made_at, told_at_utc = :told_at,
                          forgotten_at_utc = :forgotten_at, is_undone = 0
        WHERE id = :id)sql",
                                  R"sql(
        INSERT INTO client_person (client, name, line_size, hand, notes, told_at_utc)
        SELECT (SELECT rid FROM client WHERE id = :id), :name, :line_size, coalesce(:hand, ''),
               coalesce(:notes, ''), coalesce(:told_at, '')
        WHERE :name IS NOT NULL
        ON CONFLICT (client) DO UPDATE SET name = excluded.name, line_size = excluded.line_size,
                                           hand = excluded.hand, notes = excluded.notes,
                                           told_at_utc = excluded.told_at_utc)sql"}},

        // The history knows when an outing is cancelled and a promise withdrawn as changes of rows
        // that came to be without it.
        {.name = "outings",
         .thing = "outing",
         .only_grows = false,
         .columns = outing_columns,
         .list = R"sql(
        SELECT o.id, o.day, b.id AS boat_id, b.name AS boat, c.id AS client_id,
               c.code AS client_code, o.cancelled_at_utc AS cancelled_at
        FROM outing AS o
        JOIN boat AS b ON b.rid = o.boat
        LEFT JOIN client AS c ON c.rid = o.client
        WHERE o.is_undone = 0 ORDER BY o.rid)sql",
         .find = R"sql(
        SELECT o.id, o.day, b.id AS boat_id, b.name AS boat, c.id AS client_id,
               c.code AS client_code, o.cancelled_at_utc AS cancelled_at, o.is_undone
        FROM outing AS o
        JOIN boat AS b ON b.rid = o.boat
        LEFT JOIN client AS c ON c.rid = o.client
        WHERE o.id = :id)sql",
         .insert = {R"sql(
        INSERT INTO outing (id, day, boat, client)
        VALUES (:id, :day, (SELECT rid FROM boat WHERE id = :boat_id),
                (SELECT rid FROM client WHERE id = :client_id)))sql",
                    R"sql(
        UPDATE outing SET cancelled_at_utc = :cancelled_at
        WHERE id = :id AND :cancelled_at IS NOT NULL)sql"},
         .bring_back_or_change = {R"sql(
        UPDATE outing SET cancelled_at_utc = :cancelled_at, is_undone = 0 WHERE id = :id)sql"},
         .only_id_names = true},

        {.name = "promises",
         .thing = "promise",
         .only_grows = false,
         .columns = promise_columns,
         .list = R"sql(
        SELECT p.id, o.id AS outing_id, r.id AS rig_id, r.code AS rig_code, c.id AS coil_id,
               c.code AS coil_code, p.class, p.count, p.withdrawn_at_utc AS withdrawn_at
        FROM promise AS p
        JOIN outing AS o ON o.rid = p.outing
        LEFT JOIN rig AS r ON r.rid = p.rig
        LEFT JOIN coil AS c ON c.rid = p.coil
        WHERE p.is_undone = 0 ORDER BY p.rid)sql",
         .find = R"sql(
        SELECT p.id, o.id AS outing_id, r.id AS rig_id, r.code AS rig_code, c.id AS coil_id,
               c.code AS coil_code, p.class, p.count, p.withdrawn_at_utc AS withdrawn_at,
               p.is_undone
        FROM promise AS p
        JOIN outing AS o ON o.rid = p.outing
        LEFT JOIN rig AS r ON r.rid = p.rig
        LEFT JOIN coil AS c ON c.rid = p.coil
        WHERE p.id = :id)sql",
         .insert = {R"sql(
        INSERT INTO promise (id, outing, rig, coil, class, count)
        VALUES (:id, (SELECT rid FROM outing WHERE id = :outing_id),
                (SELECT rid FROM rig WHERE id = :rig_id),
                (SELECT rid FROM coil WHERE id = :coil_id), :class, :count))sql",
                    R"sql(
        UPDATE promise SET withdrawn_at_utc = :withdrawn_at
        WHERE id = :id AND :withdrawn_at IS NOT NULL)sql"},
         .bring_back_or_change = {R"sql(
        UPDATE promise SET withdrawn_at_utc = :withdrawn_at, is_undone = 0 WHERE id = :id)sql"},
         .only_id_names = true},

        // Without a turn it is written down here, by somebody who knows of all that stand before.
        {.name = "handovers",
         .thing = "handover",
         .only_grows = true,
         .columns = handover_columns,
         .list = R"sql(
        SELECT h.id, c.id AS coil_id, c.code AS coil_code, r.id AS rig_id, r.code AS rig_code,
               h.place, b.id AS boat_id, b.name AS boat, i.id AS in_rig_id, i.code AS in_rig_code,
               h.role, p.id AS client_id, p.code AS client_code, h.at_utc AS at, h.by_whom,
               h.note, h.turn
        FROM handover AS h
        LEFT JOIN coil AS c ON c.rid = h.coil
        LEFT JOIN rig AS r ON r.rid = h.rig
        LEFT JOIN boat AS b ON b.rid = h.boat
        LEFT JOIN rig AS i ON i.rid = h.in_rig
        LEFT JOIN client AS p ON p.rid = h.client
        WHERE h.is_undone = 0 ORDER BY h.rid)sql",
         .find = R"sql(
        SELECT h.id, c.id AS coil_id, c.code AS coil_code, r.id AS rig_id, r.code AS rig_code,
               h.place, b.id AS boat_id, b.name AS boat, i.id AS in_rig_id, i.code AS in_rig_code,
               h.role, p.id AS client_id, p.code AS client_code, h.at_utc AS at, h.by_whom,
               h.note, h.turn, h.is_undone
        FROM handover AS h
        LEFT JOIN coil AS c ON c.rid = h.coil
        LEFT JOIN rig AS r ON r.rid = h.rig
        LEFT JOIN boat AS b ON b.rid = h.boat
        LEFT JOIN rig AS i ON i.rid = h.in_rig
        LEFT JOIN client AS p ON p.rid = h.client
        WHERE h.id = :id)sql",
         .insert = {R"sql(
        INSERT INTO handover (id, coil, rig, place, boat, in_rig, role, client, at_utc, by_whom,
                              note, turn)
        SELECT :id, coil, rig, :place, (SELECT rid FROM boat WHERE id = :boat_id),
               (SELECT rid FROM rig WHERE id = :in_rig_id), :role,
               (SELECT rid FROM client WHERE id = :client_id), :at, :by_whom, :note,
               coalesce(:turn, (SELECT count(*) FROM handover AS h
                                WHERE h.is_undone = 0
                                  AND (h.coil = thing.coil OR h.rig = thing.rig)))
        FROM (SELECT (SELECT rid FROM coil WHERE id = :coil_id) AS coil,
                     (SELECT rid FROM rig WHERE id = :rig_id) AS rig) AS thing)sql"},
         .bring_back_or_change = {"UPDATE handover SET is_undone = 0 WHERE id = :id"}},

        {.name = "conditions",
         .thing = "condition",
         .only_grows = true,
         .columns = condition_columns,
         .list = R"sql(
        SELECT n.id, c.id AS coil_id, c.code AS coil_code, n.what, n.is_found AS found,
               n.at_utc AS at, n.by_whom, n.note
        FROM condition AS n JOIN coil AS c ON c.rid = n.coil
        WHERE n.is_undone = 0 AND c.is_undone = 0 ORDER BY n.rid)sql",
         .find = R"sql(
        SELECT n.id, c.id AS coil_id, c.code AS coil_code, n.what, n.is_found AS found,
               n.at_utc AS at, n.by_whom, n.note, n.is_undone
        FROM condition AS n JOIN coil AS c ON c.rid = n.coil
        WHERE n.id = :id)sql",
         .insert = {R"sql(
        INSERT INTO condition (id, coil, what, is_found, at_utc, by_whom, note)
        VALUES (:id, (SELECT rid FROM coil WHERE id = :coil_id), :what, :found, :at, :by_whom,
                :note))sql"},
         .bring_back_or_change = {"UPDATE condition SET is_undone = 0 WHERE id = :id"}},

        // What was put away and then pruned is left out, with what put it away.
        {.name = "photographs",
         .thing = "photograph",
         .only_grows = true,
         .columns = photograph_columns,
         .list = R"sql(
        SELECT p.id, c.id AS coil_id, c.code AS coil_code, p.sha256, p.format, p.width, p.height,
               p.size, away.id AS puts_away, p.at_utc AS at, p.by_whom, p.note
        FROM photograph AS p
        JOIN coil AS c ON c.rid = p.coil
        LEFT JOIN photograph AS away ON away.rid = p.puts_away
        WHERE p.is_undone = 0 AND c.is_undone = 0 AND coalesce(away.is_undone, 0) = 0
          AND (EXISTS (SELECT 1 FROM picture_piece AS e
                       WHERE e.sha256 = coalesce(p.sha256, away.sha256))
               OR p.rid IN (SELECT rid FROM current_photograph))
        ORDER BY p.rid)sql",
         .find = R"sql(
        SELECT p.id, c.id AS coil_id, c.code AS coil_code, p.sha256, p.format, p.width, p.height,
               p.size, away.id AS puts_away, p.at_utc AS at, p.by_whom, p.note, p.is_undone
        FROM photograph AS p
        JOIN coil AS c ON c.rid = p.coil
        LEFT JOIN photograph AS away ON away.rid = p.puts_away
        WHERE p.id = :id)sql",
         .insert = {R"sql(
        INSERT INTO photograph (id, coil, sha256, format, width, height, size, puts_away, at_utc,
                                by_whom, note)
        VALUES (:id, (SELECT rid FROM coil WHERE id = :coil_id), :sha256, :format, :width, :height,
                :size, (SELECT rid FROM photograph WHERE id = :puts_away), :at, :by_whom,
                :note))sql"},
         .bring_back_or_change = {"UPDATE photograph SET is_undone = 0 WHERE id = :id"}},
    };
}

}  // namespace coilbook::store
