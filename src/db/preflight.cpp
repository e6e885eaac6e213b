#include "db/preflight.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <optional>

#include "base/error.h"
#include "base/text.h"

namespace coilbook::db {
namespace {

// Source of the offsets: SQLite's documentation, fileformat2.html, section 1.3.
constexpr std::size_t header_size = 100;
using Header = std::array<unsigned char, header_size>;
constexpr std::string_view magic{"SQLite format 3\0", 16};

std::uint32_t big_endian(const Header& header, std::size_t at, std::size_t bytes = 4) {
    std::uint32_t value = 0;
    for (std::size_t i = at; i < at + bytes; ++i) value = value << 8 | header[i];
    return value;
}

bool is_cut_off(const Header& header, std::int64_t file_size) {
    const bool size_is_current = big_endian(header, 24) == big_endian(header, 92);
    const std::uint32_t stored = big_endian(header, 16, 2);
    const std::int64_t page_size = stored == 1 ? 65536 : stored;
    return size_is_current && file_size < page_size * big_endian(header, 28);
}

// What is read before SQLite reads anything.
struct Beginning {
    Header header{};
    sqlite3_int64 size = 0;  // of the file
};

// Nothing where it is no SQLite file.
std::optional<Beginning> beginning_of(const Connection& connection) {
    sqlite3_file* opened = nullptr;
    sqlite3_file_control(connection.handle(), "main", SQLITE_FCNTL_FILE_POINTER, &opened);
    if (opened == nullptr || opened->pMethods == nullptr) return std::nullopt;
    Beginning found;
    const bool is_read =
        opened->pMethods->xRead(opened, found.header.data(), header_size, 0) == SQLITE_OK &&
        opened->pMethods->xFileSize(opened, &found.size) == SQLITE_OK;
    if (!is_read || std::memcmp(found.header.data(), magic.data(), magic.size()) != 0) {
        return std::nullopt;
    }
    return found;
}

std::int32_t application_in(const Header& header) {
    return static_cast<std::int32_t>(big_endian(header, 68));
}

void refuse_newer(const Connection& connection, const Header& header, const FileKind& kind) {
    const auto version = static_cast<std::int32_t>(big_endian(header, 60));
    if (version > kind.newest_version) {
        throw Error(newer_sentence(connection.shown(), version, kind));
    }
}

}  // namespace

std::filesystem::path with_real_folder(const std::filesystem::path& file) {
    std::error_code failed;
    const auto folder = file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
    const auto real = std::filesystem::canonical(folder, failed);
    if (failed) {
        throw Error(fmt::format("the folder of {} cannot be entered; create it first ({})",
                                coilbook::quoted(file.string(), 300), failed.message()));
    }
    if (!std::filesystem::is_directory(real)) {
        throw Error(coilbook::quoted(folder.string(), 300) +
                    " is a file, not a folder; name a file in one");
    }
    return real / file.filename();
}

void check_outside(const std::filesystem::path& file, const FileKind& kind) {
    const auto shown = coilbook::quoted(file.string(), 300);
    struct stat found {};
    if (::lstat(file.c_str(), &found) != 0) {
        if (errno == ENOENT) {
            throw Error(fmt::format("{} does not exist; create a new {} or check the name", shown,
                                    kind.name));
        }
        throw Error(fmt::format("{} cannot be looked at ({})", shown, std::strerror(errno)));
    }
    if (S_ISDIR(found.st_mode)) {
        throw Error(fmt::format("{} is a folder; name the {} in it", shown, kind.name));
    }
    if (S_ISLNK(found.st_mode)) {
        throw Error(fmt::format("{} is a link; name the file that it leads to", shown));
    }
    if (!S_ISREG(found.st_mode)) {
        throw Error(fmt::format("{} is a device or a pipe, not a {}", shown, kind.name));
    }
    if (found.st_nlink > 1) {
        throw Error(
            fmt::format("{} has {} names (hard links), and writing through two of them "
                        "would damage it; keep one name, or copy the file",
                        shown, found.st_nlink));
    }
    if (found.st_size == 0) {
        throw Error(fmt::format("{} is empty; delete it and create a new {}, or take a backup",
                                shown, kind.name));
    }
}

std::string why_unwritable(const std::filesystem::path& file) {
    const auto shown = coilbook::quoted(file.string(), 300);
    const auto is_closed = [](const std::filesystem::path& path, int wanted) {
        struct stat found {};
        return ::stat(path.c_str(), &found) != 0 || (found.st_mode & 0222) == 0 ||
               ::access(path.c_str(), wanted) != 0;
    };
    if (is_closed(file, W_OK)) {
        return fmt::format(
            "{} is read-only; allow writing to it, or copy it to where you may write", shown);
    }
    if (is_closed(file.parent_path(), W_OK | X_OK)) {
        return fmt::format(
            "the folder of {} is read-only, and SQLite must write beside the file; "
            "allow it, or copy the file to where you may write",
            shown);
    }
    return "";
}

void check_header(const Connection& connection, const std::filesystem::path& file,
                  const FileKind& kind) {
    const auto beginning = beginning_of(connection);
    if (!beginning) {
        throw Error(fmt::format("{} is not a {} (it is not an SQLite file); check the name",
                                connection.shown(), kind.name));
    }
    const auto& [header, size] = *beginning;
    const auto application = application_in(header);
    if (application != kind.application_id) {
        throw Error(
            fmt::format("{} belongs to another program (its mark is {:#010x}, a {}'s is "
                        "{:#010x}); check the name",
                        connection.shown(), static_cast<std::uint32_t>(application), kind.name,
                        static_cast<std::uint32_t>(kind.application_id)));
    }
    refuse_newer(connection, header, kind);
    // With a write-ahead log beside it, the file may rightly be shorter than its first page says.
    std::error_code none;
    const bool has_log = std::filesystem::exists(file.string() + "-wal", none);
    if (!has_log && is_cut_off(header, size)) {
        throw Damage(
            fmt::format("{} is cut off: its end is missing; keep a copy of it and go back "
                        "to a backup",
                        connection.shown()));
    }
}

void check_not_newer(const Connection& connection, const FileKind& kind) {
    const auto beginning = beginning_of(connection);
    if (!beginning || application_in(beginning->header) != kind.application_id) return;
    refuse_newer(connection, beginning->header, kind);
}

bool may_be_begun(const Header& beginning, const FileKind& kind) {
    if (beginning == Header{}) return true;
    return std::memcmp(beginning.data(), magic.data(), magic.size()) == 0 &&
           application_in(beginning) == kind.application_id;
}

void create_private(const std::filesystem::path& file) {
    const int made = ::open(file.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
    if (made < 0) {
        const auto shown = coilbook::quoted(file.string(), 300);
        if (errno == EEXIST) {
            throw Error(shown + " exists already; open it, or choose another name");
        }
        throw Error(fmt::format("{} cannot be created ({})", shown, std::strerror(errno)));
    }
    const bool is_private = ::fchmod(made, 0600) == 0;
    ::close(made);
    if (!is_private) {
        std::filesystem::remove(file);
        throw Error(coilbook::quoted(file.string(), 300) +
                    " cannot be kept from other users; choose another "
                    "folder");
    }
}

std::string newer_sentence(const std::string& shown, std::int64_t version, const FileKind& kind) {
    return fmt::format(
        "{} was written by a newer version of this program (format {}, this one "
        "knows up to {}); update the program, the file was not touched",
        shown, version, kind.newest_version);
}

}  // namespace coilbook::db
