#include <csetjmp>
#include <cstdio>  // jpeglib.h needs it before it

#include <jpeglib.h>

#include <jerror.h>

#include <algorithm>
#include <cstring>

#include "pictures/decoders.h"

namespace coilbook::pictures {
namespace {

// A picture that comes in many passes over all of it can keep a machine busy for minutes; cameras
// use about ten. The libjpeg-turbo project advises to stop at some such number.
constexpr int most_passes = 100;

// libjpeg reports an error by a call that must not return.
struct Trouble {
    jpeg_error_mgr manager;  // first: the library knows this part
    std::jmp_buf way_out;
    char words[JMSG_LENGTH_MAX];
    bool ended_early;
};

[[noreturn]] void stop(j_common_ptr info) {
    auto* trouble = reinterpret_cast<Trouble*>(info->err);
    (*info->err->format_message)(info, trouble->words);
    std::longjmp(trouble->way_out, 1);
}

void note_warning(j_common_ptr info, int level) {
    if (level >= 0) return;  // chatter
    auto* trouble = reinterpret_cast<Trouble*>(info->err);
    if (info->err->msg_code == JWRN_JPEG_EOF) trouble->ended_early = true;
}

void count_passes(j_common_ptr info) {
    if (!info->is_decompressor) return;
    if (reinterpret_cast<j_decompress_ptr>(info)->input_scan_number <= most_passes) return;
    auto* trouble = reinterpret_cast<Trouble*>(info->err);
    std::strcpy(trouble->words, "it comes in too many passes");
    std::longjmp(trouble->way_out, 1);
}

struct Session {
    jpeg_decompress_struct info{};
    jpeg_progress_mgr progress{};
    Trouble trouble{};

    Session() {
        info.err = jpeg_std_error(&trouble.manager);
        trouble.manager.error_exit = stop;
        trouble.manager.emit_message = note_warning;
        progress.progress_monitor = count_passes;
    }
    ~Session() { jpeg_destroy_decompress(&info); }
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;

    void begin(std::string_view bytes) {
        jpeg_create_decompress(&info);
        info.progress = &progress;
        jpeg_mem_src(&info, reinterpret_cast<const unsigned char*>(bytes.data()),
                     static_cast<unsigned long>(bytes.size()));
        jpeg_read_header(&info, TRUE);
    }
};

// Does `work`, and gives false where the library jumped out of it. Everything that `work` changes
// belongs to the caller, so that the jump leaves it as it was last seen in memory; and no function
// of `work` has something to tear down.
template <class Work>
bool without_trouble(Session& session, const Work& work) {
    if (setjmp(session.trouble.way_out) != 0) return false;
    work();
    return true;
}

}  // namespace

Decoded jpeg_head(std::string_view bytes) {
    Session session;
    const bool done = without_trouble(session, [&] { session.begin(bytes); });
    if (!done) return {{}, session.trouble.words};
    return {{static_cast<int>(session.info.image_width),
             static_cast<int>(session.info.image_height),
             {}},
            {}};
}

Decoded jpeg_pixels(std::string_view bytes, int longest) {
    Session session;
    auto& info = session.info;
    Decoded decoded;
    const bool has_begun = without_trouble(session, [&] {
        session.begin(bytes);
        info.out_color_space = JCS_EXT_RGBA;
        const unsigned side = std::max(info.image_width, info.image_height);
        info.scale_num = 1;
        info.scale_denom = 1;
        while (info.scale_denom < 8 &&
               side / (2 * info.scale_denom) >= static_cast<unsigned>(longest)) {
            info.scale_denom *= 2;
        }
        jpeg_start_decompress(&info);
    });
    if (!has_begun) return {{}, session.trouble.words};
    decoded.picture.width = static_cast<int>(info.output_width);
    decoded.picture.height = static_cast<int>(info.output_height);
    const std::size_t row_size = 4 * static_cast<std::size_t>(info.output_width);
    decoded.picture.rgba.resize(row_size * info.output_height);
    JSAMPLE* const pixels = decoded.picture.rgba.data();
    const bool is_read = without_trouble(session, [&] {
        while (info.output_scanline < info.output_height) {
            JSAMPROW row = pixels + row_size * info.output_scanline;
            jpeg_read_scanlines(&info, &row, 1);
        }
        jpeg_finish_decompress(&info);
    });
    if (!is_read) return {{}, session.trouble.words};
    if (session.trouble.ended_early) return {{}, "the file ends too early"};
    return decoded;
}

}  // namespace coilbook::pictures
