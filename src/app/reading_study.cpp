#include "app/reading_study.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <numeric>
#include <random>

#include "app/backups.h"
#include "app/instrument_drawers.h"
#include "base/error.h"
#include "exchange/bench_tables.h"
#include "exchange/csv.h"
#include "metrology/gauge_study.h"

namespace coilbook::app {
namespace {

// Limits of the gauge's part of the whole spread: a tenth and three tenths (the industry's manual,
// from memory).
constexpr double good_enough = 0.1;
constexpr double will_do = 0.3;

template <class Q>
std::string judgement_of(const GaugeStudy<Q>& study) {
    if (study.coils < 2) return "One coil alone does not tell whether coils can be told apart.";
    if (study.coils_differ.si() <= 0.0) {
        return "The coils cannot be told apart by such readings at all.";
    }
    const double part = study.part_of_spread();
    const auto share = fmt::format(
        "Of all that differs between these readings, {} % comes from "
        "the gauge and its people: ",
        significant(100.0 * study.part_of_variance(), 2));
    if (part < good_enough) return share + "this is good enough to tell these coils apart.";
    if (part < will_do) return share + "this will do for most coils; read close ones twice.";
    return share +
           "this is not good enough to tell these coils apart. Read each coil several times, or "
           "find out why readings differ.";
}

template <class Q>
std::vector<std::string> sentences_of(const GaugeStudy<Q>& study, std::string_view unit) {
    const auto amount = [&](Q quantity) { return span_in_words(ShownFigure{quantity}, unit); };
    std::vector<std::string> words;
    words.push_back("One person who reads the same coil again is off by " +
                    amount(study.repeatability) + " (one standard deviation).");
    if (study.people > 1) {
        const bool people_agree = study.reproducibility.si() <= 0.0;
        words.push_back(people_agree ? "The people read alike."
                                     : "One person differs from another by " +
                                           amount(study.reproducibility) + ".");
        if (study.people_by_coil.si() > study.people_differ.si()) {
            words.push_back(
                "They differ on some coils more than on others: see how each holds them.");
        }
    }
    if (study.coils > 1 && study.coils_differ.si() > 0.0 && study.gauge.si() > 0.0) {
        const double groups = study.groups_told_apart();
        words.push_back(
            "The coils differ by " + amount(study.coils_differ) + ": such readings sort them " +
            (groups < 2.0
                 ? std::string("into no groups at all")
                 : fmt::format("into some {} groups", static_cast<int>(std::min(groups, 1000.0)))) +
            ".");
    }
    return words;
}

template <class Q>
Result<StudyFound> studied(std::span<const StudyReading> rows, std::string_view unit) {
    std::vector<GaugeReading<Q>> readings;
    for (const auto& row : rows) {
        readings.push_back({row.coil, row.person, std::get<Q>(row.reading)});
    }
    const auto study = gauge_study(readings);
    if (!study) return tl::unexpected(study.error());
    StudyFound found;
    const auto add = [&](const char* part, Q sd) {
        const double share = study->total.si() > 0.0 ? sd.si() / study->total.si() : 0.0;
        found.parts.push_back({part, ShownFigure{sd}, share, share * share});
    };
    add("repeatability", study->repeatability);
    add("people", study->people_differ);
    add("people_by_coil", study->people_by_coil);
    add("gauge", study->gauge);
    add("coils", study->coils_differ);
    add("total", study->total);
    if (study->coils > 1) found.gauge_of_variance = study->part_of_variance();
    found.judgement = judgement_of(*study);
    found.sentences = sentences_of(*study, unit);
    return found;
}

// The unit of the command line's figures.
std::string_view unit_of_figure(const ShownFigure& figure) {
    return std::visit([](auto quantity) { return unit_of(quantity).name; }, figure);
}

}  // namespace

Result<StudyFound> study_of(std::span<const StudyReading> readings, std::string_view unit) {
    if (readings.empty()) {
        return problem("reading", "there are no readings", "a reading of each coil by each person");
    }
    const auto& first = readings.front().reading;
    if (std::holds_alternative<Mass>(first)) return studied<Mass>(readings, unit);
    if (std::holds_alternative<Length>(first)) return studied<Length>(readings, unit);
    if (std::holds_alternative<Duration>(first)) return studied<Duration>(readings, unit);
    return problem("reading", "coils have no temperature to study", "weights, lengths or times");
}

std::vector<Turn> turns_of(std::size_t people, std::size_t coils, int times,
                           std::optional<std::uint64_t> seed) {
    std::mt19937_64 random(seed.value_or(0));
    std::vector<Turn> turns;
    std::vector<std::size_t> order(coils);
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (int time = 1; time <= times; ++time) {
        for (std::size_t person = 0; person < people; ++person) {
            if (seed) std::ranges::shuffle(order, random);
            for (const std::size_t coil : order) turns.push_back({person, coil, time});
        }
    }
    return turns;
}

void write_study(std::ostream& out, std::span<const StudyRowAsWritten> rows,
                 std::string_view unit) {
    exchange::write_csv_row(
        out, std::vector<std::string>{"coil", "person", fmt::format("reading [{}]", unit)});
    for (const auto& row : rows) {
        exchange::write_csv_row(out, std::vector<std::string>{row.coil, row.person, row.reading});
    }
}

Result<std::filesystem::path> keep_study(Workshop& workshop,
                                         std::span<const StudyRowAsWritten> rows,
                                         std::string_view unit) {
    const auto& catalogue = workshop.catalogue().file();
    if (catalogue.empty()) {
        return problem("", "the catalogue is no file, so there is no place beside it",
                       "a catalogue in a file");
    }
    const auto file = catalogue.parent_path() /
                      ("study-" + moment_in_name(workshop.surroundings().now()) + ".csv");
    std::ofstream out(file, std::ios::binary);
    write_study(out, rows, unit);
    out.close();
    if (!out) throw Error("writing the study to " + file.string() + " failed");
    return file;
}

Done study_readings(std::istream& file, const std::string& file_name, std::ostream& out,
                    Format format, std::size_t terminal_width) {
    const auto rows = exchange::read_study(file, file_name);
    if (!rows) return tl::unexpected(rows.error());
    std::vector<StudyReading> readings;
    for (const auto& row : *rows) readings.push_back({row.coil, row.person, row.reading});
    const std::string_view unit = readings.empty() ? "" : unit_of_figure(readings.front().reading);
    const auto found = study_of(readings, unit);
    if (!found) {
        // What is wrong with all of them has no line of its own.
        const bool is_kind = !rows->empty() && unit == "K";
        return tl::unexpected(std::vector{
            exchange::in_file(file_name, is_kind ? rows->front().line : 0, found.error())});
    }
    RowWriter writer(
        out, {{"part"}, {"standard_deviation", true, 3}, {"unit"}, {"percent_of_spread", true, 3}},
        format, terminal_width);
    for (const auto& part : found->parts) {
        const double sd = std::visit([](auto quantity) { return in_its_unit(quantity); },
                                     part.standard_deviation);
        writer.add({part.name, cell_of(std::optional(sd)), std::string(unit),
                    cell_of(std::optional(100.0 * part.of_spread))});
    }
    std::string words;
    for (const auto& sentence : found->sentences) words += sentence + "\n";
    writer.finish(words + found->judgement);
    return {};
}

}  // namespace coilbook::app
