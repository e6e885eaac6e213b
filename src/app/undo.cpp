#include "app/undo.h"

#include <algorithm>

#include "base/text.h"
#include "store/undoing.h"

namespace coilbook::app {
namespace {

// The id of the act that the person means by `text`.
Result<Id<store::Act>> act_named(Workshop& workshop, std::string_view text) {
    std::string wanted(trimmed(text));
    std::ranges::transform(wanted, wanted.begin(),
                           [](char c) { return 'a' <= c && c <= 'z' ? char(c - 'a' + 'A') : c; });
    std::vector<Id<store::Act>> found;
    for (const auto& entry : workshop.catalogue().history().list()) {
        if (!wanted.empty() && entry.note.id.text().starts_with(wanted)) {
            found.push_back(entry.note.id);
        }
    }
    if (found.size() == 1) return found.front();
    if (found.empty()) {
        return problem("act", "the history has no act " + coilbook::quoted(text),
                       "an id that 'coilbook history' shows");
    }
    return problem("act", coilbook::quoted(text) + " is the beginning of several acts' ids",
                   "more characters of the id");
}

// The first act put the built-in library: without it there is nothing to identify a coil as.
bool is_making(Workshop& workshop, const Id<store::Act>& id) {
    const auto first = workshop.catalogue().history().first();
    if (!first || first->note.id != id) return false;
    const auto changes = workshop.catalogue().history().changes_of(id);
    return std::ranges::all_of(
        changes, [](const store::FieldChange& each) { return each.table == "reference_class"; });
}

}  // namespace

std::optional<store::HistoryEntry> next_undo(Workshop& workshop) {
    auto next = workshop.catalogue().undoing().next_undo();
    if (next && is_making(workshop, next->note.id)) next.reset();
    return next;
}

std::optional<store::HistoryEntry> next_redo(Workshop& workshop) {
    return workshop.catalogue().undoing().next_redo();
}

Result<store::HistoryEntry> undo(Workshop& workshop, std::string_view id, std::string_view why) {
    auto& catalogue = workshop.catalogue();
    std::optional<store::HistoryEntry> wanted;
    if (id.empty()) {
        wanted = next_undo(workshop);
        if (!wanted) return problem("act", "there is nothing to undo", "something done before");
    } else {
        const auto named = act_named(workshop, id);
        if (!named) return tl::unexpected(named.error());
        if (is_making(workshop, *named)) {
            return problem("act", "this act made the catalogue itself", "a later one");
        }
        wanted = catalogue.history().by_id(*named);
    }
    const auto done = catalogue.act(
        workshop.note("undo: " + wanted->note.what, std::string(why)),
        [&](store::Act& act) { return catalogue.undoing().undo(act, wanted->note.id); });
    if (!done) return tl::unexpected(done.error());
    workshop.refresh();
    return *wanted;
}

Result<store::HistoryEntry> redo(Workshop& workshop, std::string_view why) {
    auto& catalogue = workshop.catalogue();
    const auto wanted = next_redo(workshop);
    if (!wanted) {
        return problem("act", "there is nothing to do again", "a redo right after an undo");
    }
    const auto done = catalogue.act(
        workshop.note("redo: " + wanted->note.what, std::string(why)),
        [&](store::Act& act) { return catalogue.undoing().redo(act, wanted->note.id); });
    if (!done) return tl::unexpected(done.error());
    workshop.refresh();
    return *wanted;
}

std::vector<store::HistoryEntry> history(Workshop& workshop, const std::optional<std::string>& code,
                                         int limit) {
    auto& repository = workshop.catalogue().history();
    if (code) return repository.of_code(trimmed(*code), {.limit = limit, .offset = 0});
    return repository.list({.limit = limit, .offset = 0});
}

}  // namespace coilbook::app
