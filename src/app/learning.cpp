#include "app/learning.h"

#include <algorithm>
#include <cmath>

#include "app/workshop.h"
#include "quantity/print.h"
#include "store/class_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"

namespace coilbook::app {
namespace {

// "1 in 4000": rounded to one figure, since no tail is known better, and far out not even that.
std::string one_in(double chance) {
    if (!(chance > 1e-6)) return "less than 1 in a million";
    return "1 in " + significant(1.0 / chance, 1);
}

std::vector<Column> doubtful_columns() {
    return {{"code"}, {"confirmed_class"}, {"chance", true, 1}, {"better_class"}};
}

std::vector<Column> doubtful_summary_columns() {
    return {{"code"}, {"confirmed as"}, {"a right one lies so far out"}, {"fits better"}};
}

}  // namespace

LearnedLibrary learned_library(store::Catalogue& catalogue, const Instruments& instruments) {
    std::vector<ConfirmedAs> coils;
    for (const auto& confirmation : catalogue.confirmations().current()) {
        const auto evidence =
            evidence_of(catalogue.readings().readings_of(confirmation.coil), instruments);
        if (!evidence) continue;
        coils.push_back(
            {confirmation.coil.text(), *confirmation.class_name, information_of(*evidence)});
    }
    return learn_library(catalogue.classes().library(), coils);
}

std::vector<ClassListing> listings_of(const LearnedLibrary& learned) {
    std::vector<ClassListing> listings;
    for (std::size_t k = 0; k < learned.library.size(); ++k) {
        const auto& about = learned.classes[k];
        listings.push_back(
            {learned.library[k], about.before, static_cast<int>(about.set_aside.size())});
    }
    return listings;
}

void list_doubtful(Workshop& workshop, std::ostream& out, Format format,
                   std::size_t terminal_width) {
    const bool is_for_people = format == Format::table;
    RowWriter writer(out, is_for_people ? doubtful_summary_columns() : doubtful_columns(), format,
                     terminal_width);
    const auto& doubtful = workshop.learned().doubtful;
    for (const auto& each : doubtful) {
        const auto id = Id<Coil>::from_text(each.key).value();
        const auto coil = workshop.catalogue().coils().by_id(id);
        const auto chance =
            is_for_people ? Cell{one_in(each.chance)} : cell_of(std::optional(each.chance));
        writer.add({coil ? coil->code : each.key, each.class_name, chance,
                    cell_of(each.better_class.value_or(""))});
    }
    writer.finish(
        "Nothing is learned from these. Look at them again: read them anew, or take back\n"
        "what was said with 'coilbook coils take-back'.");
}

std::string doubt_about(const Workshop& workshop, const Id<Coil>& coil) {
    const auto& doubtful = workshop.learned().doubtful;
    const auto found = std::ranges::find(doubtful, coil.text(), &DoubtfulCoil::key);
    if (found == doubtful.end()) return "";
    std::string sentence = "It does not look like the other coils confirmed as " +
                           found->class_name + " (" + one_in(found->chance) +
                           " would lie so far out), so nothing is learned from it";
    if (found->better_class) sentence += "; it fits " + *found->better_class + " better";
    return sentence + ".";
}

}  // namespace coilbook::app
