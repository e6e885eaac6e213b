// Whatever a catalogue's file holds, it is opened or refused with an Error, and read without harm.
//
// Chance would never write a catalogue, so the bytes say where a sound one is spoilt: four bytes
// each, of which three are the place and one is what is put there. Bytes that begin as an SQLite
// file does are a whole file.
#include <unistd.h>

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "base/error.h"
#include "fuzz/claim.h"
#include "store/catalogue.h"
#include "store/coil_repository.h"
#include "store/history_repository.h"
#include "store/reading_repository.h"
#include "store/salvage.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

template <class Thing>
Id<Thing> next_id() {
    static std::uint8_t count = 0;
    RandomBytes bytes{};
    bytes[9] = ++count;
    return Id<Thing>::make(instant_from_text("2026-01-01T00:00:00Z").value(), bytes);
}

ActNote a_note() {
    return {
        next_id<Act>(), instant_from_text("2026-01-01T00:00:00Z").value(), "", "fuzz", "try", ""};
}

// Where the files lie: in memory, gone at the end.
struct Place {
    fs::path folder = fs::path(fs::is_directory("/dev/shm") ? "/dev/shm" : "/tmp") /
                      ("coilbook-fuzz-" + std::to_string(::getpid()));
    std::string sound;

    Place() {
        fs::create_directories(folder);
        {
            auto catalogue = Catalogue::create(folder / "sound");
            catalogue.act(a_note(), [&](Act& act) {
                for (const char* code : {"A7", "B8", "C9"}) {
                    const Coil coil{next_id<Coil>(), code, "a note",
                                    instant_from_text("2026-01-01T00:00:00Z").value()};
                    (void)catalogue.coils().add(act, coil);
                    auto value = read_values(ReadingField::sample_weight, "22.4 gr").value();
                    (void)catalogue.readings().add(act, {next_id<Reading>(),
                                                         coil.id,
                                                         ReadingField::sample_weight,
                                                         "22.4 gr",
                                                         value.front(),
                                                         "",
                                                         coil.made_at,
                                                         {}});
                }
            });
        }
        std::ifstream in(folder / "sound", std::ios::binary);
        sound.assign(std::istreambuf_iterator<char>(in), {});
    }
    ~Place() { clear(); }
    void clear() const {
        std::error_code none;
        fs::remove_all(folder, none);
    }
    void empty() const {
        std::error_code none;
        for (const auto& entry : fs::directory_iterator(folder)) fs::remove_all(entry, none);
    }
};

template <class Do>
void or_error(Do act) {
    try {
        act();
    } catch (const Error& error) {
        claim(*error.what() != '\0', "an Error says why");
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Place place;
    std::string bytes(reinterpret_cast<const char*>(data), size);
    if (!bytes.starts_with("SQLite format 3")) {
        bytes = place.sound;
        for (std::size_t at = 0; at + 4 <= size; at += 4) {
            const std::size_t where = data[at] | data[at + 1] << 8U | data[at + 2] << 16U;
            bytes[where % bytes.size()] = static_cast<char>(data[at + 3]);
        }
    }
    place.empty();
    const auto file = place.folder / "spoilt";
    std::ofstream(file, std::ios::binary) << bytes;
    or_error([&] {
        const auto catalogue = Catalogue::open(file);
        or_error([&] { (void)catalogue.coils().list(); });
        or_error([&] { (void)catalogue.readings().bin(); });
        or_error([&] { (void)catalogue.history().list(); });
        (void)catalogue.audit();
    });
    or_error([&] { (void)salvage(file, place.folder / "new", a_note()); });
    return 0;
}
