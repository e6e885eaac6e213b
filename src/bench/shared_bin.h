// The catalogue and its bin, as all pages look at them.
//
// One page changes something, all others must know: whoever does refreshes this, and each page
// compares the edition with the one that it showed last. After a change of one coil only that coil
// is read again, so that a reading is saved as quickly in a bin of a hundred thousand.
#pragma once

#include <chrono>
#include <vector>

#include "app/bin.h"
#include "app/workshop.h"
#include "bench/bin_lines.h"

namespace coilbook::bench {

class SharedBin {
  public:
    // Reads the bin of `workshop`, which must outlive this. Throws Error if it cannot.
    explicit SharedBin(app::Workshop& workshop);

    [[nodiscard]] app::Workshop& workshop() { return workshop_; }
    [[nodiscard]] app::Bin& bin() { return bin_; }
    // What a list says of the coils, in the order of the bin.
    [[nodiscard]] const std::vector<BinLine>& lines() const { return lines_; }
    // Another number after each change of the catalogue.
    [[nodiscard]] int edition() const { return edition_; }
    // Another number after each change of the lines, too.
    [[nodiscard]] int lines_edition() const { return lines_edition_; }

    // After a change of the catalogue by this program; all of these throw Error if it cannot be
    // read.
    void refresh();
    // After a change of no more than this coil: it was made, retired, changed, read or confirmed.
    void refresh(const Id<Coil>& coil);
    // Reads anew what another program has changed, if one has. Cheap enough for every second.
    void follow();
    // The units that all pages show numbers in.
    [[nodiscard]] const Units& units() const { return *units_; }
    // Other units from now on: as after a change of the catalogue, since pages word all anew.
    void show_in(const Units& units);
    // From now on the next readings are advised for this question.
    void ask(const Question& question);
    // In which group of coils of one line each coil is; none for an empty vector.
    struct Place {
        std::size_t group = 0, group_size = 0;  // as in BinLine
    };
    void put_groups(const std::vector<Place>& places);

    // Works out what the lines say for about `budget`; at once for those of one coil.
    void work_out(std::chrono::milliseconds budget);
    void work_out(std::size_t at);
    // Some lines lack their summary.
    [[nodiscard]] bool is_busy() const { return next_unknown_ < lines_.size(); }

  private:
    void read_lines();

    app::Workshop& workshop_;
    app::Bin bin_;
    const Units* units_ = &grains_and_feet;
    std::vector<BinLine> lines_;
    std::size_t next_unknown_ = 0;  // lines from here on may lack their summary
    int edition_ = 0, lines_edition_ = 0;
};

}  // namespace coilbook::bench
