#include "bench/shared_bin.h"

#include <doctest/doctest.h>

#include <random>
#include <string>
#include <vector>

#include "app/coil_changes.h"
#include "app/undo.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

Coil made(app::Workshop& workshop, const std::string& code) {
    const auto added = app::add_coil(workshop, code);
    REQUIRE(added.has_value());
    return *added;
}

bool same_lines(const SharedBin& one, const SharedBin& other) {
    if (one.lines().size() != other.lines().size()) return false;
    for (std::size_t at = 0; at < one.lines().size(); ++at) {
        const BinLine &a = one.lines()[at], &b = other.lines()[at];
        if (a.coil != b.coil || a.code != b.code || a.notes != b.notes || a.text != b.text ||
            a.summary.state != b.summary.state || a.summary.share != b.summary.share) {
            return false;
        }
    }
    return true;
}

void work_all_out(SharedBin& bin) {
    while (bin.is_busy()) bin.work_out(std::chrono::milliseconds(1000));
}

}  // namespace

TEST_SUITE("The bin that all pages look at") {
    TEST_CASE("after a change of one coil it says the same as one that is read anew") {
        app::Workshop workshop = app::workshop_in_memory();
        SharedBin followed(workshop);
        std::mt19937 random(7);
        std::vector<Coil> coils;
        const std::vector<std::string> weights{"22.4 gr", "16.1 gr", "27.9 gr"};
        for (int step = 0; step < 120; ++step) {
            const auto what = random() % 6;
            const int edition = followed.edition();
            if (coils.empty() || what == 0) {
                coils.push_back(made(workshop, "C" + std::to_string(random() % 1'000'000)));
                followed.refresh(coils.back().id);
            } else {
                const Coil coil = coils[random() % coils.size()];
                if (what == 1) {
                    REQUIRE(app::change_notes(workshop, coil, "step " + std::to_string(step)));
                } else if (what == 2) {
                    (void)app::record_reading(workshop, coil, ReadingField::sample_length, "24 in");
                    (void)app::record_reading(workshop, coil, ReadingField::sample_weight,
                                              weights[random() % 3]);
                } else if (what == 3) {
                    (void)app::withdraw_reading(workshop, coil, ReadingField::sample_weight);
                } else if (what == 4) {
                    (void)app::confirm_coil(workshop, coil, random() % 2 == 0 ? "T-11" : "T-8");
                } else {
                    (void)app::take_confirmation_back(workshop, coil);
                }
                followed.refresh(coil.id);
            }
            CHECK(followed.edition() != edition);
            work_all_out(followed);
            SharedBin anew(workshop);
            work_all_out(anew);
            CHECK(same_lines(followed, anew));
        }
    }

    TEST_CASE("a coil whose making is undone leaves the bin, and nothing else does") {
        app::Workshop workshop = app::workshop_in_memory();
        made(workshop, "A1");
        SharedBin bin(workshop);
        const Coil second = made(workshop, "A2");
        bin.refresh(second.id);
        REQUIRE(bin.lines().size() == 2);
        REQUIRE(app::undo(workshop));
        bin.refresh(second.id);
        REQUIRE(bin.lines().size() == 1);
        CHECK(bin.lines()[0].code == "A1");
    }
}
