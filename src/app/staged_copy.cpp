#include "app/staged_copy.h"

#include "store/catalogue.h"

namespace coilbook::app {

void remove_catalogue(const std::filesystem::path& file) {
    std::error_code none;
    for (const auto* ending : catalogue_endings) {
        std::filesystem::remove(file.string() + ending, none);
    }
}

StagedCopy::StagedCopy(const std::filesystem::path& from, const std::filesystem::path& catalogue,
                       const char* mark)
    : file_(catalogue) {
    file_ += mark;
    remove_catalogue(file_);
    store::Catalogue::copy(from, file_);
}

StagedCopy::~StagedCopy() {
    remove_catalogue(file_);
}

}  // namespace coilbook::app
