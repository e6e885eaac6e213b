// The catalogue and its bin, as all pages look at them.
//
// One page changes something, all others must know: whoever does refreshes this, and each page
// compares the edition with the one that it showed last.
#pragma once

#include "app/bin.h"
#include "app/workshop.h"

namespace coilbook::bench {

class SharedBin {
  public:
    // Reads the bin of `workshop`, which must outlive this. Throws Error if it cannot.
    explicit SharedBin(app::Workshop& workshop) : workshop_(workshop) { refresh(); }

    [[nodiscard]] app::Workshop& workshop() { return workshop_; }
    [[nodiscard]] app::Bin& bin() { return bin_; }
    // Another number after each change.
    [[nodiscard]] int edition() const { return edition_; }

    // After a change of the catalogue by this program. Throws Error if it cannot be read.
    void refresh() {
        bin_.refresh(workshop_);
        ++edition_;
    }
    // Reads anew what another program has changed, if one has. Cheap enough for every second.
    void follow() {
        if (bin_.refresh_if_changed(workshop_)) ++edition_;
    }

  private:
    app::Workshop& workshop_;
    app::Bin bin_;
    int edition_ = 0;
};

}  // namespace coilbook::bench
