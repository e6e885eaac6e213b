// The page's memory between frames, and the carrying out of its commands on the open catalogue.
#pragma once

#include <chrono>
#include <future>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/named_groups.h"
#include "bench/bin_lines.h"
#include "bench/outbox.h"
#include "bench/pages/bin/bin_form.h"
#include "bench/pages/bin/bin_view.h"
#include "bench/shared_bin.h"

namespace coilbook::bench {
struct WentBack;
}

namespace coilbook::bench::bin_page {

class Desk {
  public:
    // `shared` must outlive the desk. Nothing is read before the page is looked at.
    explicit Desk(SharedBin& shared);

    // What to draw now. Made anew only after something has changed; its rows are put into words
    // when they are asked for, and only as long as the desk is not changed.
    [[nodiscard]] const View& view();
    [[nodiscard]] Form& form() { return form_; }
    [[nodiscard]] Outbox<Command>& outbox() { return outbox_; }

    // Carries out what was posted, in order. Gives whether there was anything.
    bool act();
    // Follows the catalogue, works out what the lines say for about `budget`, and takes in groups
    // that have been found. Gives whether anything changed.
    bool look_round(std::chrono::milliseconds budget);
    [[nodiscard]] bool is_busy() const { return shared_.is_busy() || is_grouping(); }
    void say_failure(const std::string& words);
    // The coil that the person wants to have in hand at the bench; once.
    [[nodiscard]] std::optional<Id<Coil>> take_trip();

    // Ticks, or no longer, what the keyboard is on, or all that is shown.
    void tick_this();
    void tick_all_shown();
    // So many rows down, or up where it is negative.
    void step(std::ptrdiff_t rows);

  private:
    using Groups = std::vector<app::NamedGroup>;

    void run(const TakeToTheBench& command);
    void run(const ConfirmReady& command);
    void run(const HandOut& command);
    void run(const WriteLabels& command);
    void run(const FindGroups& command);
    void run(const NameGroup& command);
    void run(const Undo& command);
    void run(const Redo& command);
    void run(const CloseFailure& command);

    void went_back(const WentBack& done);
    [[nodiscard]] const std::vector<BinLine>& lines() const { return shared_.lines(); }
    void refresh();     // after a change of the catalogue by this page
    void read_lines();  // after any change of it
    void put_groups();
    void find_rows();
    [[nodiscard]] bool is_grouping() const { return finding_groups_.valid(); }
    [[nodiscard]] std::vector<std::size_t> to_be_confirmed() const;  // lines
    // The ticked coils, or the one that the keyboard is on.
    [[nodiscard]] std::vector<std::string> codes_meant() const;
    // Boats and rigs that are called so or, where none is, whose names begin so.
    struct HandPlace {
        std::string name;  // of a boat; of a rig its code
        std::string words;
        bool is_rig = false;
    };
    [[nodiscard]] std::vector<HandPlace> places_like(std::string_view typed) const;
    void read_hand_places();
    void show_handing(View& view) const;
    [[nodiscard]] const BinLine* line_at() const;
    [[nodiscard]] std::optional<std::size_t> row_at() const;
    [[nodiscard]] RowView row_view(std::size_t row) const;
    [[nodiscard]] std::optional<GroupView> group_view(const BinLine* line) const;
    [[nodiscard]] std::vector<StateCount> state_counts(
        const std::vector<std::size_t>& counts) const;
    [[nodiscard]] std::string pace_words(std::size_t left) const;
    [[nodiscard]] View made_view();

    SharedBin& shared_;
    int edition_ = -1;                       // of shared_, that was read; none yet
    int lines_edition_ = -1;                 // of its lines, that rows_ show
    const Units* units_ = &grains_and_feet;  // that the search is typed in
    std::vector<std::size_t> rows_;          // the lines shown, in their order
    Wanted rows_wanted_;                     // what rows_ was found for
    Order rows_order_;
    bool rows_are_stale_ = true;
    std::chrono::steady_clock::time_point rows_found_;
    std::future<Groups> finding_groups_;
    std::optional<Groups> groups_;
    std::optional<Duration> pace_;
    std::optional<Problem> name_problem_, hand_problem_;
    std::vector<HandPlace> hand_places_;  // all there are
    std::string failure_, message_;
    std::optional<Id<Coil>> trip_;
    Form form_;
    Form form_shown_;
    View view_;
    bool is_stale_ = true;
    Outbox<Command> outbox_;
};

}  // namespace coilbook::bench::bin_page
