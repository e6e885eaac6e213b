// An open catalogue with all that working on it needs: its library, its instruments, the time.
//
// Use cases are functions over a Workshop, one a file; the command line and the window call these
// and nothing else.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "app/surroundings.h"
#include "catalog/reference_class.h"
#include "metrology/instrument.h"
#include "store/catalogue.h"

namespace coilbook {
struct LearnedLibrary;  // identify/learning.h
}

namespace coilbook::app {

class Workshop {
  public:
    // The catalogue in that file. Throws Error, saying what to do, where there is none or where the
    // file is something else; the file is then as it was. A damaged one is opened for reading, if
    // that can be done, and surroundings.warn is told so. It copies itself once a day (backups.h).
    [[nodiscard]] static Workshop open(const std::filesystem::path& file,
                                       Surroundings surroundings);
    // The same for a window that wants to show its first figures: SQLite's quick check, which takes
    // 0.2 s for 24 MB, goes on meanwhile, and the first change waits for its end. Where
    // catalogue().damage_seen() tells damage, nothing has been nor will be written: open() it then.
    [[nodiscard]] static Workshop open_at_once(const std::filesystem::path& file,
                                               Surroundings surroundings);
    // A new catalogue there, with the built-in reference library; folders are made as needed.
    // Throws Error where the name is taken or the folder cannot be written.
    [[nodiscard]] static Workshop create(const std::filesystem::path& file,
                                         Surroundings surroundings);
    // A new one that is gone with this value, for tests.
    [[nodiscard]] static Workshop in_memory(Surroundings surroundings);

    [[nodiscard]] store::Catalogue& catalogue() { return catalogue_; }
    // The catalogue's classes with what they have learned from its confirmed coils.
    [[nodiscard]] const ReferenceLibrary& library() const;
    [[nodiscard]] const LearnedLibrary& learned() const { return *learned_; }
    // The catalogue's instruments; micrometers as they are on coatings, where that was found out.
    [[nodiscard]] const Instruments& instruments() const { return instruments_; }
    [[nodiscard]] const Surroundings& surroundings() const { return surroundings_; }
    // Told by what takes its time here. Somebody who breaks it off breaks off the act that is
    // being done: BrokenOff passes, and nothing has happened.
    [[nodiscard]] Progress& progress() const { return *surroundings_.progress; }

    // Before the first change of a day `wait` is called, which may throw BrokenOff (early_care.h).
    void wait_before_first_change(std::function<void()> wait) {
        *wait_before_first_change_ = std::move(wait);
    }

    // Reads library and instruments again and learns anew: after a change of them, of what is
    // confirmed or of a confirmed coil's readings, or when somebody else wrote.
    void refresh();

    // A new id, and the history's line for an act that is about to be done now.
    template <class Thing>
    [[nodiscard]] Id<Thing> new_id() const {
        return Id<Thing>::make(surroundings_.now(), surroundings_.random());
    }
    [[nodiscard]] store::ActNote note(std::string what, std::string why = {}) const;

  private:
    Workshop(store::Catalogue catalogue, Surroundings surroundings);
    void put_built_in_library();

    store::Catalogue catalogue_;
    Surroundings surroundings_;
    std::shared_ptr<const LearnedLibrary> learned_;
    Instruments instruments_;
    std::shared_ptr<std::function<void()>> wait_before_first_change_ =
        std::make_shared<std::function<void()>>();
};

// Where the catalogue is when nobody says: $COILBOOK_CATALOG, else coilbook/catalogue.coilbook in
// $XDG_DATA_HOME (if that is an absolute path), else in ~/.local/share. Throws Error without a
// home. `named` is what the person said (--catalog); it wins.
[[nodiscard]] std::filesystem::path catalogue_path(const std::optional<std::string>& named);

}  // namespace coilbook::app
