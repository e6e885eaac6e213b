#include "bench/number_words.h"

#include <fmt/format.h>

#include <cassert>
#include <tuple>

namespace coilbook::bench {

std::string help_on(Number number, const Units& units) {
    const auto [weight, sinks, piece] =
        std::tuple{units.weight_per_length.name, units.sink_rate.name, units.of("foot", "metre")};
    switch (number) {
        case Number::weight_per_length:
            return fmt::format(
                "What one {} of it weighs, in {}: the weight of a piece over its length, put right "
                "by what scale and tape are known to be off. ± is one standard deviation. The page "
                "Coil (Alt 8) shows the readings behind it.",
                piece, weight);
        case Number::diameter:
            return "How thick it is over the coating, in mm: the mean of the micrometer's "
                   "readings, "
                   "or what weight and density leave for it. ± is one standard deviation and "
                   "counts "
                   "how soft coatings squeeze.";
        case Number::density:
            return "How heavy its stuff is, in g/cm³; water is 1. From weight and diameter (a "
                   "round "
                   "line, ρ = 4λ/πd²), from weighing in water (Archimedes), or from a timed drop; "
                   "several ways are brought together by least squares (GUM, JCGM 100:2008).";
        case Number::sink_rate:
            return fmt::format(
                "How fast a level piece sinks in still fresh water of 10 °C, in {}. By the balance "
                "of its weight in water and its drag (cylinder, Cheng 2013); a timed drop makes it "
                "surer. Current and a line under tension are another matter.",
                sinks);
        case Number::sink_by_water:
            return fmt::format(
                "How fast it sinks level in still water of that temperature, in {}; sea water has "
                "salinity 35. Colder and saltier water is thicker and denser and holds it up more "
                "(water: Tanaka 2001, IAPWS SR6-08; drag: Cheng 2013).",
                sinks);
        case Number::certainty:
        case Number::probability:
            return "How probable that answer is, by all readings and how sure each is, among all "
                   "classes of your library and 'none of the listed'. All of them together are "
                   "100 %. Bayes' rule; from 80 % on an answer counts as ready to confirm.";
        case Number::grain_class:
            return "The trade's name for what a foot weighs: T-11 is about 11 grains a foot, in "
                   "whichever units you read. The per cent are how probable that value is, summed "
                   "over all classes that have it.";
        case Number::density_grade:
            return "The trade's name for how fast it sinks: type 6 sinks at 6 to 7 inches a "
                   "second, "
                   "in whichever units you read. The per cent are how probable that value is, "
                   "summed over all classes that have it.";
        case Number::line_size:
            return "The line that such a tip is made to balance on, as tips are sold by it. 'None' "
                   "is a level line or a leader. The per cent are how probable that value is.";
        case Number::family:
            return "Whether it is a level line sold by the length, a tip made for a line, or a "
                   "sinking leader. The per cent are how probable that value is, summed over all "
                   "classes of that kind.";
        case Number::cost_of_reading:
            return "How long the reading takes at the bench, and how probable it is that the best "
                   "answer changes by it. The times are the program's own guesses; the chance is "
                   "worked out from what each class would show.";
        case Number::budget_share:
            return "How large a part of the figure's variance is due to that, in per cent. Whoever "
                   "wants the figure surer begins with the longest bar (GUM, JCGM 100:2008, "
                   "annex H).";
        case Number::coils_in_state:
            return "How many coils of the bin have come so far. A click, or F3, shows only these.";
        case Number::pace:
            return "How long the rest takes if it goes on as before: the median time from one "
                   "confirmed "
                   "coil to the next, of the last 20. Breaks of more than 15 minutes do not count.";
        case Number::group:
            return "Coils with one number here are one and the same line, listed or not, as far as "
                   "their readings and how sure these are can tell. Ctrl G looks for them; the "
                   "number says no more than which belong together.";
        case Number::belongs_to_group:
            return "How probable it is that this coil is the same line as the others of its group, "
                   "by its readings and theirs.";
        case Number::class_weight:
            return fmt::format(
                "What one {} of a line of that class weighs, in {}: the middle of the class. The "
                "per cent behind it are how far its lines differ, one standard deviation.",
                piece, weight);
        case Number::class_density:
            return "How heavy the stuff of a line of that class is, in g/cm³: the middle of the "
                   "class. The per cent behind it are how far its lines differ, one standard "
                   "deviation.";
        case Number::class_diameter:
            return "How thick the middle of the class is, in mm; it follows from weight and "
                   "density "
                   "of a round line, d = √(4λ/πρ).";
        case Number::class_rate:
            return fmt::format(
                "How fast the middle of the class sinks, level, in still fresh water of 10 °C, in "
                "{}. From weight and density by the drag of a cylinder (Cheng 2013).",
                sinks);
        case Number::confirmed_coils:
            return "How many coils you confirmed as that class. Each that was weighed and measured "
                   "teaches it where its middle is and how far its lines differ.";
        case Number::set_aside_coils:
            return "How many coils confirmed as that class look wrong beside the others, 1 in 1000 "
                   "or rarer. They teach it nothing until somebody looks at them; Ctrl G goes to "
                   "the next class with one.";
        case Number::score:
            return "How often the built-in library, asked before it learned anything, was right "
                   "about coils that you confirmed. The wide bar is where the true share may lie, "
                   "95 %; the upright stroke is how sure it said it was.";
        case Number::reads_too_much:
            return "What its readings are off by, in the unit that it shows: found by the last "
                   "check against standards, ± one standard deviation. Every reading with it is "
                   "put "
                   "right by that.";
        case Number::scatter:
            return "How far readings of one and the same thing differ, as one standard deviation: "
                   "from the repeated readings of a check, or what its maker says. Reading a thing "
                   "several times makes it less.";
        case Number::resolution:
            return "The step of its display, and how far off it may be by what its maker says. A "
                   "step counts as a rectangle of that width, a limit as one of plus or minus it "
                   "(GUM, JCGM 100:2008, 4.3.7).";
        case Number::checked:
            return "When it was last checked on standards, and when that has run out: after a "
                   "year, "
                   "unless the catalogue says otherwise.";
        case Number::mean_of_readings:
            return "The mean of the readings of the standard that lies there, and how far they "
                   "scatter, one standard deviation. Three readings tell a slip from a scatter.";
        case Number::off_standard:
            return "The mean reading less what stands on the standard, ± one standard deviation of "
                   "both together.";
        case Number::readings_of_study:
            return "How many readings the study takes: people times coils times how often each. "
                   "With ten coils, three people and three readings one person's scatter is known "
                   "to 9 % of itself: 1/√(2·60), for 60 degrees of freedom.";
        case Number::spread_of_person:
            return "How far readings of one coil by one person differ, one standard deviation, and "
                   "its share of the variance of all readings. From a two-way analysis of "
                   "variance, "
                   "people by coils; a finer instrument or more readings make it less.";
        case Number::spread_of_people:
            return "How far people differ on the same coils, one standard deviation: one presses "
                   "harder, say. 0 where their means differ no more than their own scatter lets "
                   "expect. From a two-way analysis of variance, people by coils.";
        case Number::spread_of_people_by_coil:
            return "How far people differ on some coils and not on others, one standard deviation: "
                   "on soft or tapered ones, say. 0 where it cannot be told from one person's "
                   "scatter. From a two-way analysis of variance, people by coils.";
        case Number::spread_of_coils:
            return "How far the coils themselves differ, one standard deviation, once all that is "
                   "due to reading is taken off. Only what is larger than the rest can be told "
                   "apart.";
        case Number::judgement_of_study:
            return "How much of the variance of all readings is due to reading and not to the "
                   "coils. Below 1 % (a tenth of the standard deviation) readings tell coils apart "
                   "well, from 9 % on not well enough: limits of the industry's manual, from "
                   "memory.";
        case Number::in_the_bin:
            return "How many coils of that class are in the bin at home and can be handed out now.";
        case Number::with_boats:
            return "How many are with boats just now, by what was last said of each; what is "
                   "strung on a rig "
                   "goes where the rig goes.";
        case Number::lent:
            return "How many are lent to somebody outside of the outfit, by what was last said of "
                   "each.";
        case Number::damaged:
            return "How many are put aside as damaged: they count, but are not handed out.";
        case Number::lost:
            return "How many are lost. One that turns up is handed back and counts again.";
        case Number::in_all:
            return "All things of that class that the catalogue has and that are not retired, "
                   "wherever "
                   "they are.";
        case Number::promised:
            return "How many are promised to outings of the coming day that needs most.";
        case Number::missing:
            return "How many more the coming day that misses most asks for than can be handed out. "
                   "Plan that day on the page Day (Alt 6).";
        case Number::losses:
            return "How many coils the days asked for cost: lost, damaged or retired, the three "
                   "parts of the bar in that order.";
        case Number::packed:
            return "How many of the things that this boat takes along are ticked, by scanning, of "
                   "how many that it needs.";
        case Number::tip_fit:
            return fmt::format(
                "Which line sizes it fits as a tip: those whose tips, in the library, weigh the "
                "same "
                "in {} to 15 %. Common practice, no published source; a caster cuts the length to "
                "suit.",
                weight);
    }
    assert(false && "every number has its words");
    return {};
}

std::string help_on(ReadingField field, const Units& units) {
    switch (field) {
        case ReadingField::sample_length:
            return fmt::format(
                "How long the piece is that you weigh, straight and without tension, in {} if no "
                "unit is typed. {} or more keep the scale's error small.",
                units.piece.name, units.of("24 in", "60 cm"));
        case ReadingField::sample_weight:
            return fmt::format(
                "What that piece weighs, dry, in {} if no unit is typed; a typed unit always "
                "counts. With its length it tells the weight of one {}.",
                units.weight.name, units.of("foot", "metre"));
        case ReadingField::diameters:
            return "How thick it is over the coating, read in three places or more. The micrometer "
                   "should just touch: coatings are soft. One that is far off the others is "
                   "marked.";
        case ReadingField::submerged_weight:
            return fmt::format(
                "What the same piece weighs hanging in water, without bubbles, in {} if no unit is "
                "typed. With its weight in air it tells the density (Archimedes).",
                units.weight.name);
        case ReadingField::sink_distance:
            return fmt::format(
                "How deep a level piece sinks while it is timed, in {} if no unit is typed: "
                "through "
                "still water, after it has sunk a hand's breadth.",
                units.piece.name);
        case ReadingField::sink_time:
            return "How long that takes, in seconds. The space bar in this field starts and stops "
                   "a "
                   "stopwatch; how sure the hand is, the stopwatch of the page Instruments says.";
        case ReadingField::water_temperature:
            return "Of the water of the weighing and the drop, in °C if no unit is typed. Where it "
                   "was not read 10 °C is taken.";
        case ReadingField::tint:
            return "How dark its coating is. Dense fillings are dark, so it speaks for or against "
                   "a "
                   "class a little.";
        case ReadingField::taper:
            return "Whether it is level or tapers from one end to the other: of a tapered coil one "
                   "piece does not tell the weight of the whole.";
        case ReadingField::floats:
            return "Whether a piece that is pushed under comes up again. It tells at once on which "
                   "side of water's density it is.";
        case ReadingField::whole_length:
            return fmt::format(
                "How long the whole coil is, in {} if no unit is typed: tips and leaders are sold "
                "in usual lengths, which tell them apart.",
                units.length.name);
        case ReadingField::whole_weight:
            return fmt::format(
                "What the whole coil weighs, in {} if no unit is typed. With its length it tells "
                "the weight of one {}, surer than a piece.",
                units.weight.name, units.of("foot", "metre"));
    }
    assert(false && "every field has its words");
    return {};
}

}  // namespace coilbook::bench
