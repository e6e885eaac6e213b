#include "bench/pages/bench/bench_model.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "bench/pages/bench/a_bench.h"
#include "quantity/units.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bench_page;

namespace {

const ReadingRow& row(const View& view, ReadingField field) {
    return *std::ranges::find(view.readings, field, &ReadingRow::field);
}
}  // namespace

TEST_SUITE("What the bench shows") {
    TEST_CASE("every coil of the bin has its state in a word and a shape of its own") {
        const Situation situation = a_situation();
        const View view = view_of(a_form(situation), situation);
        REQUIRE(view.bin.rows.size() == 3);
        CHECK(view.bin.rows[0].state.word == "confirmed");
        CHECK(view.bin.rows[1].state.word == "ready to confirm");
        CHECK(view.bin.rows[1].in_hand);
        CHECK(view.bin.rows[2].state.word == "unmeasured");
        CHECK(view.bin.rows[0].state.mark != view.bin.rows[1].state.mark);
        CHECK(view.bin.rows[1].state.mark != view.bin.rows[2].state.mark);
        CHECK(view.bin.summary == "3 coils, 1 confirmed");
    }

    TEST_CASE("a row of the bin says what the coil is and how surely, and its state at the least") {
        const Situation situation = a_situation();
        const BinView bin = view_of(a_form(situation), situation).bin;
        CHECK(bin.rows[0].what == "T-14");
        CHECK(bin.rows[0].amount == "confirmed");
        CHECK(bin.rows[1].what == "T-11");
        CHECK(bin.rows[1].amount == "94 %");
        CHECK(bin.rows[1].whole == "A8, ready to confirm\nT-11, 94 %");
        CHECK(bin.rows[2].what == "unmeasured");
        CHECK(bin.rows[2].amount.empty());
        CHECK(bin.longest == "T-14");
        CHECK(bin.legend.size() == 2);  // the other two states are said in the rows
    }

    TEST_CASE("what is typed as a code filters the bin by code, class and state") {
        const Situation situation = a_situation();
        Form form = a_form(situation);
        form.code = "a";
        CHECK(view_of(form, situation).bin.rows.size() == 3);  // A7, A8 and "unmeasured"
        form.code = "b1";
        CHECK(view_of(form, situation).bin.rows.size() == 1);
        form.code = "t-14";
        CHECK(view_of(form, situation).bin.rows[0].code == "A7");
        form.code = "zzz";
        CHECK(view_of(form, situation).bin.rows.empty());
        CHECK_FALSE(view_of(form, situation).bin.nothing.empty());
    }

    TEST_CASE("a code that is there is found, whatever its capitals") {
        const auto known = a_situation().bin;
        std::vector<BinLine> bin(known.begin(), known.end());
        CHECK(coil_with_code(bin, "a7")->coil == coil_id(1));
        CHECK(coil_with_code(bin, "C3") == nullptr);
        bin.push_back(a_line(9, "a7", CoilState::unmeasured, {"", ""}));
        CHECK(coil_with_code(bin, "a7")->coil == coil_id(9));  // as written comes first
        bin.back().code = "b12";
        bin.push_back(a_line(10, "B12x", CoilState::unmeasured, {"", ""}));
        bin.push_back(a_line(11, "b12X", CoilState::unmeasured, {"", ""}));
        CHECK(coil_with_code(bin, "b12x") == nullptr);  // which of the two is meant?
    }

    TEST_CASE("the code field says what Enter will do") {
        const Situation situation = a_situation();
        Form form = a_form(situation);
        form.code = "a7";
        CHECK(view_of(form, situation).bin.code_note == "Enter picks it up");
        form.code = "C3";
        CHECK(mentions(view_of(form, situation).bin.code_note, "twice"));
        form.asked_code = "C3";
        CHECK(mentions(view_of(form, situation).bin.code_note, "again"));
        form.code = "C 3";  // no blanks in a code
        CHECK(view_of(form, situation).bin.code_note.empty());
        CHECK_FALSE(view_of(form, situation).bin.code_error.empty());
    }

    TEST_CASE("a field shows its reading as it was entered, without the unit beside it") {
        const Situation situation = a_situation();
        const Form form = a_form(situation);
        CHECK(form.typed.text(ReadingField::sample_length) == "24");
        CHECK(form.typed.text(ReadingField::sample_weight) == "22.4");
        const View view = view_of(form, situation);
        CHECK(row(view, ReadingField::sample_weight).is_saved);
        CHECK(row(view, ReadingField::sample_weight).stored == "22.4");
        CHECK_FALSE(row(view, ReadingField::sink_time).is_saved);
    }

    TEST_CASE("a reading in another unit keeps it, and the note says it in the unit shown") {
        Situation situation = a_situation();
        situation.in_hand->readings[1] = a_reading(ReadingField::sample_weight, "1.45 g", 9);
        const View view = view_of(a_form(situation), situation);
        CHECK(row(view, ReadingField::sample_weight).stored == "1.45 g");
        // 1.45 g / 64.79891 mg = 22.377 gr
        CHECK(row(view, ReadingField::sample_weight).note == "= 22.38 gr");
    }

    TEST_CASE("what is typed and not saved yet says what Enter will save") {
        const Situation situation = a_situation();
        Form form = a_form(situation);
        form.typed.text(ReadingField::whole_length) = "3.048 m";
        CHECK(row(view_of(form, situation), ReadingField::whole_length).note ==
              "Enter saves 10.00 ft");
        form.typed.text(ReadingField::sample_weight) = "";
        CHECK(row(view_of(form, situation), ReadingField::sample_weight).note ==
              "Enter takes it back");
    }

    TEST_CASE("several diameters are listed with their mean") {
        const Situation situation = a_situation();
        const View view = view_of(a_form(situation), situation);
        CHECK(row(view, ReadingField::diameters).is_list);
        CHECK(row(view, ReadingField::diameters).note == "0.942, 0.948: mean 0.945");
    }

    TEST_CASE("of many diameters the mean and the scatter are said") {
        Situation situation = a_situation();  // 0.942 and 0.948
        put(situation.in_hand->values, ReadingField::diameters,
            Stated<Length>{0.951 * millimetre, {}});
        const View view = view_of(a_form(situation), situation);
        // (0.942 + 0.948 + 0.951) / 3 = 0.947
        CHECK(row(view, ReadingField::diameters).note == "mean 0.947 of 3, scatter 0.005");
    }

    TEST_CASE("instruments are shown where there is a choice") {
        Situation situation = a_situation();
        situation.instruments = default_instruments();
        Form form = a_form(situation);
        CHECK(view_of(form, situation).tools.empty());
        situation.instruments.scales["S2"] = situation.instruments.scales.at("");
        REQUIRE(view_of(form, situation).tools.size() == 1);
        CHECK(view_of(form, situation).tools[0].says == "Scale default");
        form.tools.scale = "S2";
        CHECK(view_of(form, situation).tools[0].says == "Scale S2");
        form.tools.scale = "gone";  // since another program took it away
        CHECK(view_of(form, situation).tools[0].says == "Scale default");
    }

    TEST_CASE("notes say what Enter does to them") {
        Situation situation = a_situation();
        situation.in_hand->coil.notes = "chewed";
        Form form = a_form(situation);
        CHECK(form.typed.notes == "chewed");
        CHECK(view_of(form, situation).notes.note.empty());
        form.typed.notes = "chewed end cut off";
        CHECK(view_of(form, situation).notes.note == "Enter saves");
        form.typed.notes.clear();
        CHECK(view_of(form, situation).notes.note == "Enter takes them away");
    }

    TEST_CASE("a problem stands in place of the note") {
        const Situation situation = a_situation();
        Form form = a_form(situation);
        form.typed.problem(ReadingField::sink_time) = Problem{"", "'x' is no time", "such as 4 s"};
        const ReadingRow shown = row(view_of(form, situation), ReadingField::sink_time);
        CHECK(shown.error == "'x' is no time: such as 4 s");
        CHECK(shown.note.empty());
    }

    TEST_CASE("the reading that helps most is marked, the first of a pair before the second") {
        Situation situation = a_situation();  // the engine asks for sink_time
        View view = view_of(a_form(situation), situation);
        CHECK(row(view, ReadingField::sink_distance).is_wanted);
        CHECK_FALSE(row(view, ReadingField::sink_time).is_wanted);
        CHECK(view.verdict.next_field == ReadingField::sink_distance);
        situation.in_hand->values.sink_distance = Stated<Length>{24.0 * inch, {}};
        view = view_of(a_form(situation), situation);
        CHECK(row(view, ReadingField::sink_time).is_wanted);
    }

    TEST_CASE("the next reading is said once, with its cost, and not among the reasons") {
        const Situation situation = a_situation();
        const VerdictView verdict = view_of(a_form(situation), situation).verdict;
        CHECK(verdict.next_reading == "Next, time a level piece sinking 24 in.");
        CHECK(mentions(verdict.next_cost, "3 minutes"));
        CHECK(verdict.because == std::vector<std::string>{"It weighs 11.2 gr/ft."});
    }

    TEST_CASE("when it is enough no field is marked, and nothing more is asked for") {
        Situation situation = a_situation();
        situation.in_hand->verdict.enough = true;
        const View view = view_of(a_form(situation), situation);
        CHECK(view.verdict.is_enough);
        CHECK_FALSE(view.verdict.next_field);
        for (const ReadingRow& each : view.readings) CHECK_FALSE(each.is_wanted);
    }

    TEST_CASE("a coil is compared with the class that is chosen, else with the best listed one") {
        Situation situation = a_situation();
        Form form = a_form(situation);
        CHECK(class_to_compare(form, situation) == 1);
        form.chosen_class = "T-8";
        CHECK(class_to_compare(form, situation) == 0);
        form.chosen_class.clear();
        situation.in_hand->verdict.ranking = {2, 0, 1};  // the best is none of the listed
        CHECK(class_to_compare(form, situation) == 0);
        situation.in_hand.reset();
        CHECK_FALSE(class_to_compare(form, situation));
    }

    TEST_CASE("words of a choice are known by their beginning, if it is of one only") {
        const std::vector<std::string_view> tints{"clear", "pale", "brown", "dark", "black"};
        CHECK(picked_word("d", tints) == 3);
        CHECK(picked_word(" DARK ", tints) == 3);
        CHECK(picked_word("b", tints) == -1);
        CHECK(picked_word("bl", tints) == 4);
        CHECK(picked_word("", tints) == -1);
        CHECK(picked_word("darker", tints) == -1);
    }

    TEST_CASE("a sure verdict names its class and can be confirmed") {
        const Situation situation = a_situation();
        const VerdictView verdict = view_of(a_form(situation), situation).verdict;
        CHECK(verdict.headline == "T-11");
        CHECK(verdict.certainty == "94 %");
        CHECK(verdict.confirms == "T-11");
        CHECK(verdict.confirm_label == "Confirm T-11");
        REQUIRE(verdict.bars.size() == 3);
        CHECK(verdict.bars[0].leading);
        CHECK(verdict.bars[0].is_choice);
        CHECK(verdict.bars[2].class_name.empty());  // none of the listed cannot be confirmed
    }

    TEST_CASE("the window is named after the coil in hand and its verdict") {
        Situation situation = a_situation();
        CHECK(view_of(a_form(situation), situation).title == "A8: T-11, 94 %");
        situation.in_hand->confirmed_as = "T-11";
        situation.in_hand->state = CoilState::confirmed;
        CHECK(view_of(a_form(situation), situation).title == "A8: T-11, confirmed");
        situation.in_hand.reset();
        CHECK(view_of(a_form(situation), situation).title.empty());
    }

    TEST_CASE("two names for one line in the water are said in one sentence") {
        Situation situation = a_situation();
        Verdict& verdict = situation.in_hand->verdict;
        CHECK(view_of(a_form(situation), situation).verdict.fishes_like.empty());
        verdict.fishes_like = {0};
        CHECK(view_of(a_form(situation), situation).verdict.fishes_like ==
              "T-11 and T-8 fish alike: two names for one line in the water.");
    }

    TEST_CASE("of many names for one line the most probable are said, and how many more") {
        Situation situation = a_situation();
        for (const char* name : {"a", "b", "c"}) {
            situation.library.push_back(a_class(name, 11, 4.2));
        }
        Verdict& verdict = situation.in_hand->verdict;
        verdict.probabilities = {0.02, 0.5, 0.02, 0.1, 0.35, 0.01};
        verdict.ranking = {1, 4, 3, 0, 2, 5};
        verdict.fishes_like = {3, 4, 5};
        CHECK(view_of(a_form(situation), situation).verdict.fishes_like ==
              "T-11, b, a and 1 more fish alike: names for one line in the water.");
    }

    TEST_CASE("the gist is the weight and the sink rate, as far as they are known") {
        Situation situation = a_situation();
        Facts& facts = situation.in_hand->verdict.facts;
        facts.linear_density =
            Measured<LinearDensity>{11.2 * grain_per_foot, 0.07 * grain_per_foot};
        CHECK(view_of(a_form(situation), situation).verdict.gist == "11.200 ± 0.070 gr/ft");
        facts.sink_rate = Measured<Speed>{-0.5 * inch_per_second, 0.1 * inch_per_second};
        CHECK(view_of(a_form(situation), situation).verdict.gist ==
              "11.200 ± 0.070 gr/ft, rises 0.50 ± 0.10 in/s");
    }

    TEST_CASE("an unsure verdict does not pretend") {
        Situation situation = a_situation();
        situation.in_hand->verdict.flags = {Flag::ambiguous};
        situation.in_hand->verdict.probabilities = {0.3, 0.65, 0.05};
        CHECK(view_of(a_form(situation), situation).verdict.headline == "Perhaps T-11");
        situation.in_hand->verdict.probabilities = {0.4, 0.45, 0.15};
        const VerdictView verdict = view_of(a_form(situation), situation).verdict;
        CHECK(verdict.headline == "Cannot tell yet");
        CHECK_FALSE(verdict.confirms);  // unless the person picks a class
        Form form = a_form(situation);
        form.chosen_class = "T-8";
        CHECK(view_of(form, situation).verdict.confirms == "T-8");
    }

    TEST_CASE("weights of one coil on two scales are warned about") {
        Situation situation = a_situation();
        CHECK(view_of(a_form(situation), situation).verdict.flags.empty());
        auto& coil = *situation.in_hand;
        coil.readings.push_back(a_reading(ReadingField::submerged_weight, "15 gr", 9));
        coil.readings.back().instrument = "S2";
        coil.values.scale = "S2";  // the last one counts for all
        const auto flags = view_of(a_form(situation), situation).verdict.flags;
        REQUIRE(flags.size() == 1);
        CHECK(flags[0].tone == Tone::warn);
        CHECK(flags[0].words ==
              "Its weights were read with more than one scale; all count as read with S2. Read "
              "them again with that one.");
        for (Reading& reading : coil.readings) reading.instrument = "S2";
        coil.values.tape = coil.values.micrometer = "S2";
        CHECK(view_of(a_form(situation), situation).verdict.flags.empty());
    }

    TEST_CASE("the person may confirm another class than the best") {
        const Situation situation = a_situation();
        Form form = a_form(situation);
        form.chosen_class = "T-8";
        CHECK(view_of(form, situation).verdict.confirms == "T-8");
        form.chosen_class = "no such class";
        CHECK(view_of(form, situation).verdict.confirms == "T-11");
    }

    TEST_CASE("a coil that is confirmed is not confirmed twice, but can be taken back") {
        Situation situation = a_situation();
        situation.in_hand->state = CoilState::confirmed;
        situation.in_hand->confirmed_as = "T-11";
        Form form = a_form(situation);
        CHECK_FALSE(view_of(form, situation).verdict.confirms);
        CHECK(view_of(form, situation).verdict.may_take_back);
        form.chosen_class = "T-8";  // the person's last word counts
        CHECK(view_of(form, situation).verdict.confirms == "T-8");
    }

    TEST_CASE("without readings there is nothing to confirm") {
        Situation situation = a_situation();
        situation.in_hand->state = CoilState::unmeasured;
        situation.in_hand->readings.clear();
        situation.in_hand->values = {};
        const VerdictView verdict = view_of(a_form(situation), situation).verdict;
        CHECK_FALSE(verdict.confirms);
        CHECK(verdict.certainty.empty());
        CHECK(verdict.headline == "Nothing read yet");
    }

    TEST_CASE("situation carry their uncertainty, and what is not determined says so") {
        Situation situation = a_situation();
        situation.in_hand->verdict.facts.linear_density =
            Measured<LinearDensity>{11.2 * grain_per_foot, 0.07 * grain_per_foot};
        situation.in_hand->verdict.facts.sink_rate =
            Measured<Speed>{-0.5 * inch_per_second, 0.1 * inch_per_second};
        const VerdictView verdict = view_of(a_form(situation), situation).verdict;
        REQUIRE(verdict.facts.size() == 4);
        CHECK(mentions(verdict.facts[0].value, "11.20"));
        CHECK(mentions(verdict.facts[0].value, "gr/ft"));
        CHECK_FALSE(verdict.facts[1].is_known);
        CHECK(mentions(verdict.facts[3].name, "Rises"));
        CHECK(mentions(verdict.facts[3].value, "0.5"));
        CHECK_FALSE(mentions(verdict.facts[3].value, "-"));
    }
}

