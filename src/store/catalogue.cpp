#include "store/catalogue.h"

#include <fmt/format.h>

#include "base/text.h"
#include "db/backup.h"
#include "store/backup_places.h"
#include "store/care_repository.h"
#include "store/check_repository.h"
#include "store/class_repository.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/conflicts.h"
#include "store/custody_repository.h"
#include "store/history_repository.h"
#include "store/instrument_repository.h"
#include "store/kinds.h"
#include "store/outing_repository.h"
#include "store/reading_repository.h"
#include "store/rig_repository.h"
#include "store/schema.h"
#include "store/seals.h"
#include "store/searchable_repository.h"
#include "store/setting_repository.h"
#include "store/settling.h"
#include "store/undoing.h"

namespace coilbook::store {

db::FileKind catalogue_kind() {
    return {.application_id = 0x436F426B,  // "CoBk"
            .newest_version = static_cast<int>(schema_steps().size()),
            .name = "catalogue"};
}

namespace {

// The acts of before have no seals yet.
void seal_history(const db::Database& database, db::Transaction& transaction) {
    Seals(database).seal(transaction);
}

std::filesystem::path copy_before_migration(const std::filesystem::path& file, int from) {
    make_backup_folder(file);
    return backup_of(file, "v" + std::to_string(from));
}

db::Migrated brought_up_to_date(db::Database& database) {
    db::MigrationCare care;
    care.backup_to = [&](int from) { return copy_before_migration(database.file(), from); };
    care.finish = [&](db::Transaction& transaction) { seal_history(database, transaction); };
    return db::migrate(database, schema_steps(), care);
}

}  // namespace

// Members in this order: the tables must be there before the repositories prepare their SQL.
struct Catalogue::Parts {
    db::Database database;
    db::Migrated migrated;
    std::function<void(const Catalogue&, const ActNote&)> before_each_act;
    std::function<bool()> is_unwanted;
    CoilRepository coils;
    ReadingRepository readings;
    InstrumentRepository instruments;
    CheckRepository checks;
    ClassRepository classes;
    ConfirmationRepository confirmations;
    SettingRepository settings;
    RigRepository rigs;
    OutingRepository outings;
    ClientRepository clients;
    CustodyRepository custody;
    CareRepository care;
    HistoryRepository history;
    Seals seals;
    Undoing undoing;
    Conflicts conflicts;
    Settling settling;

