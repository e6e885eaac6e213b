// The page of the bin in words: how its desk makes the view.
#include <fmt/format.h>

#include <algorithm>

#include "app/verdict_rows.h"
#include "base/text.h"
#include "bench/number_words.h"
#include "bench/pages/bin/bin_desk.h"
#include "bench/words.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::bin_page {
namespace {

template <class Q>
std::string words_of(const std::optional<Measured<Q>>& fact, NamedUnit<Q> unit) {
    if (!fact) return {};
    return number_with_uncertainty(fact->value, fact->uncertainty, unit);
}

// "1 min 10 s", "35 min", "2 h 5 min".
std::string in_words(Duration time) {
    const auto seconds = static_cast<long>(time.in(second) + 0.5);
    if (seconds < 60) return fmt::format("{} s", seconds);
    if (seconds < 600) return fmt::format("{} min {} s", seconds / 60, seconds % 60);
    const long minutes = (seconds + 30) / 60;
    if (minutes < 60) return fmt::format("{} min", minutes);
    return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

std::array<std::string, columns> heads_in(const Units& units) {
    return {"Code",
            "State",
            "What it is",
            std::string(units.weight_per_length.name),
            fmt::format("Diameter, {}", units.diameter.name),
            fmt::format("Density, {}", units.density.name),
            fmt::format("Sinks, {}", units.sink_rate.name),
            "Read next",
            "Group",
            "Notes"};
}

std::array<std::string, columns> help_on_heads(const Units& units) {
    std::array<std::string, columns> help;
    const auto on = [&](SortBy column, Number number) {
        help[static_cast<std::size_t>(column)] = help_on(number, units);
    };
    on(SortBy::what, Number::certainty);
    on(SortBy::weight, Number::weight_per_length);
    on(SortBy::diameter, Number::diameter);
    on(SortBy::density, Number::density);
    on(SortBy::rate, Number::sink_rate);
    on(SortBy::group, Number::group);
    return help;
}

std::string range_words(const Wanted& wanted, const Units& units) {
    const auto unit = units.weight_per_length;
    if (wanted.from && wanted.to) {
        return fmt::format("from {} to {}", number_in(*wanted.from, unit, 4),
                           in_unit(*wanted.to, unit, 4));
    }
    if (wanted.from) return in_unit(*wanted.from, unit, 4) + " or more";
    if (wanted.to) return in_unit(*wanted.to, unit, 4) + " or less";
    return {};
}

}  // namespace

RowView Desk::row_view(std::size_t row) const {
    const BinLine& line = lines()[rows_[row]];
    const auto& summary = line.summary;
    RowView view{.coil = line.coil, .code = line.code, .notes = line.notes};
    view.is_ticked = form_.ticked.contains(line.coil);
    view.is_at = form_.at == line.coil;
    if (line.group != 0) view.group = fmt::format("{}: {}", line.group, coils(line.group_size));
    if (!line.is_known) return view;
    const Units& units = shared_.units();
    view.state = state_sign(summary.state);
    view.what = summary.label.name;
    view.sure = summary.label.amount;
    view.weight = words_of<LinearDensity>(summary.facts.linear_density, units.weight_per_length);
    view.diameter = words_of<Length>(summary.facts.diameter, units.diameter);
    view.density = words_of<Density>(summary.facts.density, units.density);
    view.rate = words_of<Speed>(summary.facts.sink_rate, units.sink_rate);
    if (!view.weight.empty()) {
        view.gist = fmt::format("{} {}", view.weight, units.weight_per_length.name);
    }
    if (summary.facts.sink_rate && summary.facts.sink_rate->value >= Speed{}) {
        view.gist += fmt::format("{}sinks {} {}", view.gist.empty() ? "" : ", ", view.rate,
                                 units.sink_rate.name);
    }
    if (summary.next_reading) view.next = spoken(*summary.next_reading);
    return view;
}

std::vector<StateCount> Desk::state_counts(const std::vector<std::size_t>& counts) const {
    const double all = std::max<double>(1.0, static_cast<double>(lines().size()));
    std::vector<StateCount> views;
    const std::string help = help_on(Number::coils_in_state, shared_.units());
    views.push_back({{},
                     {Mark::disc, Tone::normal, "all"},
                     std::to_string(lines().size()),
                     1.0,
                     !form_.state,
                     help});
    for (std::size_t at = 0; at < counts.size(); ++at) {
        const auto state = static_cast<app::CoilState>(at);
        views.push_back({state, state_sign(state), std::to_string(counts[at]),
                         static_cast<double>(counts[at]) / all, form_.state == state, help});
    }
    return views;
}

std::string Desk::pace_words(std::size_t left) const {
    if (lines().empty()) return {};
    if (left == 0) return "Every coil is confirmed.";
    if (!pace_)
        return fmt::format("{} left. After a few more the time for them is told here.",
                           coils(left));
    return fmt::format("{} left. At your pace of {} a coil that is about {}.", coils(left),
                       in_words(*pace_), in_words(static_cast<double>(left) * *pace_));
}

std::optional<GroupView> Desk::group_view(const BinLine* line) const {
    if (line == nullptr || !groups_ || line->group == 0) return std::nullopt;
    const auto& each = (*groups_)[line->group - 1];
    const auto& codes = each.group.codes;
    const Units& units = shared_.units();
    GroupView view;
    view.headline = fmt::format("These {} are one line", coils(codes.size()));
    constexpr std::size_t most = 30;
    std::vector<std::string> named(
        codes.begin(), codes.begin() + static_cast<std::ptrdiff_t>(std::min(codes.size(), most)));
    if (codes.size() > most) named.push_back(fmt::format("{} more", codes.size() - most));
    view.codes = listed(named);
    if (each.grains_per_foot) {
        view.line = in_unit_with_uncertainty(each.grains_per_foot->value * grain_per_foot,
                                             each.grains_per_foot->uncertainty * grain_per_foot,
                                             units.weight_per_length);
    }
    if (each.density) {
        view.line +=
            ", " + in_unit_with_uncertainty(each.density->value * gram_per_cubic_centimetre,
                                            each.density->uncertainty * gram_per_cubic_centimetre,
                                            units.density);
    }
    view.what_it_is = app::what_it_is(each, shared_.bin().library());
    const auto place = std::ranges::find(codes, line->code);
    if (place != codes.end()) {
        const auto at = static_cast<std::size_t>(place - codes.begin());
        view.certainty = fmt::format("{} belongs there: {}", line->code,
                                     app::percent(each.group.probabilities[at]));
    }
    view.certainty_help = help_on(Number::belongs_to_group, units);
    view.asks_for_a_name = each.asks_for_a_name();
    return view;
}

void Desk::show_handing(View& view) const {
    constexpr std::size_t most = 5;
    const auto codes = codes_meant();
    view.hand_title =
        fmt::format("{} to which boat, or into which rig's wallet?",
                    codes.size() == 1 ? codes.front() + " goes" : coils(codes.size()) + " go");
    auto places = places_like(form_.hand_to);
    if (places.empty()) places = places_like("");  // what there is instead
    for (std::size_t at = 0; at < std::min(places.size(), most); ++at) {
        view.hand_choices.push_back(places[at].words);
    }
    if (hand_places_.empty()) {
        view.hand_note =
            "There is no boat and no rig yet: make one on Day (Alt 6, F9) or Rigs (Alt 5).";
    } else if (places.size() > most) {
        view.hand_note =
            fmt::format("and {} more: type some letters. Esc leaves it.", places.size() - most);
    } else {
        view.hand_note = "All of them go, or none. Esc leaves it, Ctrl Z takes it back.";
    }
    if (hand_problem_) view.hand_error = bench::words_of(*hand_problem_);
}

View Desk::made_view() {
    find_rows();
    View view;
    view.count = rows_.size();
    view.row = [this](std::size_t row) { return row_view(row); };
    view.at = row_at();
    view.order = form_.order;
    view.summary = rows_.size() == lines().size()
                       ? coils(lines().size())
                       : fmt::format("{} of {}", rows_.size(), coils(lines().size()));
    if (lines().empty()) {
        view.nothing =
            "The bin is empty. Scan or type a coil's code at the bench (Alt 1), or drop a readings "
            "file on the window.";
    } else if (rows_.empty()) {
        view.nothing = "No coil fits what is looked for. Esc shows all of them.";
    }
    view.range_note = range_words(rows_wanted_, shared_.units());
    view.range_label =
        shared_.units().of("Look for: words, or a range of weight per foot such as 10..12",
                           "Look for: words, or a range of weight per metre such as 2..2.5");
    view.heads = heads_in(shared_.units());
    view.head_help = help_on_heads(shared_.units());
    view.pace_help = help_on(Number::pace, shared_.units());
    const auto counts = counted(lines());
    view.states = state_counts(counts);
    view.pace =
        pace_words(lines().size() - counts[static_cast<std::size_t>(app::CoilState::confirmed)]);
    if (!form_.ticked.empty()) view.summary += fmt::format(", {} ticked", form_.ticked.size());
    const auto ready = to_be_confirmed();
    view.may_confirm = !ready.empty();
    if (ready.empty()) {
        view.confirm_label =
            form_.ticked.empty() ? "Not ready to confirm" : "None of them is ready";
    } else if (ready.size() == 1) {
        view.confirm_label = fmt::format("Confirm {} as {}", lines()[ready[0]].code,
                                         lines()[ready[0]].summary.label.name);
    } else {
        view.confirm_label = fmt::format("Confirm {} that are ready", coils(ready.size()));
    }
    view.is_grouping = is_grouping();
    view.is_grouped = groups_.has_value();
    view.group = group_view(view.at ? &lines()[rows_[*view.at]] : nullptr);
    if (name_problem_) view.name_error = name_problem_->sentence;
    if (form_.is_handing) show_handing(view);
    view.failure = failure_;
    view.message = message_;
    return view;
}

}  // namespace coilbook::bench::bin_page
