#include "app/staged_copy.h"

#include "store/catalogue.h"

namespace coilbook::app {

StagedCopy::StagedCopy(const std::filesystem::path& from, const std::filesystem::path& catalogue,
                       const char* mark)
    : file_(catalogue) {
    file_ += mark;
    remove();
    store::Catalogue::copy(from, file_);
}

StagedCopy::~StagedCopy() {
    remove();
}

void StagedCopy::remove() const {
    std::error_code none;
    for (const auto* ending : catalogue_endings) {
        std::filesystem::remove(file_.string() + ending, none);
    }
}

}  // namespace coilbook::app
