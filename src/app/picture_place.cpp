#include "app/picture_place.h"

#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <string>

#include "base/error.h"

namespace coilbook::app {
namespace {

namespace fs = std::filesystem;

bool can_be_written(const fs::path& folder) {
    std::error_code none;
    return fs::is_directory(folder, none) && ::access(folder.c_str(), W_OK) == 0;
}

fs::path folder_for(const fs::path& catalogue) {
    if (!catalogue.empty() && fs::exists(catalogue)) {
        const fs::path beside = fs::absolute(catalogue).parent_path();
        if (can_be_written(beside)) return beside;
    }
    const char* home = std::getenv("HOME");
    if (home != nullptr && can_be_written(home)) return home;
    throw Error(
        "there is no folder to put the picture: neither the catalogue's nor your home can "
        "be written");
}

// A code or a boat's name may hold what file systems dislike.
std::string as_file_name(std::string_view words) {
    constexpr std::string_view disliked = " /\\:*?\"<>|";
    std::string name(words);
    std::ranges::replace_if(
        name,
        [&](char c) {
            return disliked.find(c) != std::string_view::npos || static_cast<unsigned char>(c) < 32;
        },
        '-');
    return name;
}

}  // namespace

fs::path picture_place(Workshop& workshop, std::string_view what,
                       const std::vector<std::string_view>& endings) {
    const fs::path& catalogue = workshop.catalogue().file();
    const fs::path folder = folder_for(catalogue);
    std::string stem = fs::exists(catalogue) ? catalogue.stem().string() : "coilbook";
    stem.append("-").append(as_file_name(what));
    for (int number = 1;; ++number) {
        const std::string name = number == 1 ? stem : stem + "-" + std::to_string(number);
        const bool is_taken = std::ranges::any_of(endings, [&](std::string_view ending) {
            return fs::exists(folder / (name + std::string(ending)));
        });
        if (!is_taken) return folder / name;
    }
}

}  // namespace coilbook::app
