#include "store/client_repository.h"

#include "base/text.h"

namespace coilbook::store {
namespace {

struct ClientRow {
    Client client;
    bool is_undone;
};

ClientRow client_from(const db::Row& row) {
    ClientRow found{{.id = id_at<Client>(row, "id"),
                     .code = row.text("code"),
                     .made_at = instant_at(row, "made_at_utc"),
                     .person = {},
                     .is_forgotten = !row.is_null("forgotten_at_utc")},
                    flag_at(row, "is_undone")};
    if (!row.is_null("name")) {
        Person person{row.text("name"), {}, row.text("hand"), row.text("notes")};
        if (const auto size = row.optional_integer("line_size")) {
            person.line_size = LineSize{static_cast<int>(*size)};
        }
        found.client.person = person;
    }
    return found;
}

Result<void> check(const Person& person) {
    if (const auto plain = check_plain("name", person.name); !plain) return plain;
    if (const auto plain = check_plain("notes", person.notes); !plain) return plain;
    if (person.name.empty() || person.name.size() > 200) {
        return problem("name", "a client needs a name", "1 to 200 letters");
    }
    if (!person.hand.empty() && person.hand != "left" && person.hand != "right") {
        return problem("hand", coilbook::quoted(person.hand) + " is no hand", "left or right");
    }
    return {};
}

db::Statement& bind_person(db::Statement& statement, const Client& client, Instant told_at) {
    const Person& person = *client.person;
    std::optional<std::int64_t> size;
    if (person.line_size) size = person.line_size->number;
    return statement.bind(":id", client.id.text())
        .bind(":name", person.name)
        .bind(":line_size", size)
        .bind(":hand", person.hand)
        .bind(":notes", person.notes)
        .bind(":told_at_utc", to_text(told_at));
}

}  // namespace

ClientRepository::ClientRepository(const db::Database& database)
    : insert_(database, R"sql(
          INSERT INTO client (id, code, made_at_utc, told_at_utc)
          VALUES (:id, :code, :made_at_utc, :made_at_utc))sql"),
      insert_person_(database, R"sql(
          INSERT INTO client_person (client, name, line_size, hand, notes, told_at_utc)
          VALUES ((SELECT rid FROM client WHERE id = :id), :name, :line_size, :hand, :notes,
                  :told_at_utc))sql"),
      tell_(database, "UPDATE client SET told_at_utc = :now_utc WHERE id = :id"),
      change_person_(database, R"sql(
          UPDATE client_person SET
              name = :name,
              line_size = :line_size,
              hand = :hand,
              notes = :notes,
              told_at_utc = :told_at_utc
          WHERE client = (SELECT rid FROM client WHERE id = :id))sql"),
      forget_(database, R"sql(
          UPDATE client SET forgotten_at_utc = coalesce(forgotten_at_utc, :now_utc)
          WHERE id = :id)sql"),
      list_(database, R"sql(
          SELECT c.*, p.name, p.line_size, p.hand, p.notes
          FROM client AS c LEFT JOIN client_person AS p ON p.client = c.rid
          ORDER BY p.name IS NULL, p.name COLLATE NOCASE, c.rid)sql"),
      mentions_(database, R"sql(
          SELECT 'act ' || substr(id, 1, 13) || ' of ' || substr(at_utc, 1, 10) AS place FROM act
          WHERE instr(lower(what), lower(:words)) OR instr(lower(why), lower(:words))
          UNION
          SELECT DISTINCT c.field || ' of ' || c.thing_table || ' ' || c.thing || ' (history)'
          FROM field_change AS c
          WHERE instr(lower(c.was), lower(:words)) OR instr(lower(c.became), lower(:words))
          UNION
          SELECT 'note of the handover of ' || substr(at_utc, 1, 10) FROM handover
          WHERE instr(lower(note), lower(:words))
          UNION
          SELECT 'note of a confirmation of ' || substr(at_utc, 1, 10) FROM confirmation
          WHERE instr(lower(note), lower(:words))
          UNION
          SELECT 'a reading of ' || substr(taken_at_utc, 1, 10) FROM reading
          WHERE instr(lower(as_written), lower(:words))
          LIMIT 100)sql") {}

Result<void> ClientRepository::add(Act& act, const Client& client) {
    if (const auto fine = check(*client.person); !fine) return fine;
    insert_.bind(":id", client.id.text())
        .bind(":code", client.code)
        .bind(":made_at_utc", to_text(client.made_at))
        .run(act.transaction());
    bind_person(insert_person_, client, client.made_at).run(act.transaction());
    return {};
}

Result<void> ClientRepository::change(Act& act, const Client& client) {
    const auto known = by_id(client.id);
    if (!known || !known->person) {
        return problem("client", "there is no such client", "one who was not forgotten");
    }
    if (const auto fine = check(*client.person); !fine) return fine;
    tell_.bind(":id", client.id.text())
        .bind(":now_utc", to_text(act.note().at))
        .run(act.transaction());
    bind_person(change_person_, client, act.note().at).run(act.transaction());
    return {};
}

void ClientRepository::forget(Act& act, const Id<Client>& client) {
    forget_.bind(":id", client.text())
        .bind(":now_utc", to_text(act.note().at))
        .run(act.transaction());
}

std::vector<Client> ClientRepository::called(std::string_view code_or_name) {
    const auto wanted = lower_ascii(trimmed(code_or_name));
    std::vector<Client> by_code, by_name;
    for (auto& [client, is_undone] : list_.all(client_from)) {
        if (lower_ascii(client.code) == wanted) {
            by_code.push_back(client);
        } else if (!is_undone && client.person && lower_ascii(client.person->name) == wanted) {
            by_name.push_back(client);
        }
    }
    return by_code.empty() ? by_name : by_code;
}

std::optional<Client> ClientRepository::by_id(const Id<Client>& id) {
    for (auto& [client, is_undone] : list_.all(client_from)) {
        if (client.id == id) return client;
    }
    return std::nullopt;
}

std::vector<Client> ClientRepository::list() {
    std::vector<Client> clients;
    for (auto& [client, is_undone] : list_.all(client_from)) {
        if (!is_undone) clients.push_back(client);
    }
    return clients;
}

std::vector<std::string> ClientRepository::mentions_of(std::string_view words) {
    return mentions_.bind(":words", words).all([](const db::Row& row) {
        return row.text("place");
    });
}

}  // namespace coilbook::store
