// How good the answers are in this catalogue, told in words and as marks on a scale.
#pragma once

#include <optional>

#include "app/score_confirmed.h"
#include "bench/pages/library/library_view.h"

namespace coilbook::bench::library_page {

// Nothing for a score says that it is still being worked out. From too few coils nothing is said
// but how many there are.
[[nodiscard]] ScoreView score_view(const std::optional<app::ConfirmedScore>& score);

}  // namespace coilbook::bench::library_page
