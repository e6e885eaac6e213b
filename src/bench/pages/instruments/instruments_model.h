// How the view of the page is made: a pure function of what is typed and what is known.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/instrument_coatings.h"
#include "app/instruments.h"
#include "bench/pages/instruments/instruments_form.h"
#include "bench/pages/instruments/instruments_view.h"

namespace coilbook::bench::instruments_page {

// What the page knows of the catalogue, and what was done last.
struct Situation {
    std::vector<app::KnownInstrument> instruments;
    Instant now;
    Units units = grains_and_feet;                   // of what has no unit of its own
    std::optional<app::CoatedCoils> coated;          // where a micrometer is in hand
    std::string squeeze_found;                       // the sentence on it, once it was asked for
    std::optional<app::UnfinishedStudy> unfinished;  // of an earlier start, not decided upon yet
    std::string failure, message;
};

[[nodiscard]] const app::KnownInstrument* known(const Situation& situation,
                                                const app::InstrumentKey& key);
// The one in hand; null where there is none.
[[nodiscard]] const app::KnownInstrument* in_hand(const Form& form, const Situation& situation);

// The rows of the list, in the order shown.
[[nodiscard]] ListView list_view(const Form& form, const Situation& situation);

// "A study with the micrometer is not finished: 12 of 90 readings, by Ann and Bob."
[[nodiscard]] std::string words_of_unfinished(const app::UnfinishedStudy& study);

[[nodiscard]] View view_of(const Form& form, const Situation& situation);

// Parts of it, in files of their own.
[[nodiscard]] CheckView check_view(const Form& form, const app::KnownInstrument& known);
[[nodiscard]] ResultView check_result(const Form& form, const app::KnownInstrument& known);
[[nodiscard]] ResultView last_check(const app::KnownInstrument& known, const Units& units);
[[nodiscard]] StudyView study_view(const Form& form);

// How an instrument of the kind is checked, a sentence each. Common practice, no published source.
[[nodiscard]] std::vector<std::string> how_to_check(app::InstrumentKind kind);

// What is wrong, for the place beside a field.
[[nodiscard]] std::string words_of(const std::optional<Problem>& problem);
// A unit as it is spoken of: "grams", "inches", "mm".
[[nodiscard]] std::string unit_word(std::string_view unit);
// The word for the other unit of the kind; empty where it has one only.
[[nodiscard]] std::string other_unit(app::InstrumentKind kind, std::string_view unit);
// "Scale S2", or "The usual scale" for the default one.
[[nodiscard]] std::string title_of(const app::InstrumentKey& key);
[[nodiscard]] std::string with_capital(std::string text);

}  // namespace coilbook::bench::instruments_page
