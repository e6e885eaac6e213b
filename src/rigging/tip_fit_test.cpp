#include "rigging/tip_fit.h"

#include <doctest/doctest.h>

#include <set>
#include <stdexcept>

#include "support/a_coil.h"
#include "support/an_outfit.h"

using namespace coilbook;

namespace {

const ReferenceClass& class_named(const ReferenceLibrary& library, const std::string& name) {
    for (const auto& each : library) {
        if (each.name == name) return each;
    }
    throw std::runtime_error("no class " + name);
}

WalletTip a_tip(int number, int type) {
    return {id_of<Coil>(number), "K" + std::to_string(number), DensityGrade::type(type)};
}

}  // namespace

TEST_SUITE("Tips and rods") {
    // The test library has tips for size 8 of 7 gr/ft and for size 11 of 11 gr/ft.
    TEST_CASE("a matched tip fits its size, level line the sizes whose tips weigh the same") {
        const auto library = a_library();
        const auto fits = [&](const std::string& name,
                              std::optional<LinearDensity> weight = std::nullopt) {
            return sizes_that_fit(class_named(library, name), weight, library);
        };
        CHECK(fits("size 8 type 6 tip") == std::vector{LineSize{8}});
        CHECK(fits("T-11") == std::vector{LineSize{11}});
        CHECK(fits("T-8") == std::vector{LineSize{8}});    // 8 is 1.14 of 7
        CHECK(fits("T-14").empty());                       // 1.27 of 11
        CHECK(fits("T-8", 8.1 * grain_per_foot).empty());  // 1.16 of 7: this one is too heavy
        CHECK(fits("floating line").empty());
        CHECK(fits("unlisted").empty());
    }

    TEST_CASE("fast are type 6 and denser") {
        CHECK(sinks_fast(DensityGrade::type(6)));
        CHECK(sinks_fast(DensityGrade::type(8)));
        CHECK_FALSE(sinks_fast(DensityGrade::type(5)));
        CHECK_FALSE(sinks_fast(std::nullopt));
    }

    TEST_CASE("one key goes through the wallet from light to dense and begins anew") {
        const std::vector<WalletTip> wallet{a_tip(1, 8), a_tip(2, 3), a_tip(3, 6)};
        CHECK(next_tip(a_tip(4, 3), wallet)->coil == id_of<Coil>(3));  // K4 comes after K2
        CHECK(next_tip(a_tip(4, 6), wallet)->coil == id_of<Coil>(1));
        CHECK(next_tip(a_tip(4, 8), wallet)->coil == id_of<Coil>(2));
        CHECK(next_tip(std::nullopt, wallet)->coil == id_of<Coil>(2));
        CHECK_FALSE(next_tip(a_tip(4, 3), {}).has_value());
    }

    TEST_CASE("with every change the tip that was on goes into the wallet, so all come round") {
        std::vector<WalletTip> wallet{a_tip(1, 8), a_tip(2, 3), a_tip(3, 3), a_tip(5, 6)};
        std::optional<WalletTip> on = a_tip(4, 3);
        std::set<std::string> seen;
        for (int change = 0; change < 5; ++change) {
            const auto next = next_tip(on, wallet);
            REQUIRE(next.has_value());
            std::erase(wallet, *next);
            wallet.push_back(*on);
            on = next;
            seen.insert(on->code);
        }
        CHECK(seen.size() == 5);
    }
}
