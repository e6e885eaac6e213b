// The catalogue: one file, and the one door through which it is written.
//
//     auto catalogue = Catalogue::open(file);
//     const auto added = catalogue.act(note, [&](Act& act) {
//         return catalogue.coils().add(act, coil);
//     });
//
// Reading needs no ceremony. Writing needs an Act, which only act() lends: everything done with it
// is one transaction with one entry in the history, and nothing of it stays when it fails.
// Ids and moments are passed in. One thread uses a Catalogue; a worker opens its own.
#pragma once

#include <concepts>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "base/error.h"
#include "base/result.h"
#include "db/breakable.h"
#include "db/migration.h"
#include "store/act.h"
#include "store/audit.h"

namespace coilbook::store {

class CareRepository;
class CheckRepository;
class ClassRepository;
class ClientRepository;
class CoilRepository;
class ConfirmationRepository;
class Conflicts;
class CustodyRepository;
class HistoryRepository;
class InstrumentRepository;
class KindRepository;
class OutingRepository;
class ReadingRepository;
class RigRepository;
class SearchableRepository;
class Seals;
class SettingRepository;
class Settling;
class Undoing;

// What makes a file a catalogue.
[[nodiscard]] db::FileKind catalogue_kind();

struct Kind;
struct Salvaged;

namespace detail {

template <class T>
struct IsResult : std::false_type {};
template <class T>
struct IsResult<Result<T>> : std::true_type {};

}  // namespace detail

class Catalogue {
  public:
    // Opens a catalogue and brings it up to date, after a copy of it as it was (see migrated()) in
    // the folder of backups. Throws Error, naming the file and what to do, for anything that is not
    // surely a whole catalogue of this program or an older one; the file is then as it was. It is
    // db::Damage where the file is a catalogue, but damaged: SQLite's quick check finds fault, or
    // the last act's seal does not fit. One that may not be written is opened for reading.
    // With db::Looking::meanwhile the quick check goes on while it is read already (db/database.h).
    [[nodiscard]] static Catalogue open(const std::filesystem::path& file,
                                        db::Looking looking = db::Looking::first);
    // Copies the file `from`, whatever its format, without changing it or bringing it up to date.
    // Throws Error where it cannot be read or is damaged.
    static void copy(const std::filesystem::path& from, const std::filesystem::path& to);
    // Opens a damaged catalogue of the newest format for reading. Throws Error where its tables
    // cannot be made out; later readings may throw, too.
    [[nodiscard]] static Catalogue open_damaged(const std::filesystem::path& file);
    // Creates an empty one, readable by its owner alone. Throws Error where the name is taken.
    [[nodiscard]] static Catalogue create(const std::filesystem::path& file);
    // An empty one that is gone with this value: for tests, and for work without a file.
    [[nodiscard]] static Catalogue in_memory();

    Catalogue(Catalogue&&) noexcept;
    Catalogue& operator=(Catalogue&&) noexcept;
    ~Catalogue();

    // Calls `write` with an Act and gives back what it returns. When that is a Result with a
    // Problem, or when `write` throws, nothing has happened; an Error says what was being done. An
    // act that changes nothing leaves no entry in the history.
    // Waits up to 5 s for another program that writes. Acts do not nest. REQUIRES: note.what is not
    // empty and note.id is new.
    template <std::invocable<Act&> Write>
    auto act(const ActNote& note, Write&& write) -> std::invoke_result_t<Write, Act&> {
        const db::Breakable breakable = breaks_off_when_unwanted();
        try {
            prepare_act(note);
            return act_once(note, std::forward<Write>(write));
        } catch (const Error& error) {
            throw error.during(note.what);
        }
    }

    // References stay valid as long as this value is neither moved from nor gone.
    [[nodiscard]] CoilRepository& coils() const;
    [[nodiscard]] ReadingRepository& readings() const;
    [[nodiscard]] InstrumentRepository& instruments() const;
    [[nodiscard]] CheckRepository& checks() const;
    [[nodiscard]] ClassRepository& classes() const;
    [[nodiscard]] ConfirmationRepository& confirmations() const;
    [[nodiscard]] SettingRepository& settings() const;
    [[nodiscard]] RigRepository& rigs() const;
    [[nodiscard]] OutingRepository& outings() const;
    [[nodiscard]] ClientRepository& clients() const;
    [[nodiscard]] CustodyRepository& custody() const;
    [[nodiscard]] CareRepository& care() const;
    [[nodiscard]] HistoryRepository& history() const;
    [[nodiscard]] Undoing& undoing() const;
    [[nodiscard]] Conflicts& conflicts() const;
    [[nodiscard]] Settling& settling() const;
    [[nodiscard]] Seals& seals() const;

