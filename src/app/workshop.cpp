#include "app/workshop.h"

#include <cstdlib>

#include "app/backups.h"
#include "app/built_in_library.h"
#include "app/learning.h"
#include "app/private_file.h"
#include "store/check_repository.h"
#include "store/class_repository.h"
#include "store/instrument_repository.h"

namespace coilbook::app {
namespace {

store::Catalogue opened(const std::filesystem::path& file, const Surroundings& surroundings) {
    try {
        return store::Catalogue::open(file);
    } catch (const db::Damage& damage) {
        try {
            auto catalogue = store::Catalogue::open_damaged(file);
            if (surroundings.warn) {
                surroundings.warn(std::string(damage.what()) +
                                  " (opened for reading only; 'coilbook check' tells more)");
            }
            return catalogue;
        } catch (const Error&) {
            throw Error(std::string(damage.what()) +
                        " ('coilbook restore' does that, 'coilbook salvage' brings out the rest)");
        }
    }
}

std::string environment(const char* name) {
    const char* value = std::getenv(name);
    return value ? value : "";
}

}  // namespace

Workshop::Workshop(store::Catalogue catalogue, Surroundings surroundings)
    : catalogue_(std::move(catalogue)), surroundings_(std::move(surroundings)) {
    catalogue_.break_acts_off_when(
        [progress = surroundings_.progress] { return progress->is_unwanted(); });
}

Workshop Workshop::open(const std::filesystem::path& file, Surroundings surroundings) {
    auto catalogue = opened(file, surroundings);
    Workshop workshop(std::move(catalogue), std::move(surroundings));
    workshop.refresh();
    keep_daily_backups(workshop.catalogue_, workshop.surroundings_,
                       workshop.wait_before_first_change_);
    return workshop;
}

Workshop Workshop::open_at_once(const std::filesystem::path& file, Surroundings surroundings) {
    try {
        Workshop workshop(store::Catalogue::open(file, db::Looking::meanwhile), surroundings);
        workshop.refresh();
        keep_daily_backups(workshop.catalogue_, surroundings, workshop.wait_before_first_change_);
        return workshop;
    } catch (const Error&) {  // what cannot even be read is for open() to say
        return open(file, std::move(surroundings));
    }
}

Workshop Workshop::create(const std::filesystem::path& file, Surroundings surroundings) {
    (void)make_private_folder_of(file);
    Workshop workshop(store::Catalogue::create(file), std::move(surroundings));
    workshop.put_built_in_library();
    keep_daily_backups(workshop.catalogue_, workshop.surroundings_,
                       workshop.wait_before_first_change_);
    return workshop;
}

Workshop Workshop::in_memory(Surroundings surroundings) {
    Workshop workshop(store::Catalogue::in_memory(), std::move(surroundings));
    workshop.put_built_in_library();
    return workshop;
}

void Workshop::put_built_in_library() {
    catalogue_.act(note("put the built-in reference library"), [&](store::Act& act) {
        catalogue_.classes().put_library(act, built_in_library());
    });
    refresh();
}

void Workshop::refresh() {
    progress().begin("Learning from confirmed coils");
    instruments_ = catalogue_.instruments().all();
    for (const auto& coating : catalogue_.checks().last_coatings()) {
        const auto micrometer = instruments_.micrometers.find(coating.code);
        if (micrometer == instruments_.micrometers.end()) continue;
        micrometer->second = on_coatings(micrometer->second, coating.found);
    }
    learned_ = std::make_shared<const LearnedLibrary>(learned_library(catalogue_, instruments_));
}

const ReferenceLibrary& Workshop::library() const {
    return learned_->library;
}

store::ActNote Workshop::note(std::string what, std::string why) const {
    return {new_id<store::Act>(), surroundings_.now(), surroundings_.who,   surroundings_.program,
            std::move(what),      std::move(why),      surroundings_.laptop};
}

std::filesystem::path catalogue_path(const std::optional<std::string>& named) {
    if (named && !named->empty()) return *named;
    if (const auto chosen = environment("COILBOOK_CATALOG"); !chosen.empty()) return chosen;
    const std::filesystem::path in_folder = "coilbook/catalogue.coilbook";
    const std::filesystem::path data = environment("XDG_DATA_HOME");
    if (data.is_absolute()) return data / in_folder;
    const std::filesystem::path home = environment("HOME");
    if (!home.is_absolute()) {
        throw Error("There is no home folder; name the catalogue with --catalog FILE.");
    }
    return home / ".local/share" / in_folder;
}

}  // namespace coilbook::app
