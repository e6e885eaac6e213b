#include "bench/pages/bench/bench_form.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "bench/widgets/field.h"
#include "quantity/parse.h"

namespace coilbook::bench::bench_page {
namespace {

std::size_t index_of(ReadingField field) {
    return static_cast<std::size_t>(std::ranges::find(all_reading_fields, field) -
                                    all_reading_fields.begin());
}

const ReadingRow* row_of(const View& view, ReadingField field) {
    const auto found = std::ranges::find(view.readings, field, &ReadingRow::field);
    return found == view.readings.end() ? nullptr : &*found;
}

}  // namespace

std::string& Typed::text(ReadingField field) {
    return texts[index_of(field)];
}
const std::string& Typed::text(ReadingField field) const {
    return texts[index_of(field)];
}
std::optional<Problem>& Typed::problem(ReadingField field) {
    return problems[index_of(field)];
}
const std::optional<Problem>& Typed::problem(ReadingField field) const {
    return problems[index_of(field)];
}

std::string& Typed::refused(ReadingField field) {
    return refused_texts[index_of(field)];
}

std::string& FieldUnits::of(ReadingField field) {
    return units_[index_of(field)];
}
const std::string& FieldUnits::of(ReadingField field) const {
    return units_[index_of(field)];
}

std::string without_unit(std::string_view text, std::string_view unit) {
    std::string_view shown = trimmed(text);
    if (!unit.empty() && shown.ends_with(unit)) {
        const auto number = trimmed(shown.substr(0, shown.size() - unit.size()));
        if (parse_number(number)) shown = number;
    }
    return std::string(shown);
}

Typed under_other_units(const Typed& typed, const FieldUnits& before, const FieldUnits& now) {
    Typed kept = typed;
    for (const ReadingField field : all_reading_fields) {
        if (before.of(field) == now.of(field)) continue;
        std::string& text = kept.text(field);
        if (parse_number(trimmed(text))) {
            text = std::string(trimmed(text)) + " " + before.of(field);
        } else {
            text = without_unit(text, now.of(field));
        }
    }
    return kept;
}

std::string& ToolsInUse::code(Tool tool) {
    switch (tool) {
        case Tool::tape:
            return tape;
        case Tool::scale:
            return scale;
        case Tool::micrometer:
            return micrometer;
    }
    return tape;
}

std::string ToolsInUse::for_field(ReadingField field) const {
    switch (field) {
        case ReadingField::sample_length:
        case ReadingField::sink_distance:
        case ReadingField::whole_length:
            return tape;
        case ReadingField::sample_weight:
        case ReadingField::submerged_weight:
        case ReadingField::whole_weight:
            return scale;
        case ReadingField::diameters:
            return micrometer;
        case ReadingField::sink_time:
        case ReadingField::water_temperature:
        case ReadingField::tint:
        case ReadingField::taper:
        case ReadingField::floats:
            return {};
    }
    return {};
}

void go_to(Form& form, Spot spot) {
    form.spot = spot;
    form.frames_to_focus = frames_to_take_focus;
}

Spot spot_after(Spot spot) {
    if (spot.is_code()) return bench_order.front();
    if (spot.is_notes()) return {};
    const auto next = std::ranges::find(bench_order, *spot.reading()) + 1;
    return next == bench_order.end() ? Spot::notes() : Spot{*next};
}

Spot spot_before(Spot spot) {
    if (spot.is_code()) return Spot::notes();
    if (spot.is_notes()) return bench_order.back();
    const auto here = std::ranges::find(bench_order, *spot.reading());
    return here == bench_order.begin() ? Spot{} : Spot{*(here - 1)};
}

void enter_code(const View& view, Form& form, Outbox<Command>& outbox) {
    const std::string code(trimmed(form.code));
    go_to(form, Spot{});
    if (code.empty()) {
        if (view.has_coil) go_to(form, bench_order.front());
    } else {
        outbox.post(EnterCode{code});
    }
}

void enter_reading(const View& view, Form& form, ReadingField field, Outbox<Command>& outbox) {
    const ReadingRow* row = row_of(view, field);
    if (row == nullptr) return;
    std::string text(trimmed(form.typed.text(field)));
    if (const int picked = picked_word(text, row->choices); picked >= 0) {
        text = std::string(row->choices[static_cast<std::size_t>(picked)]);
        form.typed.text(field) = text;
    }
    const bool is_new = row->is_list ? !text.empty() : text != row->stored;
    if (!is_new) {
        form.typed.problem(field).reset();
        form.typed.refused(field).clear();
        go_to(form, spot_after(field));
        return;
    }
    if (!text.empty()) {
        const auto values = read_values(field, text, {'.', row->bare_unit});
        if (!values) {
            form.typed.problem(field) = values.error();
            form.typed.refused(field) = text;
            go_to(form, field);
            if (coil_code_from(text)) outbox.post(LookForScan{field, text});
            return;
        }
    }
    form.typed.problem(field).reset();
    outbox.post(
        SaveReading{field, text, std::exchange(form.typed.refused(field), {}), row->bare_unit});
    go_to(form, row->is_list ? Spot{field} : spot_after(field));
}

void enter_notes(const View& view, Form& form, Outbox<Command>& outbox) {
    const std::string text(trimmed(form.typed.notes));
    if (text != view.notes.stored) outbox.post(SaveNotes{text});
    go_to(form, spot_after(Spot::notes()));
}

void use_next(const View& view, Form& form, Tool tool) {
    const auto row = std::ranges::find(view.tools, tool, &ToolRow::tool);
    if (row == view.tools.end()) return;
    std::string& code = form.tools.code(tool);
    const auto here = std::ranges::find(row->codes, code);
    const bool is_last = here == row->codes.end() || here + 1 == row->codes.end();
    code = is_last ? row->codes.front() : *(here + 1);
}

void take_back_odd(const View& view, Outbox<Command>& outbox) {
    for (const ReadingRow& row : view.readings) {
        if (row.odd) outbox.post(TakeBackOdd{row.field, *row.odd});
    }
}

void take_back(const View& view, Form& form, Outbox<Command>& outbox) {
    if (!form.spot.reading()) return;
    const ReadingField field = *form.spot.reading();
    const ReadingRow* row = row_of(view, field);
    if (row == nullptr) return;
    const std::string kept = row->is_list ? std::string() : row->stored;
    if (trimmed(form.typed.text(field)) != kept) {
        form.typed.text(field) = kept;
        form.typed.problem(field).reset();
        form.typed.refused(field).clear();
        form.rewritten = field;
    } else if (row->is_saved) {
        outbox.post(TakeBackReading{field});
    }
}

void go_back_or_forth(const View& view, const Form& form, bool forth, Outbox<Command>& outbox) {
    if (form.spot.is_code() && !form.code.empty()) return;
    if (form.spot.reading()) {
        const ReadingRow* row = row_of(view, *form.spot.reading());
        const std::string kept = row == nullptr || row->is_list ? std::string() : row->stored;
        if (trimmed(form.typed.text(*form.spot.reading())) != kept) return;
    } else if (view.has_coil && !form.spot.is_code() && form.typed.notes != view.notes.stored) {
        return;
    }
    if (forth) {
        outbox.post(Redo{});
    } else {
        outbox.post(Undo{});
    }
}

void confirm(const View& view, Outbox<Command>& outbox) {
    if (view.has_coil && view.verdict.confirms) outbox.post(Confirm{*view.verdict.confirms});
}

int picked_word(std::string_view typed, const std::vector<std::string_view>& words) {
    const std::string text = lower_ascii(trimmed(typed));
    if (text.empty()) return -1;
    int begins = -1;
    for (std::size_t at = 0; at < words.size(); ++at) {
        if (words[at] == text) return static_cast<int>(at);
        if (!words[at].starts_with(text)) continue;
        if (begins >= 0) return -1;
        begins = static_cast<int>(at);
    }
    return begins;
}

}  // namespace coilbook::bench::bench_page
