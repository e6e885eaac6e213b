#include "app/salvage.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/built_in_library.h"
#include "app/staged_copy.h"
#include "base/text.h"
#include "store/class_repository.h"
#include "store/salvage.h"

namespace coilbook::app {
namespace {

// A line for each of the first ten, and how many there are in all.
template <class Each, class Line>
std::string first_ones(const std::vector<Each>& all, const char* what, Line line) {
    constexpr std::size_t most = 10;
    std::string text;
    for (std::size_t at = 0; at < all.size() && at < most; ++at) text += line(all[at]) + "\n";
    if (all.size() > most) {
        text += fmt::format(
            "and so on: {} {} in all; the last act of 'coilbook history --format "
            "json' has what was settled\n",
            all.size(), what);
    }
    return text;
}

store::ActNote note_of(const Surroundings& surroundings, const char* what) {
    return {Id<store::Act>::make(surroundings.now(), surroundings.random()),
            surroundings.now(),
            surroundings.who,
            surroundings.program,
            what,
            "",
            surroundings.laptop};
}

// Gives how many classes were missing in what was salvaged.
int put_classes_back(const std::filesystem::path& salvaged, const Surroundings& surroundings) {
    auto catalogue = store::Catalogue::open(salvaged);
    const auto is_known = [&](const ReferenceClass& each) {
        return catalogue.classes().is_known(each.name);
    };
    if (std::ranges::all_of(built_in_library(), is_known)) return 0;
    int put_back = 0;
    catalogue.act(note_of(surroundings, "put back classes of the built-in library"),
                  [&](store::Act& act) {
                      put_back = catalogue.classes().put_missing(act, built_in_library());
                  });
    return put_back;
}

// A file that goes by another name until it is whole: one that was cut short is never taken for it.
class UnderWay {
  public:
    explicit UnderWay(std::filesystem::path out) : out_(std::move(out)), file_(out_) {
        file_ += ".salvaging";
        check_is_free();
        remove_catalogue(file_);  // what another one left
    }
    ~UnderWay() { remove_catalogue(file_); }
    UnderWay(const UnderWay&) = delete;
    UnderWay& operator=(const UnderWay&) = delete;

    [[nodiscard]] const std::filesystem::path& file() const { return file_; }
    void is_whole() const {
        check_is_free();
        std::filesystem::rename(file_, out_);
    }

  private:
    // A log of before that lies beside a new file would be taken for its own.
    void check_is_free() const {
        for (const auto* ending : catalogue_endings) {
            const auto there = out_.string() + ending;
            std::error_code none;
            if (!std::filesystem::exists(std::filesystem::symlink_status(there, none))) continue;
            throw Error(coilbook::quoted(there, 300) +
                        " exists already; move it away, or choose another name");
        }
    }
    std::filesystem::path out_, file_;
};

}  // namespace

SalvageOutcome salvage(const std::filesystem::path& damaged, const std::filesystem::path& out,
                       const Surroundings& surroundings, std::ostream& results, Format format,
                       std::size_t terminal_width) {
    const auto note = note_of(surroundings, "salvage what could be read of a damaged catalogue");
    const UnderWay under_way(out);
    const auto salvaged = store::salvage(damaged, under_way.file(), note);
    const int put_back = put_classes_back(under_way.file(), surroundings);
    under_way.is_whole();
    RowWriter writer(results,
                     {{"table"},
                      {"rows", true, 12},
                      {"refused", true, 12},
                      {"dangling", true, 12},
                      {"gaps", true, 12}},
                     format, terminal_width);
    for (const auto& table : salvaged.tables) {
        writer.add({table.table, table.rows, table.refused, table.dangling, table.gaps});
    }
    std::string note_below = first_ones(salvaged.broken, "acts", [](const auto& broken) {
        return fmt::format("act {}: {}", broken.act, broken.what_is_wrong);
    });
    note_below += first_ones(salvaged.settled, "differences of rows and history",
                             [](const auto& settled) { return settled; });
    if (salvaged.lost_pictures > 0) {
        note_below += fmt::format(
            "Pictures that are damaged or lost: {}; 'coilbook check' names their photographs.\n",
            salvaged.lost_pictures);
    }
    if (salvaged.list_was_lost) note_below += "The list of tables was lost and is made anew.\n";
    if (put_back > 0) {
        note_below += fmt::format(
            "{} of the built-in library's {} classes were missing and are put back as they came "
            "with the program.\n",
            put_back, built_in_library().size());
    }
    note_below += salvaged.is_whole() ? "Nothing was lost." : "Some of it was lost, as told above.";
    writer.finish(note_below);
    return {salvaged.is_whole(), put_back};
}

}  // namespace coilbook::app
