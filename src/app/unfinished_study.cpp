#include "app/unfinished_study.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <nlohmann/json.hpp>

#include "app/text_width.h"
#include "base/text.h"

namespace coilbook::app {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

constexpr std::uintmax_t longest_file = 1'000'000;  // a study of ninety readings has four thousand
constexpr int form = 1;

// Empty where the catalogue is no file.
fs::path place_of(Workshop& workshop) {
    auto file = workshop.catalogue().file();
    if (file.empty()) return {};
    return file.replace_filename(file.stem().string() + "-study-unfinished.json");
}

[[noreturn]] void fail(const fs::path& file, const char* what) {
    throw Error(coilbook::quoted(file.string(), 300) + " cannot be " + what + " (" +
                std::strerror(errno) + ")");
}

class Opened {
  public:
    Opened(const fs::path& file, int flags)
        : handle_(::open(file.c_str(), flags | O_CLOEXEC, 0600)) {
        if (handle_ < 0) fail(file, "opened");
    }
    ~Opened() { ::close(handle_); }
    Opened(const Opened&) = delete;
    Opened& operator=(const Opened&) = delete;
    [[nodiscard]] int handle() const { return handle_; }

  private:
    int handle_;
};

void sync_folder_of(const fs::path& file) {
    const Opened folder(file.parent_path(), O_RDONLY | O_DIRECTORY);
    (void)::fsync(folder.handle());  // a folder that cannot be synced is no reason to stop
}

void write_durably(const fs::path& file, const std::string& text) {
    fs::path fresh = file;
    fresh += ".new";
    {
        const Opened out(fresh, O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW);
        const auto wanted = static_cast<ssize_t>(text.size());
        errno = ENOSPC;  // what a write that stops half-way does not say
        if (::write(out.handle(), text.data(), text.size()) != wanted) fail(file, "written");
        if (::fsync(out.handle()) != 0) fail(file, "written");
    }
    if (::rename(fresh.c_str(), file.c_str()) != 0) fail(file, "written");
    sync_folder_of(file);
}

std::vector<std::string> texts_in(const json& all, const char* name) {
    auto texts = all.at(name).get<std::vector<std::string>>();
    for (const auto& text : texts) {
        if (!is_plain_text(text)) throw std::runtime_error("odd characters");
    }
    return texts;
}

// Throws what the JSON library throws, or runtime_error, where it is something else.
UnfinishedStudy study_in(const json& all) {
    if (all.at("form").get<int>() != form) throw std::runtime_error("of another form");
    UnfinishedStudy study;
    const auto kind = all.at("kind").get<std::string>();
    const auto known = std::ranges::find(all_instrument_kinds, kind,
                                         [](InstrumentKind each) { return name_of(each); });
    if (known == all_instrument_kinds.end()) throw std::runtime_error("an unknown instrument");
    study.kind = *known;
    study.unit = all.at("unit").get<std::string>();
    if (std::ranges::find(units_of(study.kind), study.unit) == units_of(study.kind).end()) {
        throw std::runtime_error("an unknown unit");
    }
    study.people = texts_in(all, "people");
    study.coils = texts_in(all, "coils");
    for (const auto& turn : all.at("turns")) {
        const auto [person, coil, time] = turn.get<std::tuple<std::size_t, std::size_t, int>>();
        if (person >= study.people.size() || coil >= study.coils.size() || time < 1) {
            throw std::runtime_error("a turn of nobody");
        }
        study.turns.push_back({person, coil, time});
    }
    study.as_written = texts_in(all, "readings");
    for (const auto& text : study.as_written) {
        if (!reading_from(study.kind, text, study.unit)) throw std::runtime_error("no reading");
    }
    if (study.turns.empty() || study.as_written.size() > study.turns.size()) {
        throw std::runtime_error("more readings than turns");
    }
    return study;
}

}  // namespace

Result<std::optional<UnfinishedStudy>> unfinished_study(Workshop& workshop) {
    const auto file = place_of(workshop);
    std::error_code none;
    if (file.empty() || !fs::exists(file, none)) return std::nullopt;
    try {
        if (!fs::is_regular_file(file) || fs::file_size(file) > longest_file) {
            throw std::runtime_error("not a small file");
        }
        std::ifstream stream(file);
        return study_in(json::parse(stream));
    } catch (const std::exception& error) {
        return problem("study",
                       "the unfinished study in " + coilbook::quoted(file.string(), 300) +
                           " cannot be understood (" + on_one_line(error.what()) + ")",
                       "to move that file away");
    }
}

void keep_unfinished(Workshop& workshop, const UnfinishedStudy& study) {
    const auto file = place_of(workshop);
    if (file.empty()) return;
    json turns = json::array();
    for (const auto& turn : study.turns) turns.push_back({turn.person, turn.coil, turn.time});
    const json all{{"form", form},
                   {"kind", name_of(study.kind)},
                   {"unit", study.unit},
                   {"people", study.people},
                   {"coils", study.coils},
                   {"turns", turns},
                   {"readings", study.as_written}};
    write_durably(file, all.dump() + "\n");
}

void put_away_unfinished(Workshop& workshop) {
    const auto file = place_of(workshop);
    if (file.empty()) return;
    if (::unlink(file.c_str()) != 0 && errno != ENOENT) fail(file, "removed");
}

}  // namespace coilbook::app
