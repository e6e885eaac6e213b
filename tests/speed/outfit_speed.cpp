// How fast labels are printed and a season's stock is reported, in processor seconds on one core.
//
// 3000 coils of known classes, weighed and measured, and a season of handovers between them and 12
// boats. The numbers are seeded.
#include <fmt/format.h>

#include <cstdlib>
#include <ctime>
#include <fstream>
#include <random>
#include <sstream>

#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/day.h"
#include "app/labels.h"
#include "app/outfit.h"
#include "app/season.h"
#include "labels/label_files.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/custody_repository.h"
#include "store/reading_repository.h"
#include "support/workshop.h"

using namespace coilbook;

namespace {

constexpr int coils = 3000;
constexpr int days = 200;
constexpr int boats = 12;

// How long `work` takes, the best of three.
template <class Work>
void measure(const char* what, Work work) {
    double best = 1e9;
    for (int trial = 0; trial < 3; ++trial) {
        const auto start = std::clock();
        work();
        best = std::min(best, static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
    }
    fmt::print("{:<42}{:8.1f} ms\n", what, 1000.0 * best);
}

Reading a_reading(app::Workshop& workshop, const Coil& coil, ReadingField field,
                  const std::string& text) {
    return {workshop.new_id<Reading>(),
            coil.id,
            field,
            text,
            read_values(field, text).value().front(),
            "",
            workshop.surroundings().now(),
            {}};
}

std::vector<Coil> fill(app::Workshop& workshop, std::mt19937& lot) {
    std::vector<Coil> added;
    auto& catalogue = workshop.catalogue();
    const std::vector<std::string> classes{"T-8", "T-11", "T-14", "size 8 type 6 tip",
                                           "size 7 type 3 tip"};
    const auto done = catalogue.act(workshop.note("fill"), [&](store::Act& act) -> Result<void> {
        for (int number = 0; number < coils; ++number) {
            const Coil coil{workshop.new_id<Coil>(), "C" + std::to_string(number), "",
                            workshop.surroundings().now()};
            auto fine = catalogue.coils().add(act, coil);
            const auto read = [&](ReadingField field, const char* text) {
                if (fine) {
                    fine = catalogue.readings().add(act, a_reading(workshop, coil, field, text));
                }
            };
            read(ReadingField::sample_length, "24 in");
            read(ReadingField::sample_weight, "22.4 gr");
            read(ReadingField::diameters, "0.85 mm");
            read(ReadingField::whole_length, "15 ft");
            if (fine) {
                fine = catalogue.confirmations().add(
                    act, {workshop.new_id<Confirmation>(), coil.id, classes[lot() % 5], "test",
                          workshop.surroundings().now(), ""});
            }
            if (!fine) return fine;
            added.push_back(coil);
        }
        return {};
    });
    if (!done) throw Error(to_line(done.error()));
    return added;
}

void hand_about(app::Workshop& workshop, const std::vector<Coil>& bin, std::mt19937& lot) {
    std::vector<Boat> fleet;
    for (int boat = 0; boat < boats; ++boat) {
        fleet.push_back(app::add_boat(workshop, "boat " + std::to_string(boat), {}, "").value());
    }
    auto& catalogue = workshop.catalogue();
    for (int day = 0; day < days; ++day) {
        const auto done =
            catalogue.act(workshop.note("a day"), [&](store::Act& act) -> Result<void> {
                for (const auto& boat : fleet) {
                    for (int i = 0; i < 10; ++i) {
                        const Thing coil(bin[lot() % bin.size()].id);
                        const auto hand = [&](const Place& place) {
                            return catalogue.custody().add(
                                act, {workshop.new_id<Handover>(), coil, place,
                                      workshop.surroundings().now(), "test", ""});
                        };
                        if (auto out = hand({.where = Whereabouts::boat, .boat = boat.id}); !out) {
                            return out;
                        }
                        if (lot() % 40 == 0) continue;
                        const bool is_lost = lot() % 100 == 0;
                        const Place back{.where = is_lost ? Whereabouts::lost : Whereabouts::bin,
                                         .boat = is_lost ? std::optional(boat.id) : std::nullopt};
                        if (auto in = hand(back); !in) return in;
                    }
                }
                return {};
            });
        if (!done) throw Error(to_line(done.error()));
    }
}

}  // namespace

int main() {
    std::mt19937 lot(20261125);
    auto surroundings = app::real_surroundings("speed");
    auto workshop = app::Workshop::in_memory(surroundings);
    const auto bin = fill(workshop, lot);
    hand_about(workshop, bin, lot);
    fmt::print("{} coils, {} handovers\n", coils, workshop.catalogue().custody().record().size());

    app::Bin shown;
    shown.refresh(workshop);
    std::vector<labels::LabelContent> contents;
    for (std::size_t at = 0; at < 1000; ++at) contents.push_back(label_of(shown, at, false));
    const auto sheet = labels::sheet_from("letter-30").value();
    measure("1000 labels as PDF", [&] { return labels::sheets_pdf(sheet, contents); });
    measure("a season's stock", [&] {
        std::ostringstream out;
        app::write_stock(workshop, out, app::Format::csv);
    });
    measure("what is out", [&] {
        std::ostringstream out;
        app::write_out(workshop, out, app::Format::csv);
    });
    measure("a season's losses", [&] {
        std::ostringstream out;
        app::write_losses(workshop, {Day{}, Day{} + std::chrono::days{50'000}}, out,
                          app::Format::csv);
    });
    measure("where is it", [&] { return app::where_is(workshop, "C1").value(); });
    return 0;
}
