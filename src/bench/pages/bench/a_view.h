// A view of the page as tests like it: one coil of four in hand, with a verdict. All of it
// invented.
#pragma once

#include <string>
#include <utility>

#include "bench/pages/bench/bench_commands.h"
#include "bench/pages/bench/bench_view.h"

namespace coilbook::bench::bench_page {

[[nodiscard]] inline Id<Coil> coil_id(std::uint8_t number) {
    return Id<Coil>::make(Instant(std::chrono::milliseconds(1'700'000'000'000)),
                          RandomBytes{0, 0, 0, 0, 0, 0, 0, 0, 0, number});
}

// What Enter posts where bare numbers have the trade's usual units.
[[nodiscard]] inline SaveReading saving(ReadingField field, std::string text,
                                        std::string instead_of = {}) {
    return {field, std::move(text), std::move(instead_of), std::string(usual_unit(field))};
}

[[nodiscard]] inline View a_view() {
    View view;
    view.bin.summary = "4 coils, 1 confirmed";
    view.bin.rows = std::vector<BinRow>{
        {coil_id(1),
         "A7",
         {Mark::check, Tone::good, "confirmed"},
         "T-14",
         "confirmed",
         "A7, confirmed\nT-14",
         false},
        {coil_id(2),
         "A8",
         {Mark::diamond, Tone::accent, "ready to confirm"},
         "T-11",
         "94 %",
         "A8",
         true},
        {coil_id(3),
         "A9",
         {Mark::half, Tone::warn, "needs a reading"},
         "size 8 intermediate tip",
         "41 %",
         "A9",
         false},
        {coil_id(4),
         "B12",
         {Mark::ring, Tone::muted, "unmeasured"},
         "unmeasured",
         "",
         "B12",
         false},
    };
    view.bin.longest = "size 8 intermediate tip";
    view.bin.legend = {view.bin.rows[2].state, view.bin.rows[1].state};
    view.question = {"Which line", "Most telling first"};
    view.has_coil = true;
    view.coil_code = "A8";
    view.coil_state = view.bin.rows[1].state;
    const auto row = [&](ReadingField field, const char* label, const char* unit, const char* note,
                         bool saved) -> ReadingRow& {
        ReadingRow made{};
        made.field = field;
        made.label = label;
        made.unit = unit;
        made.bare_unit = usual_unit(field);
        made.note = note;
        made.is_saved = saved;
        view.readings.push_back(made);
        return view.readings.back();
    };
    ReadingRow& length = row(ReadingField::sample_length, "Sample length", "in", "", true);
    length.stored = "24";
    length.kept = "24 in";
    ReadingRow& weighed = row(ReadingField::sample_weight, "Sample weight", "gr", "", true);
    weighed.stored = "22.4";
    weighed.kept = "22.4 gr";
    ReadingRow& diameters =
        row(ReadingField::diameters, "Diameter", "mm", "0.94, 0.95, 0.94: mean 0.943", true);
    diameters.is_list = true;
    diameters.hint = "one more";
    row(ReadingField::submerged_weight, "Weight under water", "gr", "", false);
    row(ReadingField::sink_distance, "Drop distance", "in", "", false);
    row(ReadingField::sink_time, "Drop time", "s", "", false).is_wanted = true;
    row(ReadingField::water_temperature, "Water temperature", "°C", "10 °C if not read", false);
    row(ReadingField::tint, "Tint", "", "", false).choices = {"clear", "pale", "brown", "dark",
                                                              "black"};
    row(ReadingField::taper, "Taper", "", "", false).choices = {"level", "tapered"};
    row(ReadingField::floats, "Floats", "", "", false).choices = {"yes", "no"};
    row(ReadingField::whole_length, "Whole length", "ft", "", false);
    row(ReadingField::whole_weight, "Whole weight", "gr", "", false).error =
        "'-3' is negative: a weight above zero";

    VerdictView& verdict = view.verdict;
    verdict.headline = "T-11 level line";
    verdict.certainty = "94 %";
    verdict.gist = "11.20 ± 0.07 gr/ft, sinks 6.4 ± 0.4 in/s";
    verdict.state = view.coil_state;
    verdict.facets = {{"Grain class", "T-11", "94 %", true},
                      {"Density grade", "type 7", "91 %", true},
                      {"Line size", "none", "96 %", false},
                      {"Family", "level line", "95 %", true}};
    verdict.bars = {
        {"T-11", "T-11 level line", "94 %", 0.94, Mark::disc, 0, true, true},
        {"size 8 type 6", "type 6 tip for an 8", "3 %", 0.03, Mark::square, 1, false, false},
        {"T-10", "T-10 level line", "1 %", 0.012, Mark::disc, 0, false, false},
        {"", "all others", "2 %", 0.018, Mark::ring, 4, false, false}};
    verdict.facts = {{"Weight per foot", "11.20 ± 0.07 gr/ft", "", true},
                     {"Diameter", "0.943 ± 0.011 mm", "", true},
                     {"Density", "3.41 ± 0.08 g/cm³", "", true},
                     {"Sink rate in still water", "6.4 ± 0.4 in/s", "", true}};
    verdict.flags = {{Tone::warn, "The diameter and the weight under water do not agree."}};
    verdict.because = {"11.2 grains a foot is within 2 % of T-11.",
                       "Its density fits heavy tungsten, and nothing lighter is as thin."};
    verdict.fishes_like =
        "T-11 and size 8 type 6 tip fish alike: two names for one line in the water.";
    verdict.next_reading = "Next, time a level piece sinking 24 in of still water.";
    verdict.next_cost = "About 3 minutes, with 1 chance in 8 to change the answer.";
    verdict.next_field = ReadingField::sink_time;
    verdict.confirm_label = "Confirm T-11";
    verdict.confirms = "T-11";
    PlotView& plot = verdict.picture;
    plot.x = {0.5, 1.5};
    plot.y = {2, 25};
    plot.x_label = "Diameter, mm";
    plot.y_label = "Weight per foot, gr/ft";
    const auto ellipse = [&](const char* name, double diameter, double weight, double sd,
                             std::size_t series, Mark mark) {
        PlotEllipse made{};
        made.x = diameter;
        made.y = weight;
        made.sd_ln_x = 0.04;
        made.sd_ln_y = sd;
        made.correlation = 0.5;
        made.mark = mark;
        made.series = series;
        made.name = name;
        made.readout = std::string(name) + ", invented";
        plot.ellipses.push_back(made);
    };
    ellipse("T-8", 0.84, 8, 0.03, 0, Mark::disc);
    ellipse("T-11", 0.98, 11, 0.03, 0, Mark::disc);
    ellipse("T-14", 1.1, 14, 0.03, 0, Mark::disc);
    ellipse("8 type 6", 1.02, 8.5, 0.08, 1, Mark::square);
    ellipse("8 type 3", 1.25, 8.5, 0.08, 1, Mark::square);
    ellipse("leader 5", 0.7, 4, 0.1, 2, Mark::triangle);
    ellipse("A8", 0.943, 11.2, 0.006, 0, Mark::disc);
    plot.ellipses.back().emphasis = Emphasis::own;
    plot.y_unit = "gr/ft";
    plot.legend = {{Mark::disc, 0, Stroke::solid, "level line"},
                   {Mark::square, 1, Stroke::dashed, "tip"},
                   {Mark::triangle, 2, Stroke::dotted, "leader"}};
    view.message = "Saved: diameter 0.94 mm";
    return view;
}

}  // namespace coilbook::bench::bench_page
