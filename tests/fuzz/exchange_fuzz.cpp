// Whatever an exchange file holds, it is taken in whole or refused, and the catalogue stays sound.
//
// Chance would never write a seal; so most files are refused, and those are to leave nothing. A
// file that is as it was written but for its digest is given the right one, so that chance gets
// past it.
#include <cstdint>
#include <sstream>
#include <string>

#include "app/act_file.h"
#include "base/error.h"
#include "db/digest.h"
#include "fuzz/claim.h"
#include "store/catalogue.h"
#include "store/coil_repository.h"
#include "store/history_repository.h"
#include "store/merging.h"

using namespace coilbook;

namespace {

std::string with_its_digest(std::string text) {
    const auto last = text.rfind("{\"end\"");
    if (last == std::string::npos || (last > 0 && text[last - 1] != '\n')) return text;
    text.resize(last);
    db::Digest digest;
    digest.add_raw(text);
    return text + "{\"end\":\"" + digest.finish() + "\"}\n";
}

store::Catalogue& catalogue() {
    static auto made = store::Catalogue::in_memory();
    return made;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::istringstream in(with_its_digest({reinterpret_cast<const char*>(data), size}));
    app::ActFile acts(in, "file");
    try {
        const auto merged = store::merge(catalogue(), acts, {.is_dry_run = true});
        if (!merged) claim(!merged.error().sentence.empty(), "a file that is refused says why");
    } catch (const Error& error) {
        claim(*error.what() != 0, "a file that fails says why");
    }
    claim(catalogue().history().list().empty(), "nothing stays of a dry run");
    return 0;
}
