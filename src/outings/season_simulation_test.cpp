// A season with all that goes wrong, against a truth that the record does not know of.
//
// Boats take coils out each morning and bring them back in the evening. Now and then one is lost,
// or found again, or forgotten on a boat overnight; somebody tries to hand out what is out already;
// and every fifth week two laptops write apart, with half of the boats each, and are merged. By
// default 300 coils for 40 days; COILBOOK_SEASON=whole is 3000 coils for 200 days.

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <random>
#include <set>

#include "outings/custody_now.h"
#include "outings/season.h"
#include "support/an_outfit.h"

using namespace coilbook;

namespace {

constexpr int boats = 12;
constexpr int in_the_bin = 0;
constexpr int gone = -1;

// A laptop writes down what it is told and knows what it wrote. `turn` is counted as the catalogue
// counts it.
struct Laptop {
    std::vector<Handover> record;
    std::map<Thing, int> turns;

    void write(int coil, const Place& to, int minute, int number) {
        const auto thing = coil_thing(coil);
        record.push_back({id_of<Handover>(number), thing, to, minute_after_start(minute), "test",
                          "", turns[thing]++});
    }
};

// As merging orders rows: by moment, then by id; what both have stands once.
Laptop merged(const Laptop& one, const Laptop& other) {
    Laptop both;
    both.record = one.record;
    both.record.insert(both.record.end(), other.record.begin(), other.record.end());
    const auto order = [](const Handover& a, const Handover& b) {
        return a.at != b.at ? a.at < b.at : a.id < b.id;
    };
    std::ranges::sort(both.record, order);
    const auto twice = std::ranges::unique(both.record, {}, &Handover::id);
    both.record.erase(twice.begin(), twice.end());
    for (const auto& handover : both.record) ++both.turns[handover.thing];
    return both;
}

class Season {
  public:
    Season(int coils, int days) : coils_(coils), days_(days), truth_(coils, in_the_bin) {}

    void run() {
        int day = 0;
        while (day < days_) {
            if (day % 35 >= 28) {
                const int week = std::min(7, days_ - day);
                apart(day, week);
                day += week;
            } else {
                one_day(main_, day, 1, boats);
                check_against_truth();
                ++day;
            }
        }
    }

    [[nodiscard]] const std::vector<Handover>& record() const { return main_.record; }
    [[nodiscard]] int lost() const { return static_cast<int>(std::ranges::count(truth_, gone)); }
    int refused = 0, disputes = 0, overnight = 0, found_again = 0;

  private:
    bool chance(double probability) {
        return std::uniform_real_distribution<>(0, 1)(lot_) < probability;
    }
    int any_coil() { return std::uniform_int_distribution<>(0, coils_ - 1)(lot_); }

    static Place place_of(int where) {
        if (where == in_the_bin) return in_bin();
        return on_boat(where);
    }
    void hand(Laptop& laptop, int coil, const Place& to) {
        laptop.write(coil, to, ++minute_, ++number_);
    }

    // What the boats from `first` to `last` do on a day, written down on `laptop`.
    void one_day(Laptop& laptop, int day, int first, int last) {
        minute_ = std::max(minute_, day * 24 * 60);
        const CustodyNow known(laptop.record);
        std::set<int> taken;  // since `known` was made
        for (int boat = first; boat <= last; ++boat) hand_out(laptop, boat, known, taken);
        for (int coil = 0; coil < coils_; ++coil) {
            const int boat = truth_[static_cast<std::size_t>(coil)];
            if (boat >= first && boat <= last) through_the_day(laptop, coil, boat);
            if (boat == gone && first == 1 && chance(0.01)) {
                hand(laptop, coil, in_bin());
                truth_[static_cast<std::size_t>(coil)] = in_the_bin;
                ++found_again;
            }
        }
    }
    void hand_out(Laptop& laptop, int boat, const CustodyNow& known, std::set<int>& taken) {
        for (int i = 0; i < 8; ++i) {
            const int coil = any_coil();
            const auto now = known.place_in_the_end(coil_thing(coil));
            if (taken.contains(coil) || refusal_of(now, on_boat(boat)) != Refusal::none) {
                ++refused;  // it is out already, or lost: the program says so, and it stays there
                continue;
            }
            hand(laptop, coil, on_boat(boat));
            taken.insert(coil);
            auto& is_at = truth_[static_cast<std::size_t>(coil)];
            // While laptops are apart, the other one may have it out: then this is a phantom.
            if (is_at == in_the_bin) is_at = boat;
        }
    }
    void through_the_day(Laptop& laptop, int coil, int boat) {
        auto& is_at = truth_[static_cast<std::size_t>(coil)];
        if (chance(0.01)) {
            hand(laptop, coil, lost_from(boat));
            is_at = gone;
        } else if (chance(0.04)) {
            ++overnight;  // forgotten on the boat
        } else {
            hand(laptop, coil, in_bin());
            is_at = in_the_bin;
        }
    }

