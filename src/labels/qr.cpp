#include "labels/qr.h"

#include <qrencode.h>

#include <algorithm>
#include <array>
#include <memory>

#include "base/error.h"

namespace coilbook::labels {
namespace {

struct Freed {
    void operator()(QRcode* code) const { QRcode_free(code); }
};
using Encoded = std::unique_ptr<QRcode, Freed>;

bool is_ascii(const std::string& text) {
    return std::ranges::all_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

struct FreedInput {
    void operator()(QRinput* input) const { QRinput_free(input); }
};

// Without the mark that says so, readers guess in which encoding bytes above 127 are.
Encoded encoded_as_utf8(const std::string& text, QRecLevel level) {
    constexpr unsigned utf8 =
        26;  // its number as an extended channel; source: AIM ECI (from memory)
    const std::unique_ptr<QRinput, FreedInput> input(QRinput_new2(0, level));
    const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());
    if (!input || QRinput_appendECIheader(input.get(), utf8) != 0 ||
        QRinput_append(input.get(), QR_MODE_8, static_cast<int>(text.size()), bytes) != 0) {
        return nullptr;
    }
    return Encoded(QRcode_encodeInput(input.get()));
}

Encoded encoded(const std::string& text, QRecLevel level) {
    if (!is_ascii(text)) return encoded_as_utf8(text, level);
    // Version 0: the smallest; 8-bit mode, but digits and capitals are packed where that is
    // shorter.
    return Encoded(QRcode_encodeString(text.c_str(), 0, level, QR_MODE_8, 1));
}

}  // namespace

Result<QrSquare> qr_of(const std::string& text) {
    if (text.empty() || text.size() > 200) {
        return problem("code", "a QR code cannot hold a text of this length", "1 to 200 bytes");
    }
    auto best = encoded(text, QR_ECLEVEL_L);
    if (!best) throw Error("making a QR code: out of memory");
    for (const auto level : std::array{QR_ECLEVEL_M, QR_ECLEVEL_Q, QR_ECLEVEL_H}) {
        auto stronger = encoded(text, level);
        if (stronger && stronger->version == best->version) best = std::move(stronger);
    }
    QrSquare square{best->width, {}};
    const auto modules =
        static_cast<std::size_t>(best->width) * static_cast<std::size_t>(best->width);
    square.dark.reserve(modules);
    // The lowest bit of each byte is 1 for a dark module.
    for (std::size_t at = 0; at < modules; ++at) square.dark.push_back((best->data[at] & 1) != 0);
    return square;
}

}  // namespace coilbook::labels
