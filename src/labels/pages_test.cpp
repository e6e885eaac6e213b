#include "labels/pages.h"

#include <doctest/doctest.h>

#include "support/paper.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::labels;

TEST_SUITE("Packing lists and plots") {
    TEST_CASE("a packing list has every thing by its code, in words and as a square") {
        PackingList list{"Heron, 2026-06-14",
                         "K7M3XM",
                         {},
                         {"No fast-sinking tip for size 8."},
                         {"Hooks off before a rig is handed over."}};
        for (int number = 0; number < 40; ++number) {
            list.rows.push_back({"C" + std::to_string(number), "size 8 type 6 tip", number % 2 == 0,
                                 number % 3 == 0});
        }
        const PrintedPdf pdf(packing_pdf(list, letter_paper()));
        const auto text = pdf.text();
        for (const auto* words : {"Heron, 2026-06-14", "K7M3XM", "No fast-sinking tip", "C0", "C39",
                                  "20 of 40 ticked", "Hooks off before"}) {
            CHECK_MESSAGE(mentions(text, words), words);
        }
        CHECK(mentions(pdf.info(), "Pages:           3"));
        // The first row's square is read from the page.
        CHECK(pdf.qr_codes(3, {PagePart{0.0, 0.0, 1.0, 0.16}}).size() == 1);
    }

    TEST_CASE("an empty list is a page, too") {
        const PrintedPdf pdf(packing_pdf({"Puddle, 2026-06-14", "", {}, {}, {}}, a4_paper()));
        CHECK(mentions(pdf.text(), "0 of 0 ticked"));
    }

    TEST_CASE("a plot names its rows, its kinds and its sums") {
        const BarPlot plot{"Lost in 2026",
                           {"lost", "damaged"},
                           {{"T-11", {3, 1}}, {"size 8 type 6 tip", {0, 2}}},
                           "Things found again are left out."};
        const PrintedPdf pdf(bar_plot(plot, PlotFile::pdf));
        const auto text = pdf.text();
        for (const auto* words : {"Lost in 2026", "damaged", "T-11", "size 8 type 6 tip", "4"}) {
            CHECK_MESSAGE(mentions(text, words), words);
        }
        CHECK(mentions(bar_plot(plot, PlotFile::svg), "</svg>"));
        CHECK(mentions(bar_plot({"Nothing", {"lost"}, {}, ""}, PlotFile::svg), "</svg>"));
    }
}
