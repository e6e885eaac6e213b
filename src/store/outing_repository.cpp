#include "store/outing_repository.h"

#include <algorithm>

#include "base/text.h"

namespace coilbook::store {
namespace {

Boat boat_from(const db::Row& row) {
    std::optional<int> seats;
    if (const auto number = row.optional_integer("seats")) seats = static_cast<int>(*number);
    return {.id = id_at<Boat>(row, "id"),
            .name = row.text("name"),
            .seats = seats,
            .notes = row.text("notes"),
            .made_at = instant_at(row, "made_at_utc"),
            .is_retired = !row.is_null("retired_at_utc")};
}

std::optional<std::int64_t> seats_of(const Boat& boat) {
    return boat.seats ? std::optional<std::int64_t>(*boat.seats) : std::nullopt;
}

Outing outing_from(const db::Row& row) {
    return {.id = id_at<Outing>(row, "id"),
            .day = kept(day_from(row.text("day")), "day"),
            .boat = id_at<Boat>(row, "boat_id"),
            .client = optional_id_at<Client>(row, "client_id"),
            .is_cancelled = !row.is_null("cancelled_at_utc")};
}

Promise promise_from(const db::Row& row) {
    Promise promise{id_at<Promise>(row, "id"), id_at<Outing>(row, "outing_id"), ClassNeed{}};
    if (const auto rig = optional_id_at<Rig>(row, "rig_id")) {
        promise.what = *rig;
    } else if (const auto coil = optional_id_at<Coil>(row, "coil_id")) {
        promise.what = *coil;
    } else {
        promise.what = ClassNeed{row.text("class"), count_at(row, "count")};
    }
    return promise;
}

}  // namespace

OutingRepository::OutingRepository(const db::Database& database)
    : insert_boat_(database, R"sql(
          INSERT INTO boat (id, name, seats, notes, made_at_utc)
          VALUES (:id, :name, :seats, :notes, :made_at_utc))sql"),
      change_boat_(database, R"sql(
          UPDATE boat SET
              name = :name,
              seats = :seats,
              notes = :notes,
              retired_at_utc = CASE WHEN :is_retired THEN coalesce(retired_at_utc, :now_utc) END
          WHERE id = :id AND is_undone = 0)sql"),
      insert_outing_(database, R"sql(
          INSERT INTO outing (id, day, boat, client)
          VALUES (:id, :day, (SELECT rid FROM boat WHERE id = :boat),
                  (SELECT rid FROM client WHERE id = :client)))sql"),
      cancel_outing_(database, R"sql(
          UPDATE outing SET cancelled_at_utc = coalesce(cancelled_at_utc, :now_utc)
          WHERE id = :id AND is_undone = 0)sql"),
      insert_promise_(database, R"sql(
          INSERT INTO promise (id, outing, rig, coil, class, count)
          VALUES (:id, (SELECT rid FROM outing WHERE id = :outing),
                  (SELECT rid FROM rig WHERE id = :rig), (SELECT rid FROM coil WHERE id = :coil),
                  :class, :count))sql"),
      withdraw_promise_(database, R"sql(
          UPDATE promise SET withdrawn_at_utc = coalesce(withdrawn_at_utc, :now_utc)
          WHERE id = :id AND is_undone = 0)sql"),
      list_boats_(database, R"sql(
          SELECT * FROM boat
          WHERE is_undone = 0 AND (retired_at_utc IS NULL OR :with_retired)
          ORDER BY name COLLATE NOCASE, rid)sql"),
      list_outings_(database, R"sql(
          SELECT o.id, o.day, o.cancelled_at_utc, b.id AS boat_id, c.id AS client_id
          FROM outing AS o
          JOIN boat AS b ON b.rid = o.boat
          LEFT JOIN client AS c ON c.rid = o.client
          WHERE o.day = :day AND o.is_undone = 0 AND o.cancelled_at_utc IS NULL
          ORDER BY o.rid)sql"),
      list_days_(database, R"sql(
          SELECT DISTINCT day FROM outing WHERE is_undone = 0 AND cancelled_at_utc IS NULL
          ORDER BY day DESC)sql"),
      list_promises_(database, R"sql(
          SELECT p.id, p.class, p.count, o.id AS outing_id, r.id AS rig_id, c.id AS coil_id
          FROM promise AS p
          JOIN outing AS o ON o.rid = p.outing
          LEFT JOIN rig AS r ON r.rid = p.rig
          LEFT JOIN coil AS c ON c.rid = p.coil
          WHERE o.day = :day AND o.is_undone = 0 AND o.cancelled_at_utc IS NULL
            AND p.is_undone = 0 AND p.withdrawn_at_utc IS NULL
          ORDER BY p.rid)sql") {}

Result<void> OutingRepository::check(const Boat& boat) {
    if (const auto plain = check_plain("name", boat.name); !plain) return plain;
    if (const auto plain = check_plain("notes", boat.notes); !plain) return plain;
    if (boat.name.empty() || boat.name.size() > 60) {
        return problem("name", "a boat needs a name", "1 to 60 letters");
    }
    if (boat.seats && (*boat.seats < 1 || *boat.seats > 99)) {
        return problem("seats", "a boat cannot have so many seats", "1 to 99");
    }
    const auto same = boat_named(boat.name);
    if (!boat.is_retired && same && same->id != boat.id) {
        return problem("name", "there is a boat " + coilbook::quoted(boat.name) + " already",
                       "another name");
    }
    return {};
}

Result<void> OutingRepository::add_boat(Act& act, const Boat& boat) {
    if (const auto fine = check(boat); !fine) return fine;
    insert_boat_.bind(":id", boat.id.text())
        .bind(":name", boat.name)
        .bind(":seats", seats_of(boat))
        .bind(":notes", boat.notes)
        .bind(":made_at_utc", to_text(boat.made_at))
        .run(act.transaction());
    return {};
}

Result<void> OutingRepository::change_boat(Act& act, const Boat& boat) {
    const auto known = boats(true);
    if (std::ranges::find(known, boat.id, &Boat::id) == known.end()) {
        return problem("boat", "there is no such boat", "one of this catalogue");
    }
    if (const auto fine = check(boat); !fine) return fine;
    change_boat_.bind(":id", boat.id.text())
        .bind(":name", boat.name)
        .bind(":seats", seats_of(boat))
        .bind(":notes", boat.notes)
        .bind(":is_retired", boat.is_retired)
        .bind(":now_utc", to_text(act.note().at))
        .run(act.transaction());
    return {};
}

void OutingRepository::add_outing(Act& act, const Outing& outing) {
    std::optional<std::string> client;
    if (outing.client) client = outing.client->text();
    insert_outing_.bind(":id", outing.id.text())
        .bind(":day", day_text(outing.day))
        .bind(":boat", outing.boat.text())
        .bind(":client", client)
        .run(act.transaction());
}

void OutingRepository::cancel_outing(Act& act, const Id<Outing>& outing) {
    cancel_outing_.bind(":id", outing.text())
        .bind(":now_utc", to_text(act.note().at))
        .run(act.transaction());
}

Result<void> OutingRepository::add_promise(Act& act, const Promise& promise) {
    std::optional<std::string> rig, coil, class_name;
    int count = 1;
    if (const auto* id = std::get_if<Id<Rig>>(&promise.what)) rig = id->text();
    if (const auto* id = std::get_if<Id<Coil>>(&promise.what)) coil = id->text();
    if (const auto* need = std::get_if<ClassNeed>(&promise.what)) {
        if (const auto plain = check_plain("class", need->class_name); !plain) return plain;
        if (need->class_name.empty() || need->count < 1 || need->count > 999) {
            return problem("count", "this many cannot be needed", "1 to 999 of a class");
        }
        class_name = need->class_name;
        count = need->count;
    }
    insert_promise_.bind(":id", promise.id.text())
        .bind(":outing", promise.outing.text())
        .bind(":rig", rig)
        .bind(":coil", coil)
        .bind(":class", class_name)
        .bind(":count", count)
        .run(act.transaction());
    return {};
}

void OutingRepository::withdraw_promise(Act& act, const Id<Promise>& promise) {
    withdraw_promise_.bind(":id", promise.text())
        .bind(":now_utc", to_text(act.note().at))
        .run(act.transaction());
}

std::optional<Boat> OutingRepository::boat_named(std::string_view name) {
    const auto wanted = lower_ascii(trimmed(name));
    for (auto& boat : boats()) {
        if (lower_ascii(boat.name) == wanted) return boat;
    }
    return std::nullopt;
}

std::vector<Boat> OutingRepository::boats(bool with_retired) {
    return list_boats_.bind(":with_retired", with_retired).all(boat_from);
}

std::vector<Outing> OutingRepository::outings_on(Day day) {
    return list_outings_.bind(":day", day_text(day)).all(outing_from);
}

std::vector<Day> OutingRepository::days() {
    return list_days_.all(
        [](const db::Row& row) { return kept(day_from(row.text("day")), "day"); });
}

std::vector<Promise> OutingRepository::promises_on(Day day) {
    return list_promises_.bind(":day", day_text(day)).all(promise_from);
}

}  // namespace coilbook::store
