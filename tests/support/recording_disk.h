// A disk that remembers what was written to it and what was surely on it, for tests that pull the
// plug. It sits between SQLite and the real files, passes everything through, and keeps a list of
// all writes, truncations, syncs, removals and (support/recorded_names.h) new names, so that the
// files can be rebuilt as a power cut at any moment might have left them.
// The model: after a sync everything written to that file before it is on the disk; of what was
// written since, any 512-byte sectors may be, in any order. A new name is surely there once its
// folder is synced, and until then the file may have the old one. POSIX file system.
#pragma once

#include <sqlite3.h>

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <map>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "support/temporary_folder.h"

namespace coilbook {

struct DiskEvent {
    enum class Kind { write, truncate, sync, remove, rename, sync_folder, acknowledge };
    Kind kind;
    std::string file;      // of a new name the new one; of a synced folder the folder
    sqlite3_int64 at = 0;  // offset of a write, size of a truncation
    std::string bytes;     // of a new name the old one
};

// One file: as programs see it, and as it surely is on the disk.
struct DiskFile {
    bool is_seen = false;
    bool is_sure = false;
    std::string seen;
    std::string sure;
    // The file that was given this name, as long as its folder was not synced.
    std::shared_ptr<const DiskFile> newcomer = {};
};
using Disk = std::map<std::string, DiskFile>;

// `file` has got the name `to`, and what had it is gone.
inline void rename_in(Disk& disk, const std::string& file, const std::string& to) {
    auto& moved = disk[file];
    auto& target = disk[to];
    target.newcomer = std::make_shared<const DiskFile>(moved);
    target.is_seen = true;
    target.seen = moved.seen;
    moved.is_seen = false;
    moved.seen.clear();
}
// Names in `folder` are on the disk as they are seen.
inline void sync_folder_in(Disk& disk, const std::string& folder) {
    for (auto& [name, file] : disk) {
        if (std::filesystem::path(name).parent_path() != folder) continue;
        if (file.newcomer) {
            file.sure = file.newcomer->sure;
            file.newcomer.reset();
            file.is_sure = true;
        }
        if (!file.is_seen) file.is_sure = false;
    }
}

// What `event` does to the files of `disk`.
inline void happen(Disk& disk, const DiskEvent& event) {
    if (event.kind == DiskEvent::Kind::acknowledge) return;
    if (event.kind == DiskEvent::Kind::rename) return rename_in(disk, event.bytes, event.file);
    if (event.kind == DiskEvent::Kind::sync_folder) return sync_folder_in(disk, event.file);
    auto& file = disk[event.file];
    switch (event.kind) {
        case DiskEvent::Kind::write: {
            const auto at = static_cast<std::size_t>(event.at);
            file.is_seen = true;
            file.seen.resize(std::max(file.seen.size(), at + event.bytes.size()));
            file.seen.replace(at, event.bytes.size(), event.bytes);
            break;
        }
        case DiskEvent::Kind::truncate:
            file.seen.resize(static_cast<std::size_t>(event.at));
            break;
        case DiskEvent::Kind::sync:
            file.is_sure = file.is_seen;
            file.sure = file.seen;
            break;
        case DiskEvent::Kind::remove:
            file.is_seen = false;
            file.seen.clear();
            break;
        default:
            break;
    }
}

// What a power cut may have left of `file`: each sector as seen or as it surely is.
inline DiskFile after_power_cut(const DiskFile& file, std::mt19937& random) {
    constexpr std::size_t sector = 512;
    const auto share = 1 + random() % 9;  // of ten sectors, so many were written
    const auto heads = [&] { return random() % 10 < share; };
    if (file.newcomer) {
        if (heads()) return after_power_cut(*file.newcomer, random);
        DiskFile left;
        left.is_seen = file.is_sure;
        left.seen = file.sure;
        return left;
    }
    DiskFile left;
    left.is_seen = file.is_seen == file.is_sure ? file.is_seen : heads();
    left.seen = file.sure;
    left.seen.resize(heads() ? file.sure.size() : std::max(file.sure.size(), file.seen.size()));
    for (std::size_t at = 0; at < std::min(left.seen.size(), file.seen.size()); at += sector) {
        if (heads())
            left.seen.replace(at, std::min(sector, left.seen.size() - at),
                              file.seen.substr(at, std::min(sector, left.seen.size() - at)));
    }
    return left;
}

// The files as programs saw them (`is_kill`), else as they surely are on the disk.
[[nodiscard]] inline Disk left_by(const Disk& disk, bool is_kill) {
    Disk left;
    for (const auto& [name, file] : disk) {
        left[name].is_seen = is_kill ? file.is_seen : file.is_sure;
        left[name].seen = is_kill ? file.seen : file.sure;
    }
    return left;
}
[[nodiscard]] inline Disk after_power_cut(const Disk& disk, std::mt19937& random) {
    Disk left;
    for (const auto& [name, file] : disk) left[name] = after_power_cut(file, random);
    return left;
}

// While it lives, SQLite writes through it and events() grows.
class RecordingDisk {
  public:
    // Files are called by their path in `root`, or where that is empty by their name alone. One
    // that `ignores_syncs` says that all is well and does nothing, as SQLite does when its syncing
    // is turned off.
    explicit RecordingDisk(std::filesystem::path root = {}, bool ignores_syncs = false)
        : root_(std::move(root)), ignores_syncs_(ignores_syncs) {
        real_ = sqlite3_vfs_find(nullptr);
        vfs_ = *real_;
        vfs_.zName = "recording";
        vfs_.szOsFile = static_cast<int>(sizeof(Recorded)) + real_->szOsFile;
        vfs_.xOpen = &open;
        vfs_.xDelete = &remove;
        current_ = this;
        sqlite3_vfs_register(&vfs_, 1);
    }
    ~RecordingDisk() {
        sqlite3_vfs_unregister(&vfs_);
        sqlite3_vfs_register(real_, 1);
        current_ = nullptr;
    }
    RecordingDisk(const RecordingDisk&) = delete;
    RecordingDisk& operator=(const RecordingDisk&) = delete;

