#include "labels/label_files.h"

#include <doctest/doctest.h>

#include <ctime>
#include <fstream>

#include "catalog/given_code.h"
#include "support/near.h"
#include "support/paper.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::labels;

namespace {

LabelContent a_label(std::uint64_t number) {
    return {.code = given_code(number * 104'729),
            .name = "T-11, type 7",
            .figures = {"15 ft, 165 gr", "sinks 7.1 in/s"},
            .notes = "",
            .mark = LoopMark{DensityGrade::type(7), 2}};
}

std::vector<LabelContent> labels_of(std::size_t count) {
    std::vector<LabelContent> labels;
    for (std::size_t number = 1; number <= count; ++number) labels.push_back(a_label(number));
    return labels;
}

// The cells of the sheet, from `first` on, as parts of its page.
std::vector<PagePart> cells_of(const Sheet& sheet, std::size_t first, std::size_t count) {
    std::vector<PagePart> parts;
    for (std::size_t number = first; number < first + count; ++number) {
        const auto corner = cell(sheet, number).corner;
        parts.push_back({corner.x / sheet.paper.width, corner.y / page_height(sheet),
                         sheet.label.width / sheet.paper.width,
                         sheet.label.height / page_height(sheet)});
    }
    return parts;
}

std::vector<std::string> sorted_codes(const std::vector<LabelContent>& labels) {
    std::vector<std::string> codes;
    for (const auto& label : labels) codes.push_back(label.code);
    std::ranges::sort(codes);
    return codes;
}

// The first dark pixel of a column of pixels, and of a row, from the upper left of a region.
struct Corner {
    int x = -1, y = -1;
};
Corner first_dark(const GreyPage& page, int left, int top, int width, int height) {
    Corner found;
    for (int x = left; x < left + width && found.x < 0; ++x) {
        for (int y = top; y < top + height; ++y) {
            if (page.is_dark(x, y)) {
                found.x = x;
                break;
            }
        }
    }
    for (int y = top; y < top + height && found.y < 0; ++y) {
        for (int x = left; x < left + width; ++x) {
            if (page.is_dark(x, y)) {
                found.y = y;
                break;
            }
        }
    }
    return found;
}

}  // namespace

TEST_SUITE("Labels on paper") {
    TEST_CASE("every code on a sheet is read from its square by another program, and as text") {
        for (const auto* name : {"letter-30", "letter-10", "a4-24", "a4-21"}) {
            CAPTURE(name);
            const auto sheet = sheet_from(name).value();
            const auto labels = labels_of(labels_per_page(sheet));
            const PrintedPdf pdf(sheets_pdf(sheet, labels));
            CHECK(pdf.qr_codes(1, cells_of(sheet, 0, labels.size())) == sorted_codes(labels));
            const auto text = pdf.text();
            for (const auto& label : labels) CHECK(mentions(text, label.code));
            CHECK(mentions(text, "T-11, type 7"));
            CHECK(mentions(text, "sinks 7.1 in/s"));
        }
    }

    TEST_CASE("fonts are embedded, and the paper has its size") {
        const PrintedPdf letter(sheets_pdf(sheet_from("letter-30").value(), labels_of(3)));
        const auto fonts = letter.fonts();
        REQUIRE_FALSE(fonts.empty());
        // After the name and the type: encoding, then emb, sub, uni.
        for (const auto& font : fonts) CHECK_MESSAGE(mentions(font, "yes yes yes"), font);
        CHECK(mentions(letter.info(), "612 x 792 pts (letter)"));
        const PrintedPdf a4(sheets_pdf(sheet_from("a4-24").value(), labels_of(3)));
        CHECK(mentions(a4.info(), "A4"));
    }

    // Distances between squares are those of the stated grid; 0.2 mm is what a label's edge bears.
    TEST_CASE("labels lie where the sheet says, to 0.2 mm") {
        constexpr int dots = 300;
        constexpr double mm_per_dot = 25.4 / dots;
        for (const auto* name : {"letter-30", "a4-21"}) {
            const auto sheet = sheet_from(name).value();
            const auto count = labels_per_page(sheet);
            const auto page = PrintedPdf(sheets_pdf(sheet, labels_of(count))).page(1, dots);
            const auto dot = [&](Length length) {
                return static_cast<int>(length.in(millimetre) / mm_per_dot);
            };
            std::vector<Corner> corners;
            for (std::size_t number = 0; number < count; ++number) {
                const auto corner = cell(sheet, number).corner;
                corners.push_back(first_dark(page, dot(corner.x), dot(corner.y),
                                             dot(sheet.label.width) / 3, dot(sheet.label.height)));
                REQUIRE(corners.back().x >= 0);
                const auto away = [&](int at, int from) { return (at - from) * mm_per_dot; };
                const auto first = cell(sheet, 0).corner;
                CHECK(near(away(corners.back().x, corners.front().x),
                           (corner.x - first.x).in(millimetre), 0.2));
                CHECK(near(away(corners.back().y, corners.front().y),
                           (corner.y - first.y).in(millimetre), 0.2));
            }
        }
    }

    TEST_CASE("outlines stand on the cells' edges, to 0.2 mm") {
        constexpr int dots = 300;
        const auto sheet = sheet_from("letter-30").value();
        const auto page = PrintedPdf(sheets_pdf(sheet, {}, {.outlines = true})).page(1, dots);
        for (const auto number : {std::size_t{0}, std::size_t{4}, std::size_t{29}}) {
            const auto corner = cell(sheet, number).corner;
            const int x = static_cast<int>((corner.x - 1.0 * millimetre).in(inch)*dots);
            const int y = static_cast<int>((corner.y - 1.0 * millimetre).in(inch)*dots);
            // Below the row's upper edge the first dark dot is the cell's left side.
            const auto left = first_dark(page, x, y + 60, 100, 1);
            CHECK(near(left.x * 25.4 / dots, corner.x.in(millimetre), 0.2));
            const auto top = first_dark(page, x + 60, y, 1, 100);
            CHECK(near(top.y * 25.4 / dots, corner.y.in(millimetre), 0.2));
        }
    }

    TEST_CASE("a sheet that was begun goes on at the cell that is free") {
        const auto sheet = sheet_from("letter-10").value();
        const auto labels = labels_of(4);
        const PrintedPdf pdf(sheets_pdf(sheet, labels, {.first_cell = 8}));
        CHECK(mentions(pdf.info(), "Pages:           2"));
        auto first_two = std::vector{labels[0].code, labels[1].code};
        std::ranges::sort(first_two);
        CHECK(pdf.qr_codes(1, cells_of(sheet, 0, 10)) == first_two);
        CHECK(pdf.qr_codes(2).size() == 2);
        // The cells before are empty.
        const auto page = pdf.page(1, 100);
        CHECK(first_dark(page, 0, 0, page.width, 840).y < 0);  // 0.5 in + 4 rows of 2 in = 8.5 in
    }

    TEST_CASE("on a roll every label is a page, and each is read") {
        const auto sheet = sheet_from("roll-62").value();
        const auto labels = labels_of(3);
        const PrintedPdf pdf(sheets_pdf(sheet, labels));
        CHECK(mentions(pdf.info(), "Pages:           3"));
        for (int page = 1; page <= 3; ++page) {
            CHECK(pdf.qr_codes(page) ==
                  std::vector{labels[static_cast<std::size_t>(page - 1)].code});
        }
    }

    TEST_CASE("flags say the code on both halves, and are read") {
        const auto sheet = sheet_from("flags-a4").value();
        const auto labels = labels_of(labels_per_page(sheet));
        const PrintedPdf pdf(sheets_pdf(sheet, labels, {.shape = Shape::flag}));
        CHECK(pdf.qr_codes(1, cells_of(sheet, 0, labels.size()), 400) == sorted_codes(labels));
        // Whole on one half, in two lines of three beside the square on the other.
        const auto text = pdf.text();
        for (const auto& label : labels) {
            CHECK(mentions(text, label.code));
            CHECK(mentions(text, label.code.substr(0, 3) + "\n"));
        }
    }

    TEST_CASE("a person's own code in any script is read back, too") {
        for (const auto* code :
             {"A7", "Ü-3", "Старый.7", "竿-12", "a-very-long-code-of-40-characters_0123456"}) {
            CAPTURE(code);
            LabelContent label = a_label(1);
            label.code = code;
            const PrintedPdf pdf(
                label_pdf(label, {66.0 * millimetre, 25.0 * millimetre}, Shape::label));
            CHECK(pdf.qr_codes(1, {PagePart{}}, 400) == std::vector<std::string>{code});
        }
    }

    TEST_CASE("notes in any script are set, embedded and searchable") {
        LabelContent label = a_label(1);
        label.notes = "старая коробка, 竿の箱, αβγ, حقيبة, नदी, box ☂";
        const PrintedPdf pdf(
            label_pdf(label, {98.0 * millimetre, 44.0 * millimetre}, Shape::label));
        const auto text = pdf.text();
        CHECK(mentions(text, "старая"));
        CHECK(mentions(text, "竿の箱"));
        CHECK(mentions(text, "αβγ"));
        CHECK(pdf.fonts().size() >= 4);
        for (const auto& font : pdf.fonts()) CHECK_MESSAGE(mentions(font, "yes yes yes"), font);
    }

    TEST_CASE("a small label keeps its code and square and leaves out the rest") {
        LabelContent label = a_label(1);
        label.notes = "from the drift boat";
        const PrintedPdf pdf(
            label_pdf(label, {30.0 * millimetre, 12.0 * millimetre}, Shape::label));
        CHECK(pdf.qr_codes(1, {PagePart{}}, 600) == std::vector{label.code});
        const auto text = pdf.text();
        CHECK(mentions(text, label.code));
        CHECK_FALSE(mentions(text, "drift boat"));
    }

    TEST_CASE("one label is a picture of the size and resolution that was asked for") {
        const TemporaryFolder folder;
        const auto label = a_label(2);
        const Size size{2.0 * inch, 1.0 * inch};
        const auto png = label_png(label, size, Shape::label, 300);
        CHECK(png.substr(1, 3) == "PNG");
        write_bytes(folder / "label.png", png);
        CHECK(mentions(said_by("file " + (folder / "label.png").string()), "600 x 300"));
        CHECK(said_by("zbarimg -q --nodbus --raw " + (folder / "label.png").string() + "") ==
              label.code + "\n");
        const auto svg = label_svg(label, size, Shape::label);
        CHECK(mentions(svg, "width=\"144pt\" height=\"72pt\""));
        CHECK(mentions(svg, "</svg>"));
    }

    TEST_CASE("the key to the marks is one page that says what each group is") {
        for (const auto& paper : {letter_paper(), a4_paper()}) {
            const PrintedPdf pdf(mark_key_pdf(paper));
            CHECK(mentions(pdf.info(), "Pages:           1"));
            const auto text = pdf.text();
            for (const auto* words : {"type 8: 8 to 9 in/s", "intermediate", "9.5 to 12.5 gr/ft",
                                      "check the local regulations"}) {
                CHECK_MESSAGE(mentions(text, words), words);
            }
        }
    }

    TEST_CASE("a thousand labels are quick") {
        const auto labels = labels_of(1000);
        const auto start = std::clock();  // the processor's time, not that of a busy machine
        const auto bytes = sheets_pdf(sheet_from("letter-30").value(), labels);
        const double took = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        MESSAGE("1000 labels took " << took << " s of processor time, " << bytes.size()
                                    << " bytes");
        CHECK(took < 10.0);  // 2 s is for a release build; this one has sanitizers
        CHECK(mentions(PrintedPdf(bytes).info(), "Pages:           34"));
    }
}
