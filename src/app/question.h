// What the person wants to know of the coils of a catalogue, as its settings keep it.
//
// A guide who sorts a bin for its grain classes needs other readings than one who wants to know
// each line's name. The answer changes what is advised to be read next, and nothing else. How long
// readings take at the bench (BenchTimes) cannot be set yet.
#pragma once

#include <string>
#include <string_view>

#include "app/workshop.h"
#include "identify/verdict.h"

namespace coilbook::app {

// "which line", "grain class", "density grade", "fishes like": as settings have it.
[[nodiscard]] std::string_view name_of(Answer answer);

// What the catalogue has; which line it is, the most telling reading first, where it has nothing or
// nothing of sense, such as a class that the library has no more. Throws Error if it cannot be
// read.
[[nodiscard]] Question question_of(Workshop& workshop);

// Keeps it in the catalogue, as one act. Asking what is asked already is no act.
// REQUIRES: for fishes_like, `question.like` is a class of the library.
void ask(Workshop& workshop, const Question& question);

}  // namespace coilbook::app
