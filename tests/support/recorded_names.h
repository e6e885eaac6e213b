// New names and synced folders, told to the RecordingDisk that lives: our own programs give files
// their names without SQLite. The C library's functions of that name are stood before, so this may
// be included in one file of a test program only.
#pragma once

#include <dlfcn.h>
#include <limits.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <string>

#include "support/recording_disk.h"

extern "C" int rename(const char* from, const char* to) noexcept {
    static const auto real =
        reinterpret_cast<int (*)(const char*, const char*)>(::dlsym(RTLD_NEXT, "rename"));
    const int answer = real(from, to);
    auto* disk = coilbook::RecordingDisk::current();
    if (answer == 0 && disk) disk->note_rename(from, to);
    return answer;
}

extern "C" int fsync(int handle) {
    static const auto real = reinterpret_cast<int (*)(int)>(::dlsym(RTLD_NEXT, "fsync"));
    const int answer = real(handle);
    auto* disk = coilbook::RecordingDisk::current();
    struct stat what {};
    if (answer == 0 && disk && ::fstat(handle, &what) == 0 && S_ISDIR(what.st_mode)) {
        std::array<char, PATH_MAX> path{};
        const auto link = "/proc/self/fd/" + std::to_string(handle);
        if (::readlink(link.c_str(), path.data(), path.size() - 1) > 0) {
            disk->note_folder_sync(path.data());
        }
    }
    return answer;
}