    // Says that somebody was told that his work is saved.
    void acknowledge() { record({DiskEvent::Kind::acknowledge, "", 0, ""}); }
    // The living one, or null: for what does not come through SQLite.
    [[nodiscard]] static RecordingDisk* current() { return current_; }
    void note_rename(const char* from, const char* to) {
        record({DiskEvent::Kind::rename, name_of(to), 0, name_of(from)});
    }
    void note_folder_sync(const char* folder) {
        if (!ignores_syncs_) record({DiskEvent::Kind::sync_folder, name_of(folder), 0, ""});
    }
    [[nodiscard]] const std::vector<DiskEvent>& events() const { return events_; }

  private:
    struct Recorded {  // SQLite's handle of a file; the real one lies behind it
        sqlite3_file base;
        std::string* name;  // null for temporary files

        sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
        static Recorded& of(sqlite3_file* file) { return *reinterpret_cast<Recorded*>(file); }
    };

    // Files outside `root` are on another disk.
    void record(DiskEvent event) {
        if (event.file.starts_with("..")) return;
        events_.push_back(std::move(event));
    }
    [[nodiscard]] std::string name_of(const char* path) const {
        const std::filesystem::path whole(path);
        if (root_.empty()) return whole.filename().string();
        return whole == root_ ? std::string() : whole.lexically_relative(root_).string();
    }
    static void record_on(Recorded& file, DiskEvent::Kind kind, sqlite3_int64 at,
                          std::string bytes = {}) {
        if (file.name) current_->record({kind, *file.name, at, std::move(bytes)});
    }

