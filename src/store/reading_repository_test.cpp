#include "store/reading_repository.h"

#include "store/coil_repository.h"
#include "store/instrument_repository.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

// A catalogue with one coil, and the ways to read things off it.
struct Bench {
    Catalogue catalogue = Catalogue::in_memory();
    Coil coil = a_coil("A7");
    int second = 0;

    Bench() {
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.coils().add(act, coil);
                }).has_value());
    }

    Reading reading(ReadingField field, const std::string& written) {
        return {.id = next_id<Reading>(),
                .coil = coil.id,
                .field = field,
                .as_written = written,
                .value = read_values(field, written).value().front(),
                .instrument = "",
                .taken_at = moment(++second),
                .supersedes = {}};
    }
    Result<void> add(const Reading& reading) {
        return in_an_act(catalogue,
                         [&](Act& act) { return catalogue.readings().add(act, reading); });
    }
    Reading added(ReadingField field, const std::string& written) {
        const auto one = reading(field, written);
        const auto done = add(one);
        REQUIRE_MESSAGE(done.has_value(), (done ? "" : to_line(done.error())));
        return one;
    }
    CoilReadings readings() { return catalogue.readings().readings_of(coil.id); }
};

}  // namespace

TEST_SUITE("Readings in the catalogue") {
    TEST_CASE("a reading of every field comes back with its words and its exact value") {
        Bench bench;
        const std::vector<std::pair<ReadingField, std::string>> written{
            {ReadingField::sample_length, "24 1/16 in"},
            {ReadingField::sample_weight, "22.4 gr +- 0.2 gr"},
            {ReadingField::diameters, "0.94 mm"},
            {ReadingField::submerged_weight, "15.3 gr"},
            {ReadingField::sink_distance, "3 ft"},
            {ReadingField::sink_time, "5.43 s"},
            {ReadingField::water_temperature, "50 F +- 0.5 F"},
            {ReadingField::tint, "brown"},
            {ReadingField::taper, "level"},
            {ReadingField::whole_length, "12' 3\""},
            {ReadingField::whole_weight, "137 gr"},
            {ReadingField::floats, "no"},
        };
        REQUIRE(written.size() == all_reading_fields.size());
        std::vector<Reading> expected;
        CoilReadings for_physics;
        for (const auto& [field, words] : written) {
            expected.push_back(bench.added(field, words));
            put(for_physics, field, *expected.back().value);
        }
        CHECK(bench.catalogue.readings().all_of(bench.coil.id) == expected);
        CHECK(bench.catalogue.readings().current_of(bench.coil.id) == expected);
        CHECK(bench.readings() == for_physics);
    }

    TEST_CASE("the largest and smallest values that may be read can be kept") {
        Bench bench;
        for (const auto& [field, words] : std::vector<std::pair<ReadingField, std::string>>{
                 {ReadingField::sample_weight, "10 kg"},
                 {ReadingField::whole_length, "1000 m"},
                 {ReadingField::diameters, "25 mm"},
                 {ReadingField::submerged_weight, "0 gr"},
                 {ReadingField::sink_time, "3600 s"},
                 {ReadingField::water_temperature, "104 F"}}) {
            bench.added(field, words);
        }
        auto cold = bench.reading(ReadingField::water_temperature, "32 F");
        cold.supersedes = bench.catalogue.readings().current_of(bench.coil.id).back().id;
        CHECK(bench.add(cold).has_value());
    }

    TEST_CASE("diameters may be read again and again, all other fields are corrected") {
        Bench bench;
        bench.added(ReadingField::diameters, "0.94 mm");
        bench.added(ReadingField::diameters, "0.95 mm");
        CHECK(bench.readings().diameters.size() == 2);
        bench.added(ReadingField::sample_weight, "22.4 gr");
        const auto again = bench.add(bench.reading(ReadingField::sample_weight, "22.6 gr"));
        REQUIRE_FALSE(again.has_value());
        CHECK(again.error().sentence == "sample_weight has been read already: 22.4 gr");
    }

    TEST_CASE("a correction counts instead of what it supersedes, which stays to be seen") {
        Bench bench;
        const auto first = bench.added(ReadingField::sample_weight, "22.4 gr");
        auto second = bench.reading(ReadingField::sample_weight, "24.2 gr");
        second.supersedes = first.id;
        REQUIRE(bench.add(second).has_value());
        auto third = bench.reading(ReadingField::sample_weight, "23.2 gr");
        third.supersedes = second.id;
        REQUIRE(bench.add(third).has_value());
        CHECK(bench.readings().sample_weight->value == 23.2 * grain);
        CHECK(bench.catalogue.readings().all_of(bench.coil.id) ==
              std::vector<Reading>{first, second, third});
        CHECK(bench.catalogue.coils().list().front().readings == 1);
    }

    TEST_CASE("of several diameters only the superseded one goes") {
        Bench bench;
        bench.added(ReadingField::diameters, "0.94 mm");
        const auto slip = bench.added(ReadingField::diameters, "9.5 mm");
        auto right = bench.reading(ReadingField::diameters, "0.95 mm");
        right.supersedes = slip.id;
        REQUIRE(bench.add(right).has_value());
        const auto diameters = bench.readings().diameters;
        REQUIRE(diameters.size() == 2);
        CHECK(diameters[0].value == 0.94 * millimetre);
        CHECK(diameters[1].value == 0.95 * millimetre);
    }

    TEST_CASE("what is withdrawn is not measured, and may be measured again") {
        Bench bench;
        const auto first = bench.added(ReadingField::tint, "brown");
        auto withdrawal = first;
        withdrawal.id = next_id<Reading>();
        withdrawal.as_written = "";
        withdrawal.value = std::nullopt;
        withdrawal.taken_at = moment(100);
        withdrawal.supersedes = first.id;
        REQUIRE(bench.add(withdrawal).has_value());
        CHECK(bench.readings() == CoilReadings{});
        CHECK(bench.catalogue.coils().list().front().readings == 0);
        CHECK(bench.catalogue.readings().all_of(bench.coil.id) ==
              std::vector<Reading>{first, withdrawal});
        bench.added(ReadingField::tint, "dark");
        CHECK(bench.readings().tint == Tint::dark);
    }

    TEST_CASE("a reading is superseded once, by one of the same field of the same coil") {
        Bench bench;
        const auto weight = bench.added(ReadingField::sample_weight, "22.4 gr");
        auto correction = bench.reading(ReadingField::sample_weight, "22.6 gr");
        correction.supersedes = weight.id;
        REQUIRE(bench.add(correction).has_value());
        auto late = bench.reading(ReadingField::sample_weight, "22.8 gr");
        late.supersedes = weight.id;
        says(to_line(bench.add(late).error()), "no longer a current one");
        auto other_field = bench.reading(ReadingField::whole_weight, "137 gr");
        other_field.supersedes = correction.id;
        CHECK_FALSE(bench.add(other_field).has_value());
        auto unknown = bench.reading(ReadingField::sample_weight, "22.8 gr");
        unknown.supersedes = next_id<Reading>();
        CHECK_FALSE(bench.add(unknown).has_value());
        const auto other = a_coil("A8");
        REQUIRE(in_an_act(bench.catalogue, [&](Act& act) {
                    return bench.catalogue.coils().add(act, other);
                }).has_value());
        auto other_coil = bench.reading(ReadingField::sample_weight, "22.8 gr");
        other_coil.coil = other.id;
        other_coil.supersedes = correction.id;
        CHECK_FALSE(bench.add(other_coil).has_value());
        CHECK(bench.catalogue.readings().all_of(bench.coil.id).size() == 2);
    }

    TEST_CASE("the instrument is named by its code, and must be there") {
        Bench bench;
        Scale scale;
        scale.code = "S2";
        REQUIRE(in_an_act(bench.catalogue, [&](Act& act) {
                    return bench.catalogue.instruments().put(act, next_id<BenchInstrument>(),
                                                             scale);
                }).has_value());
        auto weight = bench.reading(ReadingField::sample_weight, "22.4 gr");
        weight.instrument = "S3";
        CHECK(bench.add(weight).error() ==
              Problem{"scale", "'S3' is not a known scale",
                      "the code of one in this catalogue, or none for the default"});
        weight.instrument = "S2";
        REQUIRE(bench.add(weight).has_value());
        CHECK(bench.readings().scale == "S2");
        CHECK(bench.catalogue.readings().all_of(bench.coil.id).front() == weight);
        auto length = bench.reading(ReadingField::sample_length, "24 in");
        length.instrument = "S2";  // a scale is not a tape
        CHECK(bench.add(length).error().field == "tape");
        auto tint = bench.reading(ReadingField::tint, "dark");
        tint.instrument = "S2";
        CHECK_FALSE(bench.add(tint).has_value());
    }

    TEST_CASE("a reading of a coil that is not there is an error") {
        Bench bench;
        auto lost = bench.reading(ReadingField::tint, "dark");
        lost.coil = next_id<Coil>();
        says(error_of([&] { (void)bench.add(lost); }), "reading.coil");
        CHECK(bench.catalogue.readings().all_of(lost.coil).empty());
    }

    TEST_CASE("the whole bin is read at once, coil by coil as one would") {
        Bench bench;
        bench.added(ReadingField::sample_weight, "22.4 gr");
        bench.added(ReadingField::diameters, "0.94 mm");
        bench.added(ReadingField::diameters, "0.95 mm");
        const auto unread = a_coil("A1");
        auto retired = a_coil("A9");
        REQUIRE(in_an_act(bench.catalogue, [&](Act& act) -> Result<void> {
                    for (const auto& each : {unread, retired}) {
                        if (const auto done = bench.catalogue.coils().add(act, each); !done) {
                            return done;
                        }
                    }
                    auto reading = bench.reading(ReadingField::tint, "dark");
                    reading.coil = retired.id;
                    if (const auto done = bench.catalogue.readings().add(act, reading); !done) {
                        return done;
                    }
                    retired.is_retired = true;
                    return bench.catalogue.coils().change(act, retired);
                }).has_value());
        const auto bin = bench.catalogue.readings().bin();
        REQUIRE(bin.size() == 2);
        CHECK(bin[0] == BinEntry{.coil = unread, .confirmed_class = {}, .readings = {}});
        CHECK(bin[1] ==
              BinEntry{.coil = bench.coil, .confirmed_class = {}, .readings = bench.readings()});
    }
}
