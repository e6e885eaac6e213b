#include "app/labels.h"

#include <doctest/doctest.h>

#include "app/coil_changes.h"
#include "app/take_in.h"
#include "support/paper.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

Coil a_measured_coil(Workshop& workshop, const char* code) {
    const auto coil = add_coil(workshop, code, "from the drift boat").value();
    const auto read = [&](ReadingField field, const char* text) {
        REQUIRE(record_reading(workshop, coil, field, text).has_value());
    };
    read(ReadingField::sample_length, "24 in");
    read(ReadingField::sample_weight, "22.4 gr");
    read(ReadingField::diameters, "0.85 0.85 0.85 mm");
    read(ReadingField::whole_length, "15 ft");
    return coil;
}

LabelRequest request_for(std::vector<std::string> codes, const std::filesystem::path& out) {
    LabelRequest request;
    request.codes = std::move(codes);
    request.sheet = labels::sheet_from("letter-30").value();
    request.out = out;
    return request;
}

}  // namespace

TEST_SUITE("Labels of coils") {
    // The README's worked example: 11.20 gr/ft, 7.07 in/s, T-11; 15 ft of it weigh 168 gr.
    TEST_CASE("a label says what is known, and no more") {
        auto workshop = workshop_in_memory();
        a_measured_coil(workshop, "K7M3XM");
        REQUIRE(add_coil(workshop, "A7").has_value());
        Bin bin;
        bin.refresh(workshop);
        const auto label = label_of(bin, bin.find_code("K7M3XM").value(), false);
        CHECK(label.name == "T-11, type 7");
        CHECK(label.figures ==
              std::vector<std::string>{"15.0 ft, 168 gr, 11.2 gr/ft", "sinks 7.1 in/s"});
        CHECK(label.notes.empty());
        // 15 ft = 4.57 m, 168 gr = 10.9 g, 11.2 gr/ft = 2.38 g/m, 7.07 in/s = 18.0 cm/s.
        CHECK(label_of(bin, bin.find_code("K7M3XM").value(), false, grams_and_metres).figures ==
              std::vector<std::string>{"4.57 m, 10.9 g, 2.38 g/m", "sinks 18.0 cm/s"});
        REQUIRE(label.mark.has_value());
        CHECK(in_words(*label.mark) == "wide wide narrow, gap, narrow narrow");
        CHECK(label_of(bin, bin.find_code("K7M3XM").value(), true).notes == "from the drift boat");
        const auto blank = label_of(bin, bin.find_code("A7").value(), true);
        CHECK(blank.name.empty());
        CHECK(blank.figures.empty());
        CHECK_FALSE(blank.mark.has_value());
    }

    TEST_CASE("a doubtful class has a question mark and no loop mark; the person's word has both") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "B2").value();
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_length, "24 in").has_value());
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, "17 gr").has_value());
        Bin bin;
        bin.refresh(workshop);
        const auto doubtful = label_of(bin, 0, false);
        CHECK(doubtful.name.ends_with(" ?"));
        CHECK_FALSE(doubtful.mark.has_value());
        REQUIRE(confirm_coil(workshop, coil, "size 8 type 6 tip").has_value());
        bin.refresh(workshop);
        const auto sure = label_of(bin, 0, false);
        CHECK(sure.name == "size 8 type 6 tip");
        REQUIRE(sure.mark.has_value());
        CHECK(in_words(*sure.mark) == "wide wide, gap, narrow");
    }

    TEST_CASE("the demonstration's labels are printed, and every square is read") {
        auto workshop = workshop_in_memory();
        const auto taken = take_in_demo(workshop);
        const TemporaryFolder folder;
        auto request = request_for({}, folder / "all.pdf");
        request.all = true;
        const auto made = write_labels(workshop, request).value();
        CHECK(made == LabelsMade{static_cast<std::size_t>(taken.coils), 2});
        const PrintedPdf pdf(bytes_of(request.out));
        std::vector<PagePart> cells;
        for (int row = 0; row < 10; ++row) {
            for (int column = 0; column < 3; ++column) {
                cells.push_back({column / 3.0, (0.5 + row) / 11.0, 1.0 / 3.0, 1.0 / 11.0});
            }
        }
        CHECK(pdf.qr_codes(1, cells).size() == 30);
        CHECK(pdf.qr_codes(2, cells).size() == static_cast<std::size_t>(taken.coils) - 30);
        // The window finds a coil by just what a scanner types.
        Bin bin;
        bin.refresh(workshop);
        for (const auto& code : pdf.qr_codes(1, cells)) CHECK(bin.find_code(code).has_value());
        CHECK_FALSE(mentions(pdf.text(), "kinked"));  // its notes stay in the catalogue
    }

    TEST_CASE("what cannot be printed is told, and no file is made") {
        auto workshop = workshop_in_memory();
        a_measured_coil(workshop, "A7");
        a_measured_coil(workshop, "B2");
        const TemporaryFolder folder;
        const auto refused = [&](const LabelRequest& request) {
            const auto made = write_labels(workshop, request);
            REQUIRE_FALSE(made.has_value());
            return to_line(made.error());
        };
        says(refused(request_for({"A9"}, folder / "x.pdf")), "perhaps 'A7'");
        says(refused(request_for({}, folder / "x.pdf")), "nothing to print");
        says(refused(request_for({"A7"}, folder / "x.doc")), ".pdf");
        says(refused(request_for({"A7", "B2"}, folder / "x.png")), "one label, not 2");
        auto late = request_for({"A7"}, folder / "x.pdf");
        late.first_cell = 30;
        says(refused(late), "1 to 30");
        CHECK(folder.count() == 0);
        CHECK(mentions(error_of([&] {
                           (void)write_labels(workshop,
                                              request_for({"A7"}, folder / "none" / "x.pdf"));
                       }),
                       "cannot be written"));
    }
}
