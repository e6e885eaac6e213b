// The bin: every coil of the catalogue with its readings, and what each is held to be.
//
// What the list says of a coil is made when it is asked for, and kept until the coil's readings or
// the library change, so a long bin costs what is looked at. A whole verdict is kept for one coil.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/workshop.h"
#include "catalog/coil.h"
#include "identify/verdict.h"
#include "quantity/unit_set.h"
#include "store/reading_repository.h"

namespace coilbook {
class PreparedLibrary;  // identify/prepared_library.h
}

namespace coilbook::app {

// How far a coil has come at the bench.
enum class CoilState {
    unmeasured,     // no readings
    needs_reading,  // readings, but the class is not sure or they cannot be trusted
    ready,          // a listed class has 0.8 or more, and nothing is flagged
    confirmed,      // the person's word is given
};
[[nodiscard]] std::string_view name_of(CoilState state);  // "ready to confirm"

// What a coil is held to be, in two short words.
struct CoilLabel {
    std::string name;    // "T-11"
    std::string amount;  // "94 %"; empty where it was confirmed

    [[nodiscard]] std::string text() const { return amount.empty() ? name : name + ", " + amount; }
};

// What a list of coils says of one.
struct CoilSummary {
    CoilState state = CoilState::unmeasured;
    CoilLabel label;     // what was confirmed, else the best class; empty while unmeasured
    double share = 0.0;  // the probability of that; 1 where it was confirmed, 0 while unmeasured
    Facts facts;
    std::optional<ReadingField> next_reading;  // for the question of the bin; none where enough
};

class Bin {
  public:
    Bin();

    // Reads the bin, and keeps the summaries that are still right.
    void refresh(Workshop& workshop);
    // The same after a change of no more than this coil, whether it is new, changed or retired:
    // only it is read.
    struct Refreshed {
        std::optional<std::size_t> at;  // where it is; nothing if it is not in the bin any more
        bool same_library = true;       // else the other coils' summaries are to be made anew
    };
    Refreshed refresh(Workshop& workshop, const Id<Coil>& coil);
    // Refreshes if another program has written since; true if so. Cheap enough for every second.
    bool refresh_if_changed(Workshop& workshop);

    // Coils that are not retired, by code.
    [[nodiscard]] std::size_t size() const { return rows_.size(); }
    [[nodiscard]] const store::BinEntry& entry(std::size_t at) const { return rows_[at].entry; }
    [[nodiscard]] std::optional<std::size_t> find(const Id<Coil>& id) const;
    [[nodiscard]] std::optional<std::size_t> find_code(std::string_view code) const;

    // What the next readings are advised for from now on: which line it is, if nobody asks. Gives
    // whether that is another question than before.
    bool ask(const Question& question);

    // Reasons and advice have their numbers in these units from now on; in grains and feet, if
    // nobody says.
    void speak_in(const Units& units);

    // All of these throw Error if a reading names an instrument that the catalogue does not have,
    // and if the library cannot identify at all (check_library() of identify/identify.h).
    [[nodiscard]] const CoilSummary& summary(std::size_t at);
    [[nodiscard]] CoilState state(std::size_t at) { return summary(at).state; }
    [[nodiscard]] CoilLabel label(std::size_t at) { return summary(at).label; }
    // With the reasons in words; stays until another coil's is asked for.
    [[nodiscard]] const Verdict& verdict(std::size_t at);

    // The library and instruments that the verdicts were made with.
    [[nodiscard]] const ReferenceLibrary& library() const;
    [[nodiscard]] const Instruments& instruments() const { return instruments_; }

  private:
    struct Row {
        store::BinEntry entry;
        std::optional<CoilSummary> summary;
    };
    struct Told {
        Id<Coil> coil;
        Verdict verdict;
    };
    // Takes over the library and the instruments; true if they are the same as before.
    bool follow_library(const Workshop& workshop);
    void put_places(std::size_t from);
    [[nodiscard]] Verdict judged(const store::BinEntry& entry, bool in_words) const;
    [[nodiscard]] CoilSummary summed_up(const store::BinEntry& entry, const Verdict& verdict) const;

    std::vector<Row> rows_;
    std::map<Id<Coil>, std::size_t> places_;
    std::shared_ptr<const PreparedLibrary> library_;
    Instruments instruments_;
    Question question_;
    Units units_ = grains_and_feet;
    std::optional<Told> told_;
    std::int64_t data_version_ = 0;
};

}  // namespace coilbook::app
