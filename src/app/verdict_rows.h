// A verdict as a row of `coilbook identify`, for scripts and for people.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/table.h"
#include "catalog/reference_class.h"
#include "exchange/json.h"
#include "identify/verdict.h"

namespace coilbook::app {

// The contract's columns, in its order. Standard uncertainties (…_u) are one standard deviation.
[[nodiscard]] std::vector<Column> verdict_columns();

// The cells under them. What the readings do not determine is a missing cell; a facet whose most
// probable value is 'none' is a missing cell with a probability.
// REQUIRES: the verdict was made with this library, which has at least two classes.
[[nodiscard]] std::vector<Cell> verdict_cells(std::string_view code, const Verdict& verdict,
                                              const ReferenceLibrary& library);

// The same cells as a row of CSV, at the end of `text`.
void append_verdict_csv(std::string& text, std::string_view code, const Verdict& verdict,
                        const ReferenceLibrary& library);

// What JSON has besides: `classes`, every class as {"name", "probability"} in the library's order,
// and `because`, the reasons in words.
[[nodiscard]] exchange::Json verdict_details(const Verdict& verdict,
                                             const ReferenceLibrary& library);

// The same in fewer and rounded columns, for a person: "11.20 ± 0.07", "97 %".
[[nodiscard]] std::vector<Column> verdict_summary_columns();
[[nodiscard]] std::vector<Cell> verdict_summary_cells(std::string_view code, const Verdict& verdict,
                                                      const ReferenceLibrary& library);

// A probability for people: "97 %", "< 1 %", "> 99 %".
[[nodiscard]] std::string percent(double probability);

}  // namespace coilbook::app