    // All things of one kind as a plain table, for carrying them elsewhere and back (kinds.h).
    // REQUIRES: this value outlives it and is not moved from.
    [[nodiscard]] KindRepository table_of(const Kind& kind) const;

    // What a search of the bin goes through (search_index.h). REQUIRES: as table_of().
    [[nodiscard]] SearchableRepository searchable() const;
    // While the value lives, all readings are of one moment.
    [[nodiscard]] db::Snapshot one_moment() const;

    // The file with its folder resolved; empty for one in memory.
    [[nodiscard]] const std::filesystem::path& file() const;
    // What opening it did to its format, and where the copy of before is.
    [[nodiscard]] const db::Migrated& migrated() const;
    // Differs from an earlier answer exactly when somebody else has written in between: another
    // window, another program. Cheap enough for every second. Throws Error.
    [[nodiscard]] std::int64_t data_version() const;
    // Why nothing can be written, and what to do about it; empty where it can.
    [[nodiscard]] const std::string& why_read_only() const;
    // What the quick check of db::Looking::meanwhile found; nothing while it goes on, empty after.
    [[nodiscard]] std::optional<std::string> damage_seen() const;
    // What is wrong with the file, in SQLite's words; empty when it is whole. Reads all of it.
    [[nodiscard]] std::vector<std::string> damage() const;
    // Everything that can be found out about its soundness (audit.h). Reads all of it.
    [[nodiscard]] std::vector<Inspection> audit(
        const std::function<void(double)>& reached = {}) const;
    // Leaves nothing of what was deleted or overwritten in the file or its log: to be called after
    // something was to be forgotten. Throws Error while another program reads it.
    void wipe_deleted() const;
    // Copies it, checked, while others may write (db/backup.h). REQUIRES: it is a file.
    void back_up(const std::filesystem::path& target,
                 const std::function<void(double)>& reached = {}) const;
    // Makes this file hold what `other` holds, history and all, in one transaction, also while
    // other programs have it open; to be opened anew afterwards. REQUIRES: both are files.
    void take_over(const Catalogue& other);

    // Called before each act, outside its transaction, with this catalogue and what the act will
    // be: for backups. What it throws stops the act. Replaces an earlier one.
    void before_each_act(std::function<void(const Catalogue&, const ActNote&)> call);
    // Asked during each act, what is called before it included: where it says yes, BrokenOff is
    // thrown and nothing has happened (db/breakable.h). Replaces an earlier one.
    void break_acts_off_when(std::function<bool()> is_unwanted);
    // The same for other work, such as looking through it, while the value lives; not in an act.
    [[nodiscard]] db::Breakable breaks_off_when_unwanted() const;

  private:
    // It writes rows past the acts, into a catalogue that nobody else has yet.
    friend class Merging;        // merging.cpp
    friend class PruningAccess;  // pruning.cpp
    friend Salvaged salvage(const std::filesystem::path&, const std::filesystem::path&,
                            const ActNote&);

    struct Parts;
    explicit Catalogue(db::Database database);

    [[nodiscard]] db::Database& database() const;
    void prepare_act(const ActNote& note) const;

    template <class Write>
    auto act_once(const ActNote& note, Write&& write) -> std::invoke_result_t<Write, Act&> {
        using Answer = std::invoke_result_t<Write, Act&>;
        Act act(database(), seals(), note);
        if constexpr (std::is_void_v<Answer>) {
            std::invoke(std::forward<Write>(write), act);
            act.finish();
        } else {
            Answer answer = std::invoke(std::forward<Write>(write), act);
            if constexpr (detail::IsResult<Answer>::value) {
                if (!answer) return answer;
            }
            act.finish();
            return answer;
        }
    }

    std::unique_ptr<Parts> parts_;  // never null, unless moved from
};

}  // namespace coilbook::store
