// What a person can do to a coil: add it, read it, take a reading back, say what it is.
//
// Each is one act with one entry in the history. A Problem says what is wrong with what the person
// gave, and nothing has happened; an Error is the machine's (disk full, file locked), and nothing
// has happened either.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/workshop.h"
#include "catalog/coil.h"
#include "quantity/unit_set.h"
#include "store/confirmation_repository.h"

namespace coilbook::app {

// The coil with that code that is not retired. A given code is read as people write it
// (catalog/given_code.h). A Problem names the code, and the nearest ones of the catalogue.
[[nodiscard]] Result<Coil> coil_by_code(Workshop& workshop, std::string_view code);

// Adds a coil. A Problem for a code that cannot stand on a label, that another coil has, or that is
// another coil's given code with a slip.
[[nodiscard]] Result<Coil> add_coil(Workshop& workshop, std::string_view code,
                                    std::string_view notes = {});

// Records what was read: `text` may hold several diameters. Whatever but a diameter was read before
// in that field is superseded. The instrument is a code of the catalogue's, or empty for the
// default. Gives what was added. A Problem, and nothing is kept, for what is no such reading, and
// where all that was read of the coil together would be no line's (evidence_of); it says in these
// units what would be accepted.
[[nodiscard]] Result<std::vector<Reading>> record_reading(Workshop& workshop, const Coil& coil,
                                                          ReadingField field, std::string_view text,
                                                          NumberStyle style = {},
                                                          std::string_view instrument = {},
                                                          const Units& units = grains_and_feet);

// Gives the coil these notes in place of those that it has. A Problem for what is no plain text.
[[nodiscard]] Result<void> change_notes(Workshop& workshop, const Coil& coil,
                                        std::string_view notes);

// Withdraws the last current reading in that field, or the one that is named. A Problem if there is
// none.
[[nodiscard]] Result<void> withdraw_reading(Workshop& workshop, const Coil& coil,
                                            ReadingField field,
                                            const std::optional<Id<Reading>>& which = {});

// Corrects weights that were noted in the wrong one of grains and grams: the same numbers with the
// other unit supersede them, in one act. A Problem if one of the fields has no reading.
// REQUIRES: fields of weights.
[[nodiscard]] Result<void> correct_units(Workshop& workshop, const Coil& coil,
                                         const std::vector<ReadingField>& fields,
                                         bool noted_as_grains);

// The same of several coils: one act, of all of them or of none.
struct CoilAndClass {
    Coil coil;
    std::string class_name;
};
[[nodiscard]] Result<void> confirm_coils(Workshop& workshop,
                                         const std::vector<CoilAndClass>& coils);
// The same as a part of another act: made ready before it, and added within it.
class ManyConfirmations {
  public:
    [[nodiscard]] static Result<ManyConfirmations> prepared(Workshop& workshop,
                                                            const std::vector<CoilAndClass>& coils);
    [[nodiscard]] Result<void> add(Workshop& workshop, store::Act& act) const;

  private:
    struct OfOneCoil {
        Confirmation confirmation;
        store::VerdictSnapshot snapshot;
    };
    std::vector<OfOneCoil> each_;
};

// The person's word that the coil is of that class of the library; what the program said at that
// moment is kept beside it. The note, how they know, stands in the history as the reason.
[[nodiscard]] Result<void> confirm_coil(Workshop& workshop, const Coil& coil,
                                        std::string_view class_name, std::string_view note = {});
// Takes the last confirmation back; the note, why, is the history's reason. A Problem if there is
// none.
[[nodiscard]] Result<void> take_confirmation_back(Workshop& workshop, const Coil& coil,
                                                  std::string_view note = {});

}  // namespace coilbook::app
