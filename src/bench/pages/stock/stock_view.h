// What the page Stock shows: finished strings, ready to be drawn. stock_desk.h fills it.
#pragma once

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "bench/pages/stock/stock_form.h"
#include "bench/widgets/bar_plot.h"

namespace coilbook::bench::stock_page {

// How many of a class are where. A count of nothing is empty.
inline constexpr std::array heads{"In the bin", "With boats", "Lent",     "Damaged",
                                  "Lost",       "In all",     "Promised", "Missing"};
struct StockRowView {
    std::string class_name;
    std::array<std::string, heads.size()> counts;
    bool is_missing = false;
    bool is_at = false;
};

// Where a thing is, or was.
struct WhereLine {
    std::string when, place, note;
};

struct View {
    Task task = Task::stock;
    std::string title, aside;
    std::vector<StockRowView> rows;
    std::array<std::string, heads.size()> head_help;  // what the counts are
    std::string loss_help;
    std::string nothing;
    BarPlotView losses;                // what is gone
    std::vector<std::string> replace;  // "size 8 type 6 tip: 2 gone, 3 left"

    std::string code_error;
    std::string answer;             // where the thing is that was asked for
    std::vector<WhereLine> record;  // the last first
    bool may_go_to_bench = false;
    std::string class_title;                                  // "T-11"
    std::vector<std::pair<std::string, std::string>> things;  // "A7", "with boat Heron"
    std::string failure, message;
};

}  // namespace coilbook::bench::stock_page
