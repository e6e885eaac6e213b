#include "app/private_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "base/error.h"
#include "base/text.h"

namespace coilbook::app {

Result<std::ofstream> new_private_file(const std::filesystem::path& file, const char* option) {
    const auto shown = coilbook::quoted(file.string(), 300);
    const int made =
        ::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
    if (made < 0) {
        if (errno == EEXIST) return problem(option, shown + " exists already", "another name");
        throw Error(shown + " cannot be created (" + std::strerror(errno) + ")");
    }
    const bool is_private = ::fchmod(made, 0600) == 0;
    ::close(made);
    std::ofstream out(file, std::ios::binary);
    if (!is_private || !out) {
        std::error_code none;
        std::filesystem::remove(file, none);
        throw Error(shown + " cannot be kept from other users; choose another folder");
    }
    return out;
}

Result<void> fill_new_private_file(const std::filesystem::path& file, const char* option,
                                   const std::function<void(std::ostream&)>& write) {
    auto out = new_private_file(file, option);
    if (!out) return tl::unexpected(out.error());
    std::error_code none;
    try {
        write(*out);
        out->close();
        if (*out) return {};
        const auto space = std::filesystem::space(file, none);
        const bool is_full = !none && space.available < 64 * 1024;
        throw Error(coilbook::quoted(file.string(), 300) +
                    (is_full ? " cannot be written: the disk is full; nothing of it was kept"
                             : " cannot be written whole; nothing of it was kept"));
    } catch (...) {
        out->close();
        std::filesystem::remove(file, none);
        throw;
    }
}

bool make_private_folder_of(const std::filesystem::path& file) {
    const auto folder = file.parent_path();
    std::error_code error;
    if (folder.empty() || std::filesystem::is_directory(folder, error)) return false;
    std::filesystem::create_directories(folder, error);
    if (error) {
        throw Error("making the folder " + folder.string() + ": " + error.message());
    }
    std::filesystem::permissions(folder, std::filesystem::perms::owner_all, error);
    return true;
}

}  // namespace coilbook::app
