#include "app/coil_changes.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/codes.h"
#include "app/verdict_snapshot.h"
#include "base/text.h"
#include "catalog/given_code.h"
#include "exchange/written_readings.h"
#include "identify/evidence.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"
#include "store/rig_repository.h"
#include "store/rows.h"

namespace coilbook::app {
namespace {

// Of an act: its rows. The rest is sealing them and writing them to the disk.
constexpr double until_written = 0.8;

// What is read off a confirmed coil is what its class learns from.
void learn_anew_if_confirmed(Workshop& workshop, const Coil& coil) {
    if (workshop.catalogue().confirmations().current_of(coil.id)) workshop.refresh();
}

// Whether something sensible is left of all that was read of the coil.
Result<void> check_together(Workshop& workshop, const Coil& coil, const Units& units) {
    const auto readings = workshop.catalogue().readings().readings_of(coil.id);
    const auto evidence = evidence_of(readings, workshop.instruments(), units);
    if (!evidence) return tl::unexpected(evidence.error());
    return {};
}

// A new coil is not to get a code that a coil of the catalogue has already, but for a slip: one in
// small letters, say, or with one character wrong where the check character shows it.
Result<void> check_new_code(Workshop& workshop, const std::string& code) {
    auto& coils = workshop.catalogue().coils();
    if (workshop.catalogue().rigs().by_code(code)) {
        return problem("code", coilbook::quoted(code) + " is the code of a rig",
                       "a code that nothing else has");
    }
    const auto meant = read_given_code(code);
    if (meant && *meant != code && coils.by_code(*meant)) {
        return problem("code",
                       coilbook::quoted(code) + " is how one reads " + *meant + ", which is there",
                       *meant + " for that coil, another code for a new one");
    }
    if (!is_mistyped_code(code)) return {};
    for (const auto& near : nearest_codes(code, coils.codes())) {
        if (!is_given_code(near)) continue;
        return problem("code", coilbook::quoted(code) + " has a wrong check character",
                       "perhaps " + coilbook::quoted(near) + ", which is there; or another code");
    }
    return {};
}

}  // namespace

Result<Coil> coil_by_code(Workshop& workshop, std::string_view code) {
    const auto meant = read_given_code(trimmed(code));
    for (const auto& each : {std::string(trimmed(code)), meant.value_or("")}) {
        if (const auto one = check_only_one_has(workshop, each); !one) {
            return tl::unexpected(one.error());
        }
        if (const auto found = workshop.catalogue().coils().by_code(each)) return *found;
    }
    return tl::unexpected(unknown_code(workshop, CodeOf::coil, code));
}

Result<Coil> add_coil(Workshop& workshop, std::string_view code, std::string_view notes) {
    const auto accepted = coil_code_from(code);
    if (!accepted) return tl::unexpected(accepted.error());
    if (const auto free = check_new_code(workshop, *accepted); !free) {
        return tl::unexpected(free.error());
    }
    const Coil coil{workshop.new_id<Coil>(), *accepted, std::string(notes),
                    workshop.surroundings().now()};
    const auto added = workshop.catalogue().act(
        workshop.note("add coil " + coil.code),
        [&](store::Act& act) { return workshop.catalogue().coils().add(act, coil); });
    if (!added) return tl::unexpected(added.error());
    return coil;
}

Result<std::vector<Reading>> record_reading(Workshop& workshop, const Coil& coil,
                                            ReadingField field, std::string_view text,
                                            NumberStyle style, std::string_view instrument,
                                            const Units& units) {
    const auto written = exchange::written_readings(field, text, style);
    if (!written) return tl::unexpected(written.error());
    auto& repository = workshop.catalogue().readings();
    std::optional<Id<Reading>> superseded;
    if (field != ReadingField::diameters) {
        for (const auto& current : repository.current_of(coil.id)) {
            if (current.field == field) superseded = current.id;
        }
    }
    std::vector<Reading> readings;
    for (const auto& raw : *written) {
        readings.push_back({workshop.new_id<Reading>(), coil.id, field, raw.as_written, raw.value,
                            std::string(instrument), workshop.surroundings().now(), superseded});
    }
    const std::string what = "read " + std::string(name_of(field)) + " of coil " + coil.code;
    const bool was_sound = check_together(workshop, coil, units).has_value();
    const auto added =
        workshop.catalogue().act(workshop.note(what), [&](store::Act& act) -> Result<void> {
            for (const auto& reading : readings) {
                if (const auto one = repository.add(act, reading); !one) return one;
            }
            if (was_sound) return check_together(workshop, coil, units);
            return {};
        });
    if (!added) return tl::unexpected(added.error());
    learn_anew_if_confirmed(workshop, coil);
    return readings;
}

Result<void> change_notes(Workshop& workshop, const Coil& coil, std::string_view notes) {
    if (!is_plain_text(notes)) {
        return problem("notes", "the notes are no plain text", "letters, digits and marks");
    }
    Coil changed = coil;
    changed.notes = std::string(trimmed(notes));
    return workshop.catalogue().act(
        workshop.note("change the notes of coil " + coil.code),
        [&](store::Act& act) { return workshop.catalogue().coils().change(act, changed); });
}

Result<void> withdraw_reading(Workshop& workshop, const Coil& coil, ReadingField field,
                              const std::optional<Id<Reading>>& which) {
    auto& repository = workshop.catalogue().readings();
    std::optional<Reading> last;
    for (const auto& current : repository.current_of(coil.id)) {
        if (current.field == field && (!which || current.id == *which)) last = current;
    }
    if (!last) {
        return problem(std::string(name_of(field)), "nothing was read there",
                       "a field with a reading");
    }
    Reading withdrawal = *last;
    withdrawal.id = workshop.new_id<Reading>();
    withdrawal.value.reset();
    withdrawal.as_written.clear();
    withdrawal.taken_at = workshop.surroundings().now();
    withdrawal.supersedes = last->id;
    const std::string what = "withdraw " + std::string(name_of(field)) + " of coil " + coil.code;
    const auto done = workshop.catalogue().act(
        workshop.note(what), [&](store::Act& act) { return repository.add(act, withdrawal); });
    if (done) learn_anew_if_confirmed(workshop, coil);
    return done;
}

Result<void> correct_units(Workshop& workshop, const Coil& coil,
                           const std::vector<ReadingField>& fields, bool noted_as_grains) {
    auto& repository = workshop.catalogue().readings();
    const auto current = repository.current_of(coil.id);
    std::vector<Reading> meant;
    for (const ReadingField field : fields) {
        const auto noted = std::ranges::find(current, field, &Reading::field);
        if (noted == current.end()) {
            return problem(std::string(name_of(field)), "nothing was read there",
                           "a field with a reading");
        }
        const std::string_view text = noted->as_written;
        const auto unit = text.find_first_of("gG", text.find_first_of("0123456789"));
        const std::string number(trimmed(text.substr(0, unit)));
        const auto written = exchange::written_readings(
            field, number,
            {number.find(',') == std::string::npos ? '.' : ',', noted_as_grains ? "g" : "gr"});
        if (!written) return tl::unexpected(written.error());
        Reading corrected = *noted;
        corrected.id = workshop.new_id<Reading>();
        corrected.as_written = written->front().as_written;
        corrected.value = written->front().value;
        corrected.taken_at = workshop.surroundings().now();
        corrected.supersedes = noted->id;
        meant.push_back(std::move(corrected));
    }
    const std::string what = fmt::format("correct the unit of coil {} from {}", coil.code,
                                         noted_as_grains ? "grains to grams" : "grams to grains");
    const auto done =
        workshop.catalogue().act(workshop.note(what), [&](store::Act& act) -> Result<void> {
            for (const auto& reading : meant) {
                if (const auto one = repository.add(act, reading); !one) return one;
            }
            return {};
        });
    if (done) learn_anew_if_confirmed(workshop, coil);
    return done;
}

Result<void> confirm_coil(Workshop& workshop, const Coil& coil, std::string_view class_name,
                          std::string_view note) {
    const auto snapshot = verdict_snapshot(workshop, coil);
    if (!snapshot) return tl::unexpected(snapshot.error());
    const Confirmation confirmation{workshop.new_id<Confirmation>(), coil.id,
                                    std::string(class_name),         workshop.surroundings().who,
                                    workshop.surroundings().now(),   std::string(note)};
    const std::string what = "confirm coil " + coil.code + " as " + std::string(class_name);
    const auto plain = store::check_plain("note", note);
    if (!plain) return plain;
    const auto done =
        workshop.catalogue().act(workshop.note(what, std::string(note)), [&](store::Act& act) {
            return workshop.catalogue().confirmations().add(act, confirmation, *snapshot);
        });
    if (done) workshop.refresh();
    return done;
}

Result<ManyConfirmations> ManyConfirmations::prepared(Workshop& workshop,
                                                      const std::vector<CoilAndClass>& coils) {
    ManyConfirmations many;
    auto& progress = workshop.progress();
    progress.begin(fmt::format("Noting what {} coils look like", coils.size()));
    for (const auto& [coil, class_name] : coils) {
        progress.reached(static_cast<double>(many.each_.size()) /
                         static_cast<double>(coils.size()));
        auto snapshot = verdict_snapshot(workshop, coil);
        if (!snapshot) return tl::unexpected(snapshot.error());
        many.each_.push_back({{workshop.new_id<Confirmation>(),
                               coil.id,
                               class_name,
                               workshop.surroundings().who,
                               workshop.surroundings().now(),
                               {}},
                              std::move(*snapshot)});
    }
    return many;
}

Result<void> ManyConfirmations::add(Workshop& workshop, store::Act& act) const {
    auto& progress = workshop.progress();
    double count = 0;
    for (const auto& [confirmation, snapshot] : each_) {
        progress.reached(until_written * count++ / static_cast<double>(each_.size()));
        const auto added = workshop.catalogue().confirmations().add(act, confirmation, snapshot);
        if (!added) return added;
    }
    return {};
}

Result<void> confirm_coils(Workshop& workshop, const std::vector<CoilAndClass>& coils) {
    if (coils.empty()) return problem("coils", "no coil is named", "one coil or more");
    const auto many = ManyConfirmations::prepared(workshop, coils);
    if (!many) return tl::unexpected(many.error());
    std::vector<std::string> codes;
    for (const auto& each : coils) codes.push_back(each.coil.code);
    const auto done = workshop.catalogue().act(
        workshop.note(fmt::format("confirm {} coils: {}", coils.size(), listed(codes))),
        [&](store::Act& act) { return many->add(workshop, act); });
    if (done) workshop.refresh();
    return done;
}

Result<void> take_confirmation_back(Workshop& workshop, const Coil& coil, std::string_view note) {
    const Confirmation confirmation{workshop.new_id<Confirmation>(),
                                    coil.id,
                                    std::nullopt,
                                    workshop.surroundings().who,
                                    workshop.surroundings().now(),
                                    std::string(note)};
    const std::string what = "take back what coil " + coil.code + " was confirmed as";
    const auto plain = store::check_plain("note", note);
    if (!plain) return plain;
    const auto done =
        workshop.catalogue().act(workshop.note(what, std::string(note)), [&](store::Act& act) {
            return workshop.catalogue().confirmations().add(act, confirmation);
        });
    if (done) workshop.refresh();
    return done;
}

}  // namespace coilbook::app
