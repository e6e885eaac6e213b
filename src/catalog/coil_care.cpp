#include "catalog/coil_care.h"

#include <algorithm>
#include <vector>

#include "base/text.h"

namespace coilbook {

std::string_view name_of(Wear wear) {
    switch (wear) {
        case Wear::cracked_coating:
            return "cracked coating";
        case Wear::hinge:
            return "hinge";
        case Wear::kink:
            return "kink";
        case Wear::worn_loop:
            return "worn loop";
        case Wear::worn_through:
            return "worn through";
        case Wear::other:
            return "other";
    }
    return "";
}

Result<Wear> wear_from(std::string_view name) {
    const auto wanted = lower_ascii(trimmed(name));
    std::vector<std::string> names;
    for (const Wear wear : all_wears) {
        if (name_of(wear) == wanted) return wear;
        names.emplace_back(name_of(wear));
    }
    return problem("condition", quoted(name) + " is no condition that is kept",
                   "one of " + listed(names));
}

std::string_view name_of(PictureFormat format) {
    return format == PictureFormat::png ? "png" : "jpeg";
}

Result<PictureFormat> picture_format_from(std::string_view name) {
    for (const auto format : {PictureFormat::png, PictureFormat::jpeg}) {
        if (name_of(format) == name) return format;
    }
    return problem("format", quoted(name) + " is no kind of picture that is kept", "png or jpeg");
}

}  // namespace coilbook
