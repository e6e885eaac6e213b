// What the program takes from the machine: the time, randomness, and who is at the keyboard.
//
// Everything below app is told these, so that tests can tell them too.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "app/progress.h"
#include "base/id.h"
#include "base/instant.h"

namespace coilbook::app {

struct Surroundings {
    std::function<Instant()> now;
    std::function<RandomBytes()> random;
    std::string who;          // the person, as the computer knows them; may be empty
    std::string program;      // "coilbook 0.1.0"
    std::string laptop = {};  // the computer's name; may be empty
    // Told what a person should know though the work goes on; may be empty.
    std::function<void(const std::string&)> warn = {};
    // Of whatever takes its time, for a program that shows it. Never null.
    std::shared_ptr<Progress> progress = std::make_shared<Progress>();
};

// The real ones: the system's clock, its random device, the user's login name.
// `program` is the name of the program, to which the version is added.
[[nodiscard]] Surroundings real_surroundings(std::string_view program);

[[nodiscard]] std::string_view version();  // "0.1.0"

}  // namespace coilbook::app