    static int open(sqlite3_vfs*, const char* path, sqlite3_file* file, int flags, int* out) {
        auto& recorded = Recorded::of(file);
        auto* real = current_->real_;
        const int code = real->xOpen(real, path, recorded.real(), flags, out);
        recorded.base.pMethods = code == SQLITE_OK ? &methods() : nullptr;
        recorded.name =
            code == SQLITE_OK && path ? new std::string(current_->name_of(path)) : nullptr;
        return code;
    }
    static int remove(sqlite3_vfs*, const char* path, int sync_folder) {
        auto* real = current_->real_;
        const int code = real->xDelete(real, path, sync_folder);
        if (code == SQLITE_OK) {
            current_->record({DiskEvent::Kind::remove, current_->name_of(path), 0, ""});
            if (sync_folder && !current_->ignores_syncs_) {
                current_->record({DiskEvent::Kind::sync, current_->name_of(path), 0, ""});
            }
        }
        return code;
    }

    static const sqlite3_io_methods& methods() {
        static const sqlite3_io_methods table = [] {
            sqlite3_io_methods m{};
            m.iVersion = 2;  // without memory mapping
            m.xClose = [](sqlite3_file* f) {
                delete Recorded::of(f).name;
                auto* real = Recorded::of(f).real();
                return real->pMethods->xClose(real);
            };
            m.xRead = [](sqlite3_file* f, void* to, int size, sqlite3_int64 at) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xRead(real, to, size, at);
            };
            m.xWrite = [](sqlite3_file* f, const void* from, int size, sqlite3_int64 at) {
                record_on(
                    Recorded::of(f), DiskEvent::Kind::write, at,
                    std::string(static_cast<const char*>(from), static_cast<std::size_t>(size)));
                auto* real = Recorded::of(f).real();
                return real->pMethods->xWrite(real, from, size, at);
            };
            m.xTruncate = [](sqlite3_file* f, sqlite3_int64 size) {
                record_on(Recorded::of(f), DiskEvent::Kind::truncate, size);
                auto* real = Recorded::of(f).real();
                return real->pMethods->xTruncate(real, size);
            };
            m.xSync = [](sqlite3_file* f, int flags) {
                if (current_->ignores_syncs_) return SQLITE_OK;
                record_on(Recorded::of(f), DiskEvent::Kind::sync, 0);
                auto* real = Recorded::of(f).real();
                return real->pMethods->xSync(real, flags);
            };
            m.xFileSize = [](sqlite3_file* f, sqlite3_int64* size) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xFileSize(real, size);
            };
            m.xLock = [](sqlite3_file* f, int lock) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xLock(real, lock);
            };
            m.xUnlock = [](sqlite3_file* f, int lock) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xUnlock(real, lock);
            };
            m.xCheckReservedLock = [](sqlite3_file* f, int* answer) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xCheckReservedLock(real, answer);
            };
            m.xFileControl = [](sqlite3_file* f, int what, void* argument) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xFileControl(real, what, argument);
            };
            m.xSectorSize = [](sqlite3_file* f) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xSectorSize(real);
            };
            m.xDeviceCharacteristics = [](sqlite3_file* f) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xDeviceCharacteristics(real);
            };
            m.xShmMap = [](sqlite3_file* f, int page, int size, int extend, void volatile** to) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xShmMap(real, page, size, extend, to);
            };
            m.xShmLock = [](sqlite3_file* f, int offset, int count, int flags) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xShmLock(real, offset, count, flags);
            };
            m.xShmBarrier = [](sqlite3_file* f) {
                auto* real = Recorded::of(f).real();
                real->pMethods->xShmBarrier(real);
            };
            m.xShmUnmap = [](sqlite3_file* f, int remove_it) {
                auto* real = Recorded::of(f).real();
                return real->pMethods->xShmUnmap(real, remove_it);
            };
            return m;
        }();
        return table;
    }

    inline static RecordingDisk* current_ = nullptr;
    std::filesystem::path root_;
    bool ignores_syncs_;
    sqlite3_vfs* real_ = nullptr;
    sqlite3_vfs vfs_{};
    std::vector<DiskEvent> events_;
};

}  // namespace coilbook
