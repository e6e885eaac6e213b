// How fast coils are identified, on one core.
//
// The coils are drawn from the library itself: a line of a class by its weight, read on the bench's
// default instruments. The numbers are seeded; the figures of interest are coils a second.
#include <benchmark/benchmark.h>

#include <fstream>
#include <random>

#include "app/built_in_library.h"
#include "identify/facts.h"
#include "identify/identify.h"
#include "identify/next_reading.h"

using namespace coilbook;

namespace {

const PreparedLibrary& library() {
    static const PreparedLibrary prepared(app::built_in_library());
    return prepared;
}

enum class Readings { three, four, under_water, drop, kitchen };

template <class Q>
Q shown(Q indicated, const Instrument<Q>& instrument) {
    return std::max(1.0, std::round(indicated / instrument.resolution)) * instrument.resolution;
}

Instruments bench_for(Readings which) {
    Instruments bench = default_instruments();
    if (which == Readings::kitchen) {
        bench.scales[""].resolution = bench.scales[""].limit_of_error = 0.1 * gram;
        bench.micrometers[""].resolution = bench.micrometers[""].limit_of_error = 0.05 * millimetre;
    }
    return bench;
}

std::vector<CoilReadings> coils(Readings which) {
    std::mt19937 random(20261125);
    std::normal_distribution<double> normal;
    std::vector<double> weights;
    for (const auto& each : library().classes()) weights.push_back(each.weight);
    std::discrete_distribution<std::size_t> choice(weights.begin(), weights.end());
    const Instruments bench = bench_for(which);
    std::vector<CoilReadings> all;
    while (all.size() < 4096) {
        const auto k = choice(random);
        const auto& line = library()[k].line;
        const LinePoint point{
            line.ln_grains_per_foot_mean + line.ln_grains_per_foot_sd * normal(random),
            line.ln_density_mean + line.ln_density_sd * normal(random)};
        const auto body = line_at(point);
        const Water water = fresh_water_at_10_C();
        const auto sinking = sink(body, water);
        if (which == Readings::drop && sinking.rate < 0.5 * inch_per_second) continue;
        const Length length = 24.0 * inch;
        CoilReadings readings;
        const Mass weight = body.weight_per_length * length;
        readings.sample_length = {length, {}};
        readings.sample_weight = {shown<Mass>(weight, bench.scales.at("")), {}};
        const Length diameter = body.diameter + 0.01 * normal(random) * millimetre;
        const auto read = shown<Length>(diameter, bench.micrometers.at(""));
        readings.diameters = {{read, {}}, {read, {}}, {read, {}}};
        if (which != Readings::three) {
            std::discrete_distribution<std::size_t> tint(library()[k].tints.begin(),
                                                         library()[k].tints.end());
            readings.tint = static_cast<Tint>(tint(random));
        }
        if (which == Readings::under_water) {
            readings.submerged_weight = {
                shown<Mass>(weight * (1.0 - water.density / density(body)), bench.scales.at("")),
                {}};
        }
        if (which == Readings::drop) {
            readings.sink_distance = {length, {}};
            readings.sink_time = {length / sinking.rate + 0.2 * normal(random) * second, {}};
        }
        all.push_back(readings);
    }
    return all;
}

std::vector<Evidence> evidences(Readings which) {
    const Instruments bench = bench_for(which);
    std::vector<Evidence> all;
    for (const auto& readings : coils(which)) {
        if (auto evidence = evidence_of(readings, bench)) all.push_back(std::move(*evidence));
    }
    return all;
}

void weigh_up_evidence(benchmark::State& state, Readings which) {
    const auto all = coils(which);
    const Instruments bench = bench_for(which);
    std::size_t i = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(evidence_of(all[i], bench));
        i = (i + 1) % all.size();
    }
    state.SetItemsProcessed(state.iterations());
}

void find_posterior(benchmark::State& state, Readings which) {
    const auto all = evidences(which);
    Posterior posterior(library());
    std::size_t i = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(posterior.take_up(all[i]));
        i = (i + 1) % all.size();
    }
    state.SetItemsProcessed(state.iterations());
}

void give_verdict(benchmark::State& state, Readings which) {
    const auto all = coils(which);
    const Instruments bench = bench_for(which);
    Identifier identifier(library(), bench);
    const Inquiry inquiry{.in_words = false};
    std::size_t i = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(identifier.verdict_on(all[i], inquiry));
        i = (i + 1) % all.size();
    }
    state.SetItemsProcessed(state.iterations());
}

void find_facts(benchmark::State& state, Readings which) {
    const auto all = evidences(which);
    const Water water = fresh_water_at_10_C();
    std::size_t i = 0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(fit_facts(all[i], water));
        i = (i + 1) % all.size();
    }
    state.SetItemsProcessed(state.iterations());
}

// All four: sample weight and length, three diameters (one reading of the micrometer each), tint.
BENCHMARK_CAPTURE(weigh_up_evidence, four_readings, Readings::four);
BENCHMARK_CAPTURE(find_posterior, four_readings, Readings::four);
BENCHMARK_CAPTURE(find_facts, four_readings, Readings::four);
BENCHMARK_CAPTURE(give_verdict, four_readings, Readings::four);
BENCHMARK_CAPTURE(find_posterior, under_water, Readings::under_water);
BENCHMARK_CAPTURE(give_verdict, under_water, Readings::under_water);
BENCHMARK_CAPTURE(find_posterior, timed_drop, Readings::drop);
BENCHMARK_CAPTURE(give_verdict, timed_drop, Readings::drop);
BENCHMARK_CAPTURE(weigh_up_evidence, kitchen, Readings::kitchen);
BENCHMARK_CAPTURE(find_posterior, kitchen, Readings::kitchen);
BENCHMARK_CAPTURE(give_verdict, kitchen, Readings::kitchen);

}  // namespace

BENCHMARK_MAIN();
