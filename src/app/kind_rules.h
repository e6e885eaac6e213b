// What must be true of a row that is brought in, beyond its columns' types: the trade's own rules.
//
// The catalogue's tables have CHECKs, which speak SQL; these rules say the same in words first,
// with the repositories that the rest of the program writes through.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "app/workshop.h"
#include "store/kinds.h"

namespace coilbook::app {

// What is known of a row already, so that its rule need not ask the catalogue.
struct Known {
    bool has_new_name = false;  // no standing row has its name (Kind::InMasses)
    bool coil_is_kept = false;  // the catalogue has the coil of its coil_id
    bool has_own_id = false;    // it came with its id: a catalogue holds it as it is
};

// One row with its columns by name.
class KindCells {
  public:
    KindCells(const store::Kind& kind, store::KindRow& row, Known known = {})
        : kind_(kind), row_(row), known_(known) {}

    // REQUIRES: the kind has such a column.
    [[nodiscard]] db::Value& operator[](std::string_view column) const;
    [[nodiscard]] bool is_missing(std::string_view column) const;
    [[nodiscard]] std::string text(std::string_view column) const;  // "" where it is missing
    [[nodiscard]] std::optional<double> number(std::string_view column) const;
    [[nodiscard]] const Known& known() const { return known_; }

  private:
    const store::Kind& kind_;
    store::KindRow& row_;
    const Known known_;
};

// The row of a kind that these cells name, unless it was undone; and whether there is one.
[[nodiscard]] std::optional<store::KindRow> kept_row(
    Workshop& workshop, std::string_view kind_name,
    std::initializer_list<std::pair<std::string_view, std::string>> names);
[[nodiscard]] bool is_kept(Workshop& workshop, std::string_view kind_name,
                           std::initializer_list<std::pair<std::string_view, std::string>> names);

// What is wrong with a row that is about to be kept as new or in place of one that is there; fills
// in what follows from its other cells. A Problem's field is the column.
[[nodiscard]] Result<void> check_row(Workshop& workshop, const store::Kind& kind,
                                     store::KindRow& row, Known known = {});

}  // namespace coilbook::app