TEST_SUITE("Help at the bench") {
    TEST_CASE("every figure, every probability and every field says what it is") {
        const Situation situation = a_situation();
        const View view = view_of(a_form(situation), situation);
        for (const auto* rows : {&view.verdict.facts, &view.verdict.facets}) {
            REQUIRE(rows->size() == 4);
            for (const FactRow& row : *rows) CHECK_MESSAGE(!row.help.empty(), row.name);
        }
        REQUIRE_FALSE(view.verdict.bars.empty());
        for (const BarRow& row : view.verdict.bars) CHECK_MESSAGE(!row.help.empty(), row.name);
        for (const ReadingRow& row : view.readings) CHECK_MESSAGE(!row.help.empty(), row.label);
        CHECK_FALSE(view.verdict.certainty_help.empty());
        CHECK_FALSE(view.verdict.next_cost_help.empty());
    }

    TEST_CASE("in grams and metres nothing is said in grains, feet or inches") {
        Situation situation = a_situation();
        situation.units = grams_and_metres;
        situation.in_hand->verdict.because.clear();  // the engine's, that the bin asks for
        const View view = view_of(a_form(situation), situation);
        std::string all = view.verdict.gist;
        for (const FactRow& row : view.verdict.facts) all += "\n" + row.name + " " + row.value;
        for (const ReadingRow& row : view.readings) all += "\n" + row.unit + " " + row.help;
        for (const auto& each : view.verdict.picture.ellipses) all += "\n" + each.readout;
        all += view.verdict.picture.y_label;
        situation.bin = {};
        for (const auto& step : view_of({}, situation).bin.first_steps) all += "\n" + step;
        CHECK(mentions(all, "g/m"));
        CHECK(mentions(all, "grams"));
        for (const char* other : {"gr/ft", "in/s", "grains", "24 in", " foot", "\ngr ", "\nin "}) {
            CHECK_MESSAGE(!mentions(all, other), other << " in " << all);
        }
    }
}
