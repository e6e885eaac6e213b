#include "bench/pages/stock/stock_desk.h"

#include "bench/number_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

#include "app/day.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/saved_picture.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::stock_page {
namespace {

std::string count_text(int count) {
    return count == 0 ? "" : std::to_string(count);
}

}  // namespace

void Desk::read() {
    const Day now = app::today(workshop());
    if (form_.first.empty()) {  // this year
        const auto year = std::chrono::year_month_day(now).year();
        form_.first = day_text(Day(year / std::chrono::January / 1));
        form_.last = day_text(Day(year / std::chrono::December / 31));
    }
    losses_of_.clear();
    rows_ = app::stock_of(workshop(), inventory(), now);
    if (std::ranges::find(rows_, form_.row, &app::StockRow::class_name) == rows_.end()) {
        form_.row = rows_.empty() ? std::string() : rows_.front().class_name;
    }
    answer();
    is_stale_ = true;
}

void Desk::answer() {
    answer_.clear();
    code_error_.clear();
    record_.clear();
    asked_coil_.reset();
    if (form_.asked_of.empty()) return;
    const auto sentence = app::where_is(inventory(), form_.asked_of);
    const auto thing = inventory().thing_called(form_.asked_of);
    if (!sentence || !thing) {
        code_error_ = said_here(sentence ? thing.error() : sentence.error());
        return;
    }
    answer_ = *sentence;
    if (const auto* coil = std::get_if<Id<Coil>>(&*thing)) asked_coil_ = *coil;
    if (auto lines = app::custody_of(workshop(), inventory(), form_.asked_of)) {
        record_ = std::move(*lines);
    }
    form_.row = inventory().class_of(*thing);
    form_.scrolls = true;
}

app::Season Desk::season() const {
    const auto day = [](const std::string& text) { return day_from(text).value_or(Day{}); };
    return {day(form_.first), day(form_.last)};
}

void Desk::run(const EnterCode& command) {
    form_.asked_of = std::string(trimmed(command.code));
    message_.clear();
    answer();
    if (!code_error_.empty()) return;
    form_.code.clear();
    form_.is_rewritten = true;
}

void Desk::run(const StepRow& command) {
    if (rows_.empty()) return;
    const auto here = std::ranges::find(rows_, form_.row, &app::StockRow::class_name);
    const auto at = here == rows_.end() ? 0 : here - rows_.begin() + command.step;
    const auto next = std::clamp<std::ptrdiff_t>(at, 0, std::ssize(rows_) - 1);
    form_.row = rows_[static_cast<std::size_t>(next)].class_name;
    form_.scrolls = true;
}

void Desk::run(const TakeToTheBench&) {
    trip_ = asked_coil_;
}

void Desk::run(const BeginSeason&) {
    EntryForm entry;
    entry.title = "The season";
    entry.fields = {{.id = "first", .label = "First day", .hint = "", .typed = form_.first},
                    {.id = "last", .label = "Last day", .hint = "", .typed = form_.last}};
    form_.entry = std::move(entry);
    form_.task = Task::losses;
}

void Desk::run(const SaveSeason&) {
    if (!form_.entry) return;
    const auto first = day_from(typed_in(*form_.entry, "first"));
    if (!first) return refuse(*form_.entry, "first", said_here(first.error()));
    const auto last = day_from(typed_in(*form_.entry, "last"));
    if (!last) return refuse(*form_.entry, "last", said_here(last.error()));
    if (*last < *first) return refuse(*form_.entry, "last", "It is before the first day");
    form_.first = day_text(*first);
    form_.last = day_text(*last);
    form_.entry.reset();
    form_.frames_to_focus = frames_to_take_focus;
}

void Desk::run(const SaveLosses&) {
    read_losses();
    message_ =
        save_picture(workshop(), "losses", "losses",
                     [&](const auto& file, PictureKind kind) { write_plot(losses_, file, kind); });
    message_ += ", the rows: " + app::save_losses(workshop(), season()).filename().string();
}

void Desk::read_losses() {
    const auto asked = form_.first + form_.last + (form_.by_boat ? "by boat" : "by class");
    if (losses_of_ == asked) return;
    losses_of_ = asked;
    losses_ = {};
    replace_.clear();
    const auto plot = app::losses_plot(workshop(), inventory(), season(), form_.by_boat);
    losses_.title = plot.title;
    losses_.kinds = plot.kinds;
    losses_.empty = "Nothing was lost, damaged or retired in these days.";
    for (const auto& row : plot.rows) losses_.rows.push_back({row.name, row.counts});
    for (const auto& each : app::replacements(workshop(), inventory(), season())) {
        replace_.push_back(
            fmt::format("{}: {} gone, {} left", each.class_name, each.gone, each.left));
    }
}

void Desk::show_losses(View& view) {
    read_losses();
    view.title = form_.by_boat ? "Gone, by boat" : "Gone, by class";
    view.aside = form_.first + " to " + form_.last + ", without what was found again";
    view.nothing = losses_.empty;
    view.losses = losses_;
    view.losses.title.clear();  // it stands above already
    view.replace = replace_;
}

View Desk::made_view() {
    View view;
    view.failure = failure_;
    view.message = message_;
    view.task = form_.task;
    constexpr std::array in_order{Number::in_the_bin, Number::with_boats, Number::lent,
                                  Number::damaged,    Number::lost,       Number::in_all,
                                  Number::promised,   Number::missing};
    static_assert(in_order.size() == heads.size());
    for (std::size_t at = 0; at < heads.size(); ++at) {
        view.head_help[at] = help_on(in_order[at], units());
    }
    view.loss_help = help_on(Number::losses, units());
    view.code_error = code_error_;
    view.answer = answer_;
    view.may_go_to_bench = asked_coil_.has_value();
    for (const auto& line : record_) {
        auto note = line.by;
        if (!line.note.empty()) note += (note.empty() ? "" : ": ") + line.note;
        view.record.push_back({app::minute_of(line.at), line.place, note});
    }
    if (form_.task == Task::losses) {
        show_losses(view);
        return view;
    }
    int all = 0, out = 0, missing = 0;
    for (auto row : rows_) {
        StockRowView shown;
        shown.class_name = row.class_name;
        const std::array counts{row.counts[Whereabouts::bin],
                                row.counts[Whereabouts::boat],
                                row.counts[Whereabouts::lent],
                                row.counts[Whereabouts::damaged],
                                row.counts[Whereabouts::lost],
                                row.total,
                                row.promised,
                                row.missing};
        for (std::size_t at = 0; at < counts.size(); ++at)
            shown.counts[at] = count_text(counts[at]);
        shown.is_missing = row.missing > 0;
        shown.is_at = row.class_name == form_.row;
        all += row.total;
        out += row.counts[Whereabouts::boat];
        missing += row.missing;
        view.rows.push_back(std::move(shown));
    }
    view.title = "What there is, and where";
    view.aside = fmt::format("{} things, {} with boats", all, out);
    if (missing > 0) view.aside += fmt::format(", {} missing for a coming day", missing);
    view.nothing = "The catalogue is empty. Coils are added at the bench (Alt 1), rigs with Alt 5.";
    view.class_title = form_.row;
    for (const auto& thing : app::things_of(inventory(), form_.row)) {
        view.things.emplace_back(inventory().code_of(thing),
                                 inventory().words_for(inventory().custody().place_of(thing)));
    }
    return view;
}

}  // namespace coilbook::bench::stock_page
