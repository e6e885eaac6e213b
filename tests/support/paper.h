// Looks at what was drawn for paper with programs that are not ours: poppler renders, zbar reads.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "support/temporary_folder.h"

namespace coilbook {

// What a command writes to its standard output. REQUIRES: it succeeds, or the test fails.
[[nodiscard]] inline std::string said_by(const std::string& command) {
    std::string said;
    FILE* pipe = ::popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> piece{};
    while (const auto length = std::fread(piece.data(), 1, piece.size(), pipe)) {
        said.append(piece.data(), length);
    }
    const int status = ::pclose(pipe);
    CHECK_MESSAGE(status == 0, command);
    return said;
}

[[nodiscard]] inline std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

// A page in shades of grey, 0 black to 255 white.
struct GreyPage {
    int width = 0, height = 0;
    std::string shades;

    [[nodiscard]] bool is_dark(int x, int y) const {
        const auto at = static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                        static_cast<std::size_t>(x);
        return static_cast<unsigned char>(shades.at(at)) < 128;
    }
};

// A part of a page, in the page's own widths and heights: 0 … 1.
struct PagePart {
    double x = 0, y = 0, width = 1, height = 1;
};

// A PDF in a folder of its own, to be looked at.
class PrintedPdf {
  public:
    explicit PrintedPdf(const std::string& bytes) { write_bytes(file(), bytes); }

    [[nodiscard]] std::filesystem::path file() const { return folder_ / "paper.pdf"; }

    // The page, from 1, as poppler draws it.
    [[nodiscard]] GreyPage page(int number, int dots_per_inch) const {
        const auto bytes = bytes_of(picture("-gray", "pgm", number, dots_per_inch));
        std::istringstream stream(bytes);
        std::string magic;
        int white = 0;
        GreyPage page;
        stream >> magic >> page.width >> page.height >> white;
        REQUIRE(magic == "P5");
        stream.get();
        page.shades = bytes.substr(static_cast<std::size_t>(stream.tellg()));
        return page;
    }
    // The texts of the QR codes in these parts of the page, as zbar reads them, sorted. Each part
    // is shown to it by itself: among many squares on one picture it does not find all.
    [[nodiscard]] std::vector<std::string> qr_codes(
        int number, const std::vector<PagePart>& parts = {PagePart{}},
        int dots_per_inch = 300) const {
        const auto whole = page(number, dots_per_inch);
        std::string files;
        for (std::size_t at = 0; at < parts.size(); ++at) {
            const auto file = folder_ / ("part-" + std::to_string(at) + ".pgm");
            write_bytes(file, pgm_of(whole, parts[at]));
            files += " " + file.string();
        }
        // 4: in some of the pictures there was none.
        auto codes = lines_of(said_by("zbarimg -q --nodbus --raw -Sdisable -Sqrcode.enable" +
                                      files + " || [ $? = 4 ]"));
        std::ranges::sort(codes);
        return codes;
    }
    [[nodiscard]] std::string text() const {
        return said_by("pdftotext " + file().string() + " -");
    }
    // A line for each font: name, type, …, whether it is embedded.
    [[nodiscard]] std::vector<std::string> fonts() const {
        auto lines = lines_of(said_by("pdffonts " + file().string()));
        lines.erase(lines.begin(), lines.begin() + 2);
        return lines;
    }
    [[nodiscard]] std::string info() const { return said_by("pdfinfo " + file().string()); }

  private:
    [[nodiscard]] static std::string pgm_of(const GreyPage& whole, const PagePart& part) {
        const auto dots = [](double share, int size) {
            return static_cast<std::size_t>(std::clamp(share, 0.0, 1.0) * size);
        };
        const auto left = dots(part.x, whole.width);
        const auto top = dots(part.y, whole.height);
        const auto width = dots(part.x + part.width, whole.width) - left;
        const auto height = dots(part.y + part.height, whole.height) - top;
        auto bytes = "P5\n" + std::to_string(width) + " " + std::to_string(height) + "\n255\n";
        for (std::size_t row = top; row < top + height; ++row) {
            bytes += whole.shades.substr(row * static_cast<std::size_t>(whole.width) + left, width);
        }
        return bytes;
    }
    [[nodiscard]] std::filesystem::path picture(const std::string& kind, const std::string& ending,
                                                int number, int dots_per_inch) const {
        const auto page = std::to_string(number);
        (void)said_by("pdftoppm " + kind + " -singlefile -r " + std::to_string(dots_per_inch) +
                      " -f " + page + " -l " + page + " " + file().string() + " " +
                      (folder_ / "page").string());
        return folder_ / ("page." + ending);
    }

    TemporaryFolder folder_;
};

}  // namespace coilbook
