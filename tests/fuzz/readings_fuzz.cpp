// Whatever a readings file holds comes out as rows or Problems, and what is kept as written says
// its value again.
#include <cstdint>
#include <sstream>
#include <string>

#include "base/text.h"
#include "exchange/bench_tables.h"
#include "exchange/instruments_file.h"
#include "exchange/readings_file.h"
#include "fuzz/claim.h"

using namespace coilbook;
using namespace coilbook::exchange;

namespace {

bool says_again(const RawReading& raw) {
    for (const char mark : {'.', ','}) {
        const auto values = read_values(raw.field, raw.as_written, {mark, {}});
        if (values && values->size() == 1 && values->front() == raw.value) return true;
    }
    return false;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    {
        std::istringstream stream(bytes);
        auto file = ReadingsFile::over(stream, "file");
        while (file) {
            const auto row = file->next();
            if (!row) break;
            if (!*row) {
                claim(!row->error().empty(), "a bad row says why");
                continue;
            }
            claim(is_plain_text((*row)->code) && is_plain_text((*row)->notes), "texts are plain");
            for (const auto& raw : (*row)->raw) {
                claim(says_again(raw) ||
                          raw.as_written.find_first_of("0123456789") == std::string::npos,
                      "the words say the value");
            }
        }
    }
    std::istringstream instruments(bytes);
    (void)read_instruments(instruments, "file");
    std::istringstream checks(bytes);
    (void)read_checks(checks, "file");
    std::istringstream study(bytes);
    (void)read_study(study, "file");
    return 0;
}
