#include "app/question.h"

#include <algorithm>
#include <array>
#include <cassert>

#include "store/setting_repository.h"

namespace coilbook::app {
namespace {

constexpr std::string_view answer_setting = "question";
constexpr std::string_view like_setting = "question.like";
constexpr std::string_view order_setting = "question.first";
constexpr std::string_view quickest = "quickest";

void put(Workshop& workshop, store::Act& act, std::string_view name, std::string_view value) {
    const auto done = workshop.catalogue().settings().put(act, name, value);
    if (!done) throw Error(to_line(done.error()));
}

}  // namespace

std::string_view name_of(Answer answer) {
    switch (answer) {
        case Answer::line:
            return "which line";
        case Answer::grain_class:
            return "grain class";
        case Answer::density_grade:
            return "density grade";
        case Answer::fishes_like:
            return "fishes like";
    }
    return "?";
}

Question question_of(Workshop& workshop) {
    const auto settings = workshop.catalogue().settings().all();
    const auto value_of = [&](std::string_view name) {
        const auto found = settings.find(std::string(name));
        return found == settings.end() ? std::string() : found->second;
    };
    Question question;
    question.by_time = value_of(order_setting) == quickest;
    const std::string asked = value_of(answer_setting);
    for (const Answer answer : {Answer::line, Answer::grain_class, Answer::density_grade}) {
        if (asked == name_of(answer)) question.answer = answer;
    }
    if (asked != name_of(Answer::fishes_like)) return question;
    const ReferenceLibrary& library = workshop.library();
    const auto like = std::ranges::find(library, value_of(like_setting), &ReferenceClass::name);
    if (like == library.end()) return question;
    question.answer = Answer::fishes_like;
    question.like = static_cast<std::size_t>(like - library.begin());
    return question;
}

void ask(Workshop& workshop, const Question& question) {
    if (question == question_of(workshop)) return;
    const bool is_like = question.answer == Answer::fishes_like;
    assert((!is_like || (question.like && *question.like < workshop.library().size())) &&
           "what it fishes like is a class of the library");
    workshop.catalogue().act(workshop.note("ask another question"), [&](store::Act& act) {
        put(workshop, act, answer_setting, name_of(question.answer));
        put(workshop, act, order_setting, question.by_time ? quickest : "most telling");
        if (is_like) {
            put(workshop, act, like_setting, workshop.library()[*question.like].name);
        } else {
            workshop.catalogue().settings().clear(act, like_setting);
        }
    });
}

}  // namespace coilbook::app
