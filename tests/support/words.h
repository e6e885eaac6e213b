// What tests ask of messages: whether they say something, and what an Error said.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <string_view>

#include "base/error.h"

namespace coilbook {

[[nodiscard]] inline bool mentions(const std::string& text, std::string_view words) {
    return text.find(words) != std::string::npos;
}

// Checks it, and shows the text where it does not.
inline void says(const std::string& text, const std::string& words) {
    CHECK_MESSAGE(mentions(text, words), "'" << text << "' should say '" << words << "'");
}

// What an Error thrown by `act` says; "" where none is.
template <class Act>
std::string error_of(Act act) {
    try {
        act();
    } catch (const Error& error) {
        return error.what();
    }
    return "";
}

}  // namespace coilbook
