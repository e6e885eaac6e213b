// Whatever a table of records holds comes out as rows of plain text or as Problems.
#include <cstdint>
#include <sstream>
#include <string>

#include "base/text.h"
#include "exchange/records.h"
#include "fuzz/claim.h"

using namespace coilbook;
using namespace coilbook::exchange;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    claim(unguarded(guarded(bytes)) == bytes, "a guarded text comes back");
    std::istringstream stream(bytes);
    const auto whole = read_records(
        stream, "file", [](const RecordsHead&) -> Result<void> { return {}; },
        [](const Result<Record>& record) {
            if (!record) {
                claim(!record.error().sentence.empty(), "a bad row says why");
                return;
            }
            for (const auto& cell : record->cells) {
                claim(is_plain_text(cell.name), "a column's name is plain text");
                claim(!cell.text || (is_plain_text(*cell.text) && !cell.text->empty()),
                      "a cell is plain text");
            }
        });
    if (!whole) claim(!whole.error().sentence.empty(), "a file that is refused says why");
    return 0;
}
