// A private copy of a stranger's catalogue to work on, so that the file itself stays as it is: it
// may be of an older format, or on a stick that is pulled out.
#pragma once

#include <array>
#include <filesystem>

namespace coilbook::app {

// What stands at the end of a catalogue's name in the files that belong to it.
inline constexpr std::array<const char*, 3> catalogue_endings{"", "-wal", "-shm"};

// Removes a catalogue that is nobody's, with all that belongs to it, as far as that can be done.
void remove_catalogue(const std::filesystem::path& file);

class StagedCopy {
  public:
    // Copies `from` beside `catalogue`, under its name with `mark` behind. Throws Error where it
    // is no catalogue, is newer, cannot be read or is damaged. Gone with this value.
    StagedCopy(const std::filesystem::path& from, const std::filesystem::path& catalogue,
               const char* mark);
    ~StagedCopy();
    StagedCopy(const StagedCopy&) = delete;
    StagedCopy& operator=(const StagedCopy&) = delete;

    [[nodiscard]] const std::filesystem::path& file() const { return file_; }

  private:
    std::filesystem::path file_;
};

}  // namespace coilbook::app
