#include "app/prune.h"

#include "app/backups.h"
#include "base/error.h"

namespace coilbook::app {

Instant usual_pruning_moment(const Workshop& workshop) {
    return workshop.surroundings().now() - std::chrono::days{365};
}

Result<Pruned> prune(Workshop& workshop, Instant before,
                     const std::function<bool(const store::Prunable&)>& agrees) {
    auto& catalogue = workshop.catalogue();
    if (before > workshop.surroundings().now()) {
        return problem("--before", "that day is still to come", "a day that is over");
    }
    if (!catalogue.why_read_only().empty()) throw Error(catalogue.why_read_only());
    Pruned pruned{store::prunable(catalogue, before), {}};
    if (pruned.what.is_empty()) return pruned;
    if (!agrees(pruned.what)) {
        return problem("", "nothing is deleted", "a yes");
    }
    pruned.backup = back_up_before(workshop, "prune");
    pruned.what = store::prune(catalogue, before, workshop.note("prune"));
    workshop.refresh();
    if (!catalogue.file().empty()) catalogue.wipe_deleted();
    return pruned;
}

}  // namespace coilbook::app