    explicit Parts(db::Database opened)
        : database(std::move(opened)),
          migrated(brought_up_to_date(database)),
          coils(database),
          readings(database),
          instruments(database),
          checks(database),
          classes(database),
          confirmations(database),
          settings(database),
          rigs(database),
          outings(database),
          clients(database),
          custody(database),
          care(database),
          history(database),
          seals(database),
          undoing(database),
          conflicts(database),
          settling(database) {}
};

Catalogue::Catalogue(db::Database database)
    : parts_(std::make_unique<Parts>(std::move(database))) {}
Catalogue::Catalogue(Catalogue&&) noexcept = default;
Catalogue& Catalogue::operator=(Catalogue&&) noexcept = default;
Catalogue::~Catalogue() = default;

Catalogue Catalogue::open(const std::filesystem::path& file, db::Looking looking) {
    Catalogue catalogue(db::Database::open(file, catalogue_kind(), looking));
    const auto broken = catalogue.seals().last_broken();
    if (!broken.empty()) {
        throw db::Damage(
            fmt::format("{} is damaged in its history ({}); keep a copy of it and go back to a "
                        "backup",
                        catalogue.database().shown(), broken.front().what_is_wrong));
    }
    return catalogue;
}

void Catalogue::copy(const std::filesystem::path& from, const std::filesystem::path& to) {
    try {
        db::check_given(from, catalogue_kind());
        db::back_up(db::Database::open_damaged(from, catalogue_kind()), to);
    } catch (const db::Damage&) {
        throw db::Damage(
            fmt::format("{} is damaged or was copied only in part; take a whole copy of it",
                        coilbook::quoted(from.string(), 300)));
    }
}

Catalogue Catalogue::open_damaged(const std::filesystem::path& file) {
    return Catalogue(db::Database::open_damaged(file, catalogue_kind()));
}

Catalogue Catalogue::create(const std::filesystem::path& file) {
    auto database = db::Database::create(file, catalogue_kind());
    const auto made = database.file();
    try {
        return Catalogue(std::move(database));
    } catch (...) {
        std::error_code none;
        std::filesystem::remove(made, none);
        throw;
    }
}

Catalogue Catalogue::in_memory() {
    return Catalogue(db::Database::in_memory(catalogue_kind()));
}

CoilRepository& Catalogue::coils() const {
    return parts_->coils;
}
ReadingRepository& Catalogue::readings() const {
    return parts_->readings;
}
InstrumentRepository& Catalogue::instruments() const {
    return parts_->instruments;
}
CheckRepository& Catalogue::checks() const {
    return parts_->checks;
}
ClassRepository& Catalogue::classes() const {
    return parts_->classes;
}
ConfirmationRepository& Catalogue::confirmations() const {
    return parts_->confirmations;
}
SettingRepository& Catalogue::settings() const {
    return parts_->settings;
}
RigRepository& Catalogue::rigs() const {
    return parts_->rigs;
}
OutingRepository& Catalogue::outings() const {
    return parts_->outings;
}
ClientRepository& Catalogue::clients() const {
    return parts_->clients;
}
CustodyRepository& Catalogue::custody() const {
    return parts_->custody;
}
CareRepository& Catalogue::care() const {
    return parts_->care;
}
HistoryRepository& Catalogue::history() const {
    return parts_->history;
}

Seals& Catalogue::seals() const {
    return parts_->seals;
}
Undoing& Catalogue::undoing() const {
    return parts_->undoing;
}

Conflicts& Catalogue::conflicts() const {
    return parts_->conflicts;
}

Settling& Catalogue::settling() const {
    return parts_->settling;
}

KindRepository Catalogue::table_of(const Kind& kind) const {
    return {parts_->database, kind};
}

SearchableRepository Catalogue::searchable() const {
    return SearchableRepository(parts_->database);
}
db::Snapshot Catalogue::one_moment() const {
    return db::Snapshot(parts_->database);
}

const std::filesystem::path& Catalogue::file() const {
    return parts_->database.file();
}
const db::Migrated& Catalogue::migrated() const {
    return parts_->migrated;
}
std::int64_t Catalogue::data_version() const {
    return parts_->database.data_version();
}
const std::string& Catalogue::why_read_only() const {
    return parts_->database.why_read_only();
}
std::vector<Inspection> Catalogue::audit(const std::function<void(double)>& reached) const {
    return store::audit(parts_->database, parts_->seals, reached);
}
void Catalogue::take_over(const Catalogue& other) {
    db::put_in_place(parts_->database, other.parts_->database);
}
void Catalogue::before_each_act(std::function<void(const Catalogue&, const ActNote&)> call) {
    parts_->before_each_act = std::move(call);
}
void Catalogue::break_acts_off_when(std::function<bool()> is_unwanted) {
    parts_->is_unwanted = std::move(is_unwanted);
}
db::Breakable Catalogue::breaks_off_when_unwanted() const {
    return {parts_->database, parts_->is_unwanted};
}
void Catalogue::prepare_act(const ActNote& note) const {
    parts_->database.wait_until_sound();  // before a backup of the day is made of it
    if (parts_->before_each_act) parts_->before_each_act(*this, note);
}
std::optional<std::string> Catalogue::damage_seen() const {
    return parts_->database.damage_seen();
}
std::vector<std::string> Catalogue::damage() const {
    return parts_->database.damage();
}
void Catalogue::wipe_deleted() const {
    parts_->database.wipe_deleted();
}
void Catalogue::back_up(const std::filesystem::path& target,
                        const std::function<void(double)>& reached) const {
    db::back_up(parts_->database, target, reached);
}

db::Database& Catalogue::database() const {
    return parts_->database;
}

}  // namespace coilbook::store
