#include "labels/qr.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdint>

using namespace coilbook;
using namespace coilbook::labels;

namespace {

// The fifteen format bits beside the upper left finder, the first one the highest.
// Source: ISO/IEC 18004, format information (from memory): along row 8 from the left, then up.
unsigned format_of(const QrSquare& square) {
    unsigned word = 0;
    const auto take = [&](int column, int row) {
        word = word << 1 | (square.is_dark(column, row) ? 1U : 0U);
    };
    for (const int column : {0, 1, 2, 3, 4, 5, 7, 8}) take(column, 8);
    for (const int row : {7, 5, 4, 3, 2, 1, 0}) take(8, row);
    return word;
}

std::string letters(std::size_t count) {
    return std::string("K7M3XMTTRR2345FFJJHHCC99").substr(0, count);
}

}  // namespace

TEST_SUITE("QR codes") {
    TEST_CASE("a given code has the smallest square and the strongest correction") {
        const auto square = qr_of("K7M3XM").value();
        CHECK(square.side == 21);
        // The word that tells level H is neither L nor M nor Q: its first two bits, unmasked, are
        // 10. Source: ISO/IEC 18004, mask 101010000010010 = 0x5412 (from memory).
        CHECK(((format_of(square) ^ 0x5412U) >> 13) == 2U);
    }

    // Source: the format words L0 … L7 and M0 … M7 of ISO/IEC 18004, as in check-values.
    TEST_CASE("longer codes get less correction before they get a larger square") {
        constexpr std::array<unsigned, 8> low{0x77C4, 0x72F3, 0x7DAA, 0x789D,
                                              0x662F, 0x6318, 0x6C41, 0x6976};
        constexpr std::array<unsigned, 8> medium{0x5412, 0x5125, 0x5E7C, 0x5B4B,
                                                 0x45F9, 0x40CE, 0x4F97, 0x4AA0};
        const auto at_medium = qr_of(letters(18)).value();
        CHECK(at_medium.side == 21);
        CHECK(std::ranges::count(medium, format_of(at_medium)) == 1);
        const auto at_low = qr_of(letters(24)).value();
        CHECK(at_low.side == 21);
        CHECK(std::ranges::count(low, format_of(at_low)) == 1);
        CHECK(qr_of("Ü-3").value().side == 21);
        CHECK(qr_of(std::string(40, 'x')).value().side > 21);
    }

    TEST_CASE("the three finders stand in their corners") {
        const auto square = qr_of("A7").value();
        for (const auto& [column, row] : {std::pair{0, 0}, {14, 0}, {0, 14}}) {
            CHECK(square.is_dark(column, row));
            CHECK_FALSE(square.is_dark(column + 1, row + 1));
            CHECK(square.is_dark(column + 3, row + 3));
        }
    }

    TEST_CASE("what no QR code holds is refused") {
        CHECK_FALSE(qr_of("").has_value());
        CHECK_FALSE(qr_of(std::string(201, 'x')).has_value());
    }
}
