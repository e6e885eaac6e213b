#include "labels/sheet.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "quantity/parse.h"
#include "quantity/print.h"

namespace coilbook::labels {
namespace {

constexpr Length slack = Length::from_si(0.00005);
constexpr Size smallest{Length::from_si(0.008), Length::from_si(0.006)};

Paper letter() {
    return {8.5 * inch, 11.0 * inch};
}
Paper a4() {
    return {210.0 * millimetre, 297.0 * millimetre};
}

std::string in_millimetres(Length length) {
    return significant(length.in(millimetre), 4) + " mm";
}

// "A x B" as two pieces; an x in a unit's name does not occur.
std::optional<std::pair<std::string, std::string>> two_of(std::string_view text) {
    const auto cross = text.find('x');
    if (cross == std::string_view::npos) return std::nullopt;
    return std::pair{std::string(trimmed(text.substr(0, cross))),
                     std::string(trimmed(text.substr(cross + 1)))};
}

// Two lengths, none below zero.
Result<Size> two_lengths(std::string_view text) {
    const auto parts = two_of(text);
    if (!parts) {
        return problem("sheet", quoted(text) + " is not two lengths", "such as 63.5 mm x 38.1 mm");
    }
    const auto width = parse_length(parts->first);
    if (!width) return tl::unexpected(width.error());
    const auto height = parse_length(parts->second);
    if (!height) return tl::unexpected(height.error());
    if (width->value < Length{} || height->value < Length{}) {
        return problem("sheet", quoted(text) + " has a length below zero", "lengths from 0 mm on");
    }
    return Size{width->value, height->value};
}

Result<std::pair<int, int>> grid_from(std::string_view text) {
    const auto parts = two_of(text);
    const auto columns = parts ? parse_number(parts->first) : parse_number("");
    const auto rows = parts ? parse_number(parts->second) : parse_number("");
    const auto is_count = [](const Result<double>& number) {
        return number && *number >= 1 && *number <= 200 && std::floor(*number) == *number;
    };
    if (!is_count(columns) || !is_count(rows)) {
        return problem("sheet", quoted(text) + " is no grid of labels",
                       "columns x rows, such as 3 x 8");
    }
    return std::pair{static_cast<int>(*columns), static_cast<int>(*rows)};
}

Result<Paper> paper_from(std::string_view text) {
    if (text == "letter") return letter();
    if (text == "a4") return a4();
    if (text.starts_with("roll")) {
        const auto width = parse_length(trimmed(text.substr(4)));
        if (!width) return tl::unexpected(width.error());
        return Paper{width->value, std::nullopt};
    }
    const auto size = two_lengths(text);
    if (!size) {
        return problem("sheet", quoted(text) + " is no paper",
                       "letter, a4, 'roll 62 mm' or 'WIDTH x HEIGHT'");
    }
    return Paper{size->width, size->height};
}

// What stands in the words of a sheet; nothing where it was left out.
struct Words {
    Paper paper;
    std::optional<std::pair<int, int>> grid;
    std::optional<Size> label, margin, gap;
};

Result<Words> words_from(const std::vector<std::string_view>& pieces) {
    Words words;
    const auto paper = paper_from(pieces.front());
    if (!paper) return tl::unexpected(paper.error());
    words.paper = *paper;
    for (std::size_t at = 1; at < pieces.size(); ++at) {
        const auto piece = pieces[at];
        const auto take = [&](std::string_view head, std::optional<Size>& into) -> Result<bool> {
            if (!piece.starts_with(head)) return false;
            const auto size = two_lengths(trimmed(piece.substr(head.size())));
            if (!size) return tl::unexpected(size.error());
            into = *size;
            return true;
        };
        bool is_taken = false;
        for (const auto& [head, into] :
             {std::pair{"label", &words.label}, {"margin", &words.margin}, {"gap", &words.gap}}) {
            const auto taken = take(head, *into);
            if (!taken) return tl::unexpected(taken.error());
            is_taken = is_taken || *taken;
        }
        if (is_taken) continue;
        const auto grid = grid_from(piece);
        if (!grid) {
            return problem("sheet", quoted(piece) + " says nothing about a sheet",
                           "a grid such as 3 x 8, or label, margin or gap with two lengths");
        }
        words.grid = *grid;
    }
    return words;
}

// The extent of `count` labels with gaps between them.
Length extent(int count, Length each, Length gap) {
    return each * static_cast<double>(count) + gap * static_cast<double>(count - 1);
}

Result<Sheet> fitting(const Sheet& sheet) {
    if (sheet.label.width < smallest.width || sheet.label.height < smallest.height) {
        return problem("sheet",
                       "labels of " + in_millimetres(sheet.label.width) + " x " +
                           in_millimetres(sheet.label.height) + " are too small to be read",
                       "8 mm x 6 mm or more");
    }
    const auto right = sheet.first.x + extent(sheet.columns, sheet.label.width, sheet.gap_across);
    if (sheet.first.x < -1.0 * slack || right > sheet.paper.width + slack) {
        return problem("sheet",
                       "the labels reach to " + in_millimetres(right) + ", but the paper is " +
                           in_millimetres(sheet.paper.width) + " wide",
                       "fewer columns, narrower labels or smaller gaps");
    }
    if (!sheet.paper.height) return sheet;
    const auto bottom = sheet.first.y + extent(sheet.rows, sheet.label.height, sheet.gap_down);
    if (sheet.first.y < -1.0 * slack || bottom > *sheet.paper.height + slack) {
        return problem("sheet",
                       "the labels reach down to " + in_millimetres(bottom) +
                           ", but the paper is " + in_millimetres(*sheet.paper.height) + " high",
                       "fewer rows, lower labels or smaller gaps");
    }
    return sheet;
}

Result<Sheet> roll_from(const Words& words) {
    if (words.grid) {
        return problem("sheet", "a roll has no grid: one label follows the other",
                       "'roll 62 mm, label 62 mm x 29 mm, gap 0 mm x 3 mm'");
    }
    if (!words.label) {
        return problem("sheet", "a roll does not say how long a label is",
                       "'label WIDTH x LENGTH' as well");
    }
    const auto gap = words.gap.value_or(Size{});
    const auto in_the_middle = (words.paper.width - words.label->width) / 2.0;
    const auto margin = words.margin.value_or(Size{in_the_middle, {}});
    return fitting(
        {words.paper, 1, 1, *words.label, {margin.width, margin.height}, {}, gap.height});
}

Sheet flags_on(const Paper& paper, int columns, int rows) {
    const Size flag{50.0 * millimetre, 13.0 * millimetre};
    const Length gap = 2.0 * millimetre;
    return {paper,
            columns,
            rows,
            flag,
            {(paper.width - extent(columns, flag.width, {})) / 2.0,
             (*paper.height - extent(rows, flag.height, gap)) / 2.0},
            {},
            gap};
}

std::vector<NamedSheet> made_sheets() {
    const Length mm = millimetre;
    return {
        {"letter-30",
         {letter(),
          3,
          10,
          {2.625 * inch, 1.0 * inch},
          {0.1875 * inch, 0.5 * inch},
          0.125 * inch,
          {}},
         "3 x 10 labels of 2 5/8 in x 1 in on Letter"},
        {"letter-10",
         {letter(),
          2,
          5,
          {4.0 * inch, 2.0 * inch},
          {0.15625 * inch, 0.5 * inch},
          0.1875 * inch,
          {}},
         "2 x 5 labels of 4 in x 2 in on Letter"},
        {"a4-24",
         {a4(), 3, 8, {70.0 * mm, 37.0 * mm}, {{}, 0.5 * mm}, {}, {}},
         "3 x 8 labels of 70 mm x 37 mm on A4"},
        {"a4-21",
         {a4(), 3, 7, {63.5 * mm, 38.1 * mm}, {7.25 * mm, 15.15 * mm}, 2.5 * mm, {}},
         "3 x 7 labels of 63.5 mm x 38.1 mm on A4"},
        {"roll-62",
         {{62.0 * mm, std::nullopt}, 1, 1, {62.0 * mm, 29.0 * mm}, {}, {}, 3.0 * mm},
         "labels of 62 mm x 29 mm on a roll, 3 mm apart"},
        {"flags-letter", flags_on(letter(), 4, 17), "4 x 17 flags of 50 mm x 13 mm on Letter"},
        {"flags-a4", flags_on(a4(), 4, 19), "4 x 19 flags of 50 mm x 13 mm on A4"},
        {"plain-letter",
         {letter(), 2, 6, {98.0 * mm, 44.0 * mm}, {9.95 * mm, 7.7 * mm}, {}, {}},
         "2 x 6 labels of 98 mm x 44 mm on Letter, to be cut"},
        {"plain-a4",
         {a4(), 2, 6, {98.0 * mm, 46.0 * mm}, {7.0 * mm, 10.5 * mm}, {}, {}},
         "2 x 6 labels of 98 mm x 46 mm on A4, to be cut"},
    };
}

}  // namespace

Paper letter_paper() {
    return letter();
}
Paper a4_paper() {
    return a4();
}

const std::vector<NamedSheet>& named_sheets() {
    static const auto sheets = made_sheets();
    return sheets;
}

Result<Sheet> sheet_from(std::string_view text) {
    const auto wanted = lower_ascii(trimmed(text));
    for (const auto& known : named_sheets()) {
        if (known.name == wanted) return known.sheet;
    }
    const auto parts = pieces(wanted, ",");
    if (parts.empty()) return problem("sheet", "no sheet is named", "letter-30, a4-24 or another");
    const auto words = words_from(parts);
    if (!words) return tl::unexpected(words.error());
    if (!words->paper.height) return roll_from(*words);
    const auto [columns, rows] = words->grid.value_or(std::pair{1, 1});
    const auto gap = words->gap.value_or(Size{});
    const auto margin = words->margin.value_or(Size{});
    const auto share = [](Length room, int count, Length between) {
        return (room - between * static_cast<double>(count - 1)) / static_cast<double>(count);
    };
    const auto label = words->label.value_or(
        Size{share(words->paper.width - margin.width * 2.0, columns, gap.width),
             share(*words->paper.height - margin.height * 2.0, rows, gap.height)});
    const Place middle{(words->paper.width - extent(columns, label.width, gap.width)) / 2.0,
                       (*words->paper.height - extent(rows, label.height, gap.height)) / 2.0};
    const auto first = words->margin ? Place{margin.width, margin.height} : middle;
    return fitting({words->paper, columns, rows, label, first, gap.width, gap.height});
}

std::size_t labels_per_page(const Sheet& sheet) {
    return static_cast<std::size_t>(sheet.columns) * static_cast<std::size_t>(sheet.rows);
}

Length page_height(const Sheet& sheet) {
    if (sheet.paper.height) return *sheet.paper.height;
    return sheet.first.y + sheet.label.height + sheet.gap_down;
}

Cell cell(const Sheet& sheet, std::size_t number) {
    const auto on_page = number % labels_per_page(sheet);
    const auto column = on_page % static_cast<std::size_t>(sheet.columns);
    const auto row = on_page / static_cast<std::size_t>(sheet.columns);
    return {number / labels_per_page(sheet),
            {sheet.first.x + (sheet.label.width + sheet.gap_across) * static_cast<double>(column),
             sheet.first.y + (sheet.label.height + sheet.gap_down) * static_cast<double>(row)}};
}

}  // namespace coilbook::labels