    // Two laptops for some days, then merged, and what is disputed looked for and told.
    void apart(int day, int days) {
        Laptop one = main_;
        Laptop other = main_;
        const auto before = main_.record.size();
        for (int i = 0; i < days; ++i) {
            one_day(one, day + i, 1, boats / 2);
            one_day(other, day + i, boats / 2 + 1, boats);
        }
        const auto touched = [&](const Laptop& laptop) {
            std::set<Thing> things;
            for (auto at = before; at < laptop.record.size(); ++at) {
                things.insert(laptop.record[at].thing);
            }
            return things;
        };
        std::vector<Thing> by_both;
        std::ranges::set_intersection(touched(one), touched(other), std::back_inserter(by_both));
        main_ = merged(one, other);
        CHECK(main_.record.size() == one.record.size() + other.record.size() - before);
        CHECK(merged(other, one).record == main_.record);
        const CustodyNow together(main_.record);
        CHECK(together.disputed() == by_both);
        disputes += static_cast<int>(by_both.size());
        for (int coil = 0; coil < coils_; ++coil) {
            const int where = truth_[static_cast<std::size_t>(coil)];
            if (std::ranges::find(by_both, coil_thing(coil)) == by_both.end()) continue;
            hand(main_, coil, where == gone ? Place{.where = Whereabouts::lost} : place_of(where));
        }
        CHECK(CustodyNow(main_.record).disputed().empty());
        check_against_truth();
    }

    // Every coil is in the one place where it truly is, and the list of what is out is the truth.
    void check_against_truth() {
        const CustodyNow custody(main_.record);
        std::vector<Thing> truly_out;
        int wrong = 0;
        for (int coil = 0; coil < coils_; ++coil) {
            const int where = truth_[static_cast<std::size_t>(coil)];
            const auto place = custody.place_in_the_end(coil_thing(coil));
            const bool is_right =
                where == gone ? place.where == Whereabouts::lost : place == place_of(where);
            wrong += is_right ? 0 : 1;
            if (where > in_the_bin) truly_out.push_back(coil_thing(coil));
        }
        CHECK(wrong == 0);
        std::ranges::sort(truly_out);
        CHECK(custody.out() == truly_out);
        std::size_t on_boats = 0;
        for (int boat = 1; boat <= boats; ++boat) {
            on_boats += custody.on_boat(id_of<Boat>(boat)).size();
        }
        CHECK(on_boats == truly_out.size());  // on one boat each
    }

    int coils_, days_;
    std::vector<int> truth_;  // the bin, a boat's number, or gone
    Laptop main_;
    int minute_ = 0, number_ = 0;
    std::mt19937 lot_{20260601};
};

}  // namespace

TEST_SUITE("A simulated season") {
    TEST_CASE("custody is never in two places, nothing vanishes, the evening's list is the truth") {
        const char* asked = std::getenv("COILBOOK_SEASON");
        const bool is_whole = asked != nullptr && std::string(asked) == "whole";
        Season season(is_whole ? 3000 : 300, is_whole ? 200 : 40);
        season.run();
        MESSAGE(season.record().size()
                << " handovers, " << season.refused << " refused, " << season.disputes
                << " disputes, " << season.overnight << " overnight, " << season.lost() << " lost, "
                << season.found_again << " found again");
        // Each kind of fault happened.
        CHECK(season.refused > 0);
        CHECK(season.disputes > 0);
        CHECK(season.overnight > 0);
        CHECK(season.lost() > 0);
        // The season's losses add up to what is truly gone.
        int lost = 0;
        for (const auto& loss : season_losses(season.record(), minute_after_start(0),
                                              minute_after_start(400 * 24 * 60),
                                              [](const Thing&) { return std::string("T-11"); })) {
            lost += loss.lost;
        }
        CHECK(lost == season.lost());
    }
}
