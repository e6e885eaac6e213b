// Searching the bin as somebody types, however many coils there are: by words and by measured
// figures.
//
// It goes through an index in a file of its own (store/search_index.h), which is brought up to date
// before each search with what the catalogue's history says has changed. Words are sought in code,
// confirmed class, place, tint, taper and notes. Figures follow from the readings and the
// instruments alone (identify/facts.h), at 10 °C in fresh water; without uncertainties, which the
// bin's page and `coils show` tell. What the program holds an unconfirmed coil to be is not
// searched: that may change with every confirmation.
#pragma once

#include <filesystem>
#include <functional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/table.h"
#include "app/workshop.h"
#include "store/search_index.h"
#include "store/searchable_repository.h"

namespace coilbook::app {

class Finder {
  public:
    // Of a workshop that must outlive it. The index is a file in $XDG_CACHE_HOME/coilbook (else
    // ~/.cache/coilbook) named after the catalogue's place; in memory where the catalogue is, and
    // where there is no such folder. Nothing is made before the first search.
    explicit Finder(Workshop& workshop);

    // Puts in what has changed since; makes the index where there is none. A second at a hundred
    // thousand coils, once; then milliseconds. `progress` is told how many coils are done while all
    // are read. Throws Error where the catalogue or the index cannot be read.
    void refresh(const std::function<void(std::size_t)>& progress = {});

    // What is found, after a refresh. Throws Error.
    [[nodiscard]] store::SearchAnswer find(const store::SearchQuery& query);

  private:
    void make_anew(const store::SearchMark& mark, const std::function<void(std::size_t)>& progress);

    Workshop& workshop_;
    store::SearchableRepository searchable_;
    store::SearchIndex index_;
};

// Throws the index of that catalogue away if it is damaged; the next search makes it anew. Says
// what was wrong with it, or nothing. Reads all of it.
[[nodiscard]] std::string discard_damaged_index(const std::filesystem::path& catalogue);

// What somebody typed into one field: words, and ranges as "10..12" (gr/ft, as in the bin),
// "4..4.4 g/cm3", "0.8..0.9 mm" (a diameter), "6..7 in/s", "..12 ft" (the whole coil's length);
// both ends included, and either may be missing. A Problem for a range that is not understood.
[[nodiscard]] Result<store::SearchQuery> query_from(std::string_view typed);

// Rows of `coilbook find`: code, confirmed_class, grains_per_foot, diameter_mm, density_g_cm3,
// sink_rate_in_s, length_ft, place, looks, notes. A table for people says below how many there are.
void write_found(const store::SearchAnswer& answer, std::ostream& out, Format format,
                 std::size_t terminal_width = 0);

}  // namespace coilbook::app
