// Rigs, boats, clients, days, custody and seasons, as the doors call them.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "app/check_catalogue.h"
#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/day.h"
#include "app/labels.h"
#include "app/outfit.h"
#include "app/rigs.h"
#include "app/season.h"
#include "app/undo.h"
#include "store/custody_repository.h"
#include "support/paper.h"
#include "support/temporary_folder.h"
#include "support/trees.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

const Day sunday = day_from("2026-06-14").value();

// Two boats, a rig for size 8, and tips of known classes.
struct Outfit {
    Workshop workshop = workshop_in_memory();
    Rig rig;

    Outfit()
        : rig([this] {
              RigWords words;
              words.code = "R1";
              words.name = "blue two-hander";
              words.line_size = LineSize{8};
              words.rod = "13 ft";
              return add_rig(workshop, words).value();
          }()) {
        REQUIRE(add_boat(workshop, "Heron", 3, "").has_value());
        REQUIRE(add_boat(workshop, "Puddle", 2, "").has_value());
        tip("A1", "size 8 type 3 tip");
        tip("A2", "size 8 type 6 tip");
        tip("A3", "size 8 type 8 tip");
    }
    void tip(const char* code, const char* class_name) {
        const auto coil = add_coil(workshop, code).value();
        REQUIRE(confirm_coil(workshop, coil, class_name).has_value());
    }
    void hand(Whereabouts to, std::vector<std::string> codes, const std::string& boat = {}) {
        const auto handed = hand_over(workshop, {to, boat, {}, {}, std::move(codes)});
        REQUIRE_MESSAGE(handed.has_value(), handed.error().sentence);
    }
    [[nodiscard]] std::string refused(Whereabouts to, std::vector<std::string> codes,
                                      const std::string& boat = {}) {
        const auto handed = hand_over(workshop, {to, boat, {}, {}, std::move(codes)});
        REQUIRE_FALSE(handed.has_value());
        return to_line(handed.error());
    }
    [[nodiscard]] std::string where(const char* code) { return where_is(workshop, code).value(); }
};

std::vector<PlanProblem> problems_now(Workshop& workshop) {
    Inventory inventory(workshop);
    return problems_of(workshop, inventory, sunday);
}

template <class Write>
std::string csv_of(Write write) {
    std::ostringstream out;
    write(out);
    return out.str();
}

}  // namespace

TEST_SUITE("The outfit") {
    TEST_CASE("a tip is handed out, asked for and comes back") {
        Outfit outfit;
        CHECK(outfit.where("A2") == "A2 (size 8 type 6 tip): in the bin");
        outfit.hand(Whereabouts::boat, {"A2"}, "heron");
        says(outfit.where(" A2 "), "A2 (size 8 type 6 tip): with boat Heron, since 2026-01-01");
        outfit.hand(Whereabouts::bin, {"A2"});
        says(outfit.where("A2"), "in the bin");
        CHECK(csv_of([&](auto& out) {
                  (void)write_custody_of(outfit.workshop, "A2", out, Format::csv);
              }).starts_with("at,place,by,note\n"));
    }

    TEST_CASE("what is out already is not handed out again, and nothing of that hand-out is kept") {
        Outfit outfit;
        outfit.hand(Whereabouts::boat, {"A2"}, "Heron");
        says(outfit.refused(Whereabouts::boat, {"A1", "A2"}, "Puddle"), "with boat Heron");
        says(outfit.where("A1"), "in the bin");
        says(outfit.refused(Whereabouts::boat, {"A2"}, "Heron"), "already");
        says(outfit.refused(Whereabouts::boat, {"A1", "A1"}, "Heron"), "twice");
        says(outfit.refused(Whereabouts::boat, {"A1"}, "Ark"), "Heron and Puddle");
        says(outfit.refused(Whereabouts::boat, {"A9"}, "Heron"), "perhaps");
        says(outfit.refused(Whereabouts::bin, {"A1"}), "in the bin already");
        outfit.hand(Whereabouts::lost, {"A2"});
        says(outfit.where("A2"), "lost from boat Heron");
        says(outfit.refused(Whereabouts::boat, {"A2"}, "Puddle"), "lost");
    }

    TEST_CASE("a rig takes its wallet along, and one key changes its tip") {
        Outfit outfit;
        REQUIRE(string_rig(outfit.workshop, outfit.rig, {"A1"}, RigRole::tip).has_value());
        REQUIRE(string_rig(outfit.workshop, outfit.rig, {"A2", "A3"}, RigRole::wallet).has_value());
        outfit.hand(Whereabouts::boat, {"R1"}, "Heron");
        says(outfit.where("A3"), "in the wallet of rig R1, the rig with boat Heron");
        says(outfit.refused(Whereabouts::boat, {"A3"}, "Puddle"), "with boat Heron");
        // type 3, then 6, then 8, then 3 again.
        CHECK(change_tip(outfit.workshop, outfit.rig)->on == "A2");
        CHECK(change_tip(outfit.workshop, outfit.rig)->on == "A3");
        const auto again = change_tip(outfit.workshop, outfit.rig).value();
        CHECK(again.on == "A1");
        CHECK(again.off == "A3");
        CHECK(change_tip(outfit.workshop, outfit.rig, "A3")->on == "A3");
        says(change_tip(outfit.workshop, outfit.rig, "A3").error().sentence, "not in the wallet");
        REQUIRE(undo(outfit.workshop).has_value());
        says(outfit.where("A1"), "tip of rig R1");
        const auto shown =
            csv_of([&](auto& out) { (void)write_rig(outfit.workshop, "R1", out, Format::csv); });
        CHECK(mentions(shown, "tip,A1,size 8 type 3 tip\n"));
        CHECK(mentions(shown, "in the wallet,A2,"));
        says(csv_of([&](auto& out) { write_rigs(outfit.workshop, out, Format::csv); }),
             "R1,blue two-hander,8,A1,2,with boat Heron");
    }

    TEST_CASE("a rig and a coil never share a code") {
        Outfit outfit;
        RigWords words;
        words.code = "A1";
        CHECK_FALSE(add_rig(outfit.workshop, words).has_value());
        says(add_coil(outfit.workshop, "R1").error().sentence, "code of a rig");
    }

    TEST_CASE("the day's plan is held against what there is") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        REQUIRE(string_rig(workshop, outfit.rig, {"A1"}, RigRole::tip).has_value());
        REQUIRE(add_outing(workshop, sunday, "Heron").has_value());
        REQUIRE(add_outing(workshop, sunday, "Puddle").has_value());
        REQUIRE(promise_things(workshop, sunday, "Heron", "", {"R1"}).has_value());
        const auto gap = problems_now(workshop);
        REQUIRE(gap.size() == 1);
        CHECK(gap[0].kind == "no fast tip");
        CHECK(gap[0].sentence ==
              "boat Heron has no fast-sinking tip for its rod of size 8: take A2 and A3");
        REQUIRE(promise_things(workshop, sunday, "Heron", "", {"A2"}).has_value());
        CHECK(problems_now(workshop).empty());
        // Promised twice, too few, and out with another boat.
        REQUIRE(promise_things(workshop, sunday, "Puddle", "", {"A2", "A1"}).has_value());
        REQUIRE(promise_class(workshop, sunday, "Puddle", "", "size 8 type 8 tip", 3).has_value());
        outfit.hand(Whereabouts::boat, {"A2"}, "Puddle");
        std::vector<std::string> kinds;
        for (const auto& each : problems_now(workshop))
            kinds.push_back(each.kind + " " + each.what);
        CHECK(kinds == std::vector<std::string>{"promised twice A1", "promised twice A2",
                                                "not at hand A2", "too few size 8 type 8 tip"});
        CHECK(withdraw_promises(workshop, sunday, "Puddle", {"A1", "A2"}) == 2);
        CHECK(problems_now(workshop).size() == 2);
        CHECK_FALSE(promise_class(workshop, sunday, "Puddle", "", "T-1000", 1).has_value());
        CHECK_FALSE(promise_things(workshop, sunday + std::chrono::days{1}, "Heron", "", {"A1"})
                        .has_value());
        CHECK(cancel_outings(workshop, sunday, "Puddle") == 1);
    }

    TEST_CASE("a packing list is ticked by handing out, and calls clients by their codes") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        const auto client =
            add_client(workshop, {"Ida Brandvik", LineSize{8}, "right", ""}).value();
        REQUIRE(string_rig(workshop, outfit.rig, {"A1"}, RigRole::wallet).has_value());
        REQUIRE(add_outing(workshop, sunday, "Heron", "ida brandvik").has_value());
        REQUIRE(promise_things(workshop, sunday, "Heron", client.code, {"R1", "A2"}).has_value());
        outfit.hand(Whereabouts::boat, {"A2"}, "Heron");
        const auto list = packing_list(workshop, sunday, "Heron").value();
        CHECK(list.title == "Heron, 2026-06-14");
        CHECK(list.who == client.code);
        REQUIRE(list.rows.size() == 3);
        CHECK(list.rows[0] ==
              labels::PackingRow{"R1", "rig, size 8: blue two-hander", false, false});
        CHECK(list.rows[1] == labels::PackingRow{"A1", "wallet: size 8 type 3 tip", false, true});
        CHECK(list.rows[2] == labels::PackingRow{"A2", "size 8 type 6 tip", true, false});
        outfit.hand(Whereabouts::boat, {"R1"}, "Heron");
        const auto packed = packing_list(workshop, sunday, "Heron").value();
        CHECK(std::ranges::all_of(packed.rows, &labels::PackingRow::is_ticked));
        CHECK(packing_list(workshop, sunday, "Heron", true)->who == "Ida Brandvik");
        CHECK_FALSE(packing_list(workshop, sunday, "Puddle").has_value());
        // Names are in no export unless they are asked for.
        const auto outings =
            csv_of([&](auto& out) { write_outings(workshop, sunday, false, out, Format::csv); });
        CHECK(outings ==
              "day,boat,client,carries\n2026-06-14,Heron," + client.code + ",\"R1, A2\"\n");
        CHECK_FALSE(mentions(
            csv_of([&](auto& out) { write_clients(workshop, false, out, Format::csv); }), "Ida"));
        says(csv_of([&](auto& out) { write_clients(workshop, true, out, Format::csv); }), "Ida");
    }

    TEST_CASE("what is needed by count is ticked by what is aboard, and extras are told") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        outfit.tip("A4", "size 8 type 6 tip");
        REQUIRE(add_outing(workshop, sunday, "Heron").has_value());
        REQUIRE(promise_class(workshop, sunday, "Heron", "", "size 8 type 6 tip", 2).has_value());
        outfit.hand(Whereabouts::boat, {"A2", "A1"}, "Heron");
        const auto words = [&] {
            std::vector<std::string> found;
            Inventory inventory(workshop);
            const auto boats = boats_on(workshop, inventory, sunday, false);
            for (const auto& row : boats.at(0).carries) {
                found.push_back((row.is_ticked ? "+ " : "- ") + row.code + " " + row.what);
            }
            return found;
        };
        CHECK(words() == std::vector<std::string>{"-  2 x size 8 type 6 tip, 1 aboard",
                                                  "+ A2 size 8 type 6 tip",
                                                  "+ A1 size 8 type 3 tip, not on the plan"});
        CHECK(problems_now(workshop).empty());
        outfit.hand(Whereabouts::boat, {"A4"}, "Heron");
        CHECK(words().front() == "+  2 x size 8 type 6 tip");
        CHECK(withdraw_promises(workshop, sunday, "Heron", {"size 8 type 6 tip"}) == 1);
        CHECK(words().size() == 3);
        CHECK_FALSE(withdraw_promises(workshop, sunday, "Heron", {"T-11"}).has_value());
    }

    TEST_CASE("a boat takes no more people than it has seats for") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        for (const char* name : {"Ida Brandvik", "Tomas Rell"}) {
            REQUIRE(add_client(workshop, {name, {}, "", ""}).has_value());
            REQUIRE(add_outing(workshop, sunday, "Puddle", name).has_value());
        }
        const auto problems = problems_now(workshop);
        REQUIRE(problems.size() == 1);
        CHECK(problems[0].kind == "too many people");
        CHECK(problems[0].sentence == "boat Puddle takes 2 people: 2 clients and the guide are 3");
    }

    TEST_CASE("stock tells what the coming days need and miss") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        const Day day = today(workshop);
        REQUIRE(add_outing(workshop, day, "Heron").has_value());
        REQUIRE(promise_class(workshop, day, "Heron", "", "size 8 type 6 tip", 3).has_value());
        REQUIRE(promise_things(workshop, day, "Heron", "", {"A1"}).has_value());
        Inventory inventory(workshop);
        const auto rows = stock_of(workshop, inventory, day);
        const auto& six = *std::ranges::find(rows, "size 8 type 6 tip", &StockRow::class_name);
        CHECK(six.promised == 3);
        CHECK(six.missing == 2);
        CHECK(std::ranges::find(rows, "size 8 type 3 tip", &StockRow::class_name)->promised == 1);
        CHECK(stock_of(workshop, inventory, day + std::chrono::days{1}).front().promised == 0);
    }

    TEST_CASE("rigs, boats and clients are told anew, and old names become free") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        auto rig = outfit.rig;
        rig.code = "R7";
        rig.reel = "the large one";
        REQUIRE(change_rig(workshop, rig).has_value());
        CHECK(rig_called(workshop, "R7")->reel == "the large one");
        rig.code = "A1";
        says(change_rig(workshop, rig).error().sentence, "another thing");

        auto boat = boat_called(workshop, "Heron").value();
        boat.name = " Grey Heron ";
        boat.seats = 4;
        REQUIRE(change_boat(workshop, boat).has_value());
        CHECK(boat_called(workshop, "grey heron")->seats == 4);
        boat.name = "puddle";
        says(change_boat(workshop, boat).error().sentence, "already");
        REQUIRE(undo(workshop).has_value());
        CHECK(boat_called(workshop, "Heron")->seats == 3);

        auto client = add_client(workshop, {"Ida Brandvik", {}, "right", ""}).value();
        client.person = Person{"Ida Bergvik", LineSize{8}, "left", ""};
        REQUIRE(change_client(workshop, client).has_value());
        CHECK(client_called(workshop, "ida bergvik")->person == client.person);
        CHECK_FALSE(client_called(workshop, "Ida Brandvik").has_value());
        client.person->hand = "up";
        CHECK_FALSE(change_client(workshop, client).has_value());
        REQUIRE(forget_client(workshop, client.code).has_value());
        client.person->hand = "left";
        CHECK_FALSE(change_client(workshop, client).has_value());
    }

    TEST_CASE("a boat or rig with something in it is not retired, and says what") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        const auto heron = boat_called(workshop, "Heron").value();
        outfit.hand(Whereabouts::boat, {"A2"}, "Heron");
        says(retire_boat(workshop, heron, sunday).error().sentence, "still has A2");
        outfit.hand(Whereabouts::bin, {"A2"});
        REQUIRE(add_outing(workshop, sunday, "Heron").has_value());
        says(retire_boat(workshop, heron, sunday).error().sentence, "2026-06-14");
        REQUIRE(retire_boat(workshop, heron, sunday + std::chrono::days{1}).has_value());
        CHECK_FALSE(boat_called(workshop, "Heron").has_value());
        CHECK(add_boat(workshop, "Heron", 2, "").has_value());

        REQUIRE(string_rig(workshop, outfit.rig, {"A1"}, RigRole::tip).has_value());
        says(outfit.refused(Whereabouts::retired, {"R1"}), "still has A1");
        outfit.hand(Whereabouts::bin, {"A1"});
        outfit.hand(Whereabouts::retired, {"R1"});
        CHECK_FALSE(rig_called(workshop, "R1").has_value());
        CHECK(add_coil(workshop, "R1").has_value());
    }

    TEST_CASE("a rig's parts say what fits, and which tip comes next") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        outfit.tip("B1", "size 10 type 3 tip");
        REQUIRE(string_rig(workshop, outfit.rig, {"A1"}, RigRole::tip).has_value());
        REQUIRE(string_rig(workshop, outfit.rig, {"B1", "A3"}, RigRole::wallet).has_value());
        Inventory inventory(workshop);
        const auto parts = parts_of(inventory, outfit.rig);
        REQUIRE(parts.size() == 3);
        CHECK(parts[0].role == RigRole::tip);
        CHECK(parts[1].code == "B1");  // type 3, lighter than type 8
        CHECK(parts[1].fits == std::vector{LineSize{10}});
        CHECK(parts[1].is_next);  // of the same grade as A1, and after it by its code
        CHECK_FALSE(parts[2].is_next);
        const auto tips = tips_for(inventory, LineSize{8});
        REQUIRE(tips.size() == 1);
        CHECK(tips[0].code == "A2");
    }

    TEST_CASE("stock, what is out, and a season's losses") {
        Outfit outfit;
        auto& workshop = outfit.workshop;
        outfit.tip("A4", "size 8 type 6 tip");
        outfit.hand(Whereabouts::boat, {"A1", "A2", "A4"}, "Heron");
        outfit.hand(Whereabouts::lost, {"A2"});
        outfit.hand(Whereabouts::damaged, {"A3"});
        outfit.hand(Whereabouts::bin, {"A4"});
        const auto stock = csv_of([&](auto& out) { write_stock(workshop, out, Format::csv); });
        CHECK(stock ==
              "class,bin,rig,boat,lent,damaged,lost,disputed,total,promised,missing\n"
              "rig,1,0,0,0,0,0,0,1,0,0\n"
              "size 8 type 3 tip,0,0,1,0,0,0,0,1,0,0\n"
              "size 8 type 6 tip,1,0,0,0,0,1,0,2,0,0\n"
              "size 8 type 8 tip,0,0,0,0,1,0,0,1,0,0\n");
        std::ostringstream out;
        CHECK(write_out(workshop, out, Format::csv) == 1);
        CHECK(mentions(out.str(), "\nHeron,A1,size 8 type 3 tip,,2026-01-01T"));
        const Season year{day_from("2026-01-01").value(), day_from("2026-12-31").value()};
        CHECK(csv_of([&](auto& losses) { write_losses(workshop, year, losses, Format::csv); }) ==
              "boat,class,lost,found,damaged,retired\n"
              ",size 8 type 8 tip,0,0,1,0\n"
              "Heron,size 8 type 6 tip,1,0,0,0\n");
        CHECK(csv_of([&](auto& gone) { write_to_replace(workshop, year, gone, Format::csv); }) ==
              "class,gone,left\nsize 8 type 6 tip,1,1\nsize 8 type 8 tip,1,0\n");
        Inventory inventory(workshop);
        const auto plot = losses_plot(workshop, inventory, year, true);
        REQUIRE(plot.rows.size() == 2);
        CHECK(plot.rows[0].name == "Heron");
        CHECK(plot.rows[0].counts == std::vector<int>{1, 0, 0});
        // A tip that is retired frees its code and still counts as what it was.
        outfit.hand(Whereabouts::retired, {"A3"});
        CHECK(add_coil(workshop, "A3").has_value());
        says(csv_of([&](auto& losses) { write_losses(workshop, year, losses, Format::csv); }),
             ",size 8 type 8 tip,0,0,0,1\n");
    }

    TEST_CASE("lists, labels and losses are saved beside the catalogue, without names") {
        const TemporaryFolder folder;
        auto workshop = Workshop::create(folder / "outfit.coilbook", foretold_surroundings());
        REQUIRE(add_boat(workshop, "Second Wind", 3, "").has_value());
        REQUIRE(add_client(workshop, {"Ida Brandvik", {}, "", ""}).has_value());
        RigWords words_of_rig;
        words_of_rig.code = "R1";
        REQUIRE(add_rig(workshop, words_of_rig).has_value());
        REQUIRE(add_outing(workshop, sunday, "Second Wind", "Ida Brandvik").has_value());
        REQUIRE(promise_things(workshop, sunday, "Second Wind", "", {"R1"}).has_value());
        const auto list = save_packing_list(workshop, sunday, "second wind").value();
        CHECK(list == folder / "outfit-pack-2026-06-14-second-wind.pdf");
        const auto text = PrintedPdf(bytes_of(list)).text();
        for (const auto* words : {"Second Wind", "R1", "life jacket", "local regulations"}) {
            CHECK_MESSAGE(mentions(text, words), words);
        }
        CHECK_FALSE(mentions(text, "Ida"));
        CHECK(save_packing_list(workshop, sunday, "Second Wind") ==
              folder / "outfit-pack-2026-06-14-second-wind-2.pdf");
        CHECK_FALSE(save_packing_list(workshop, sunday, "Ark").has_value());

        const auto label = save_label(workshop, "R1").value();
        CHECK(mentions(PrintedPdf(bytes_of(label)).text(), "R1"));
        CHECK_FALSE(save_label(workshop, "R2").has_value());

        REQUIRE(hand_over(workshop, {Whereabouts::boat, "Second Wind", {}, {}, {"R1"}}));
        REQUIRE(hand_over(workshop, {Whereabouts::lost, {}, {}, "in the slot", {"R1"}}));
        const Season year{day_from("2026-01-01").value(), day_from("2026-12-31").value()};
        CHECK(bytes_of(save_losses(workshop, year)) ==
              "boat,class,lost,found,damaged,retired\nSecond Wind,rig,1,0,0,0\n");
    }

    TEST_CASE("a forgotten client is gone from file, history and exports, with a word on copies") {
        const TemporaryFolder folder;
        const auto file = folder / "outfit.coilbook";
        auto workshop = Workshop::create(file, foretold_surroundings());
        const auto client =
            add_client(workshop, {"Zephyrine Quillfeather", {}, "left", "tires after noon"})
                .value();
        REQUIRE(add_boat(workshop, "Heron", 3, "").has_value());
        REQUIRE(add_outing(workshop, sunday, "Heron", client.code).has_value());
        workshop.catalogue().back_up(folder / "copy.coilbook");
        const auto forgotten = forget_client(workshop, "zephyrine quillfeather").value();
        CHECK(forgotten.code == client.code);
        CHECK(forgotten.mentions.empty());
        CHECK(std::ranges::find(forgotten.copies, folder / "copy.coilbook") !=
              forgotten.copies.end());
        CHECK_FALSE(mentions(bytes_of(file), "Quillfeather"));
        CHECK_FALSE(mentions(bytes_of(file.string() + "-wal"), "Quillfeather"));
        CHECK(mentions(bytes_of(folder / "copy.coilbook"), "Quillfeather"));
        says(csv_of([&](auto& out) { write_outings(workshop, sunday, true, out, Format::csv); }),
             client.code);
        std::ostringstream found;
        CHECK(check_catalogue(file, found, Format::csv));
        CHECK_FALSE(undo(workshop).has_value());
        CHECK(forget_client(workshop, client.code).has_value());  // wipes once more
        CHECK_FALSE(forget_client(workshop, "nobody").has_value());
    }

    TEST_CASE("the demonstration's boats and clients are taken in, and a bad row none of them") {
        Outfit outfit;
        const std::filesystem::path demo = source_tree() / "seed_demo";
        CHECK(take_in_clients(outfit.workshop, demo / "clients.csv") == 6);
        const auto again = take_in_boats(outfit.workshop, demo / "boats.csv");
        REQUIRE_FALSE(again.has_value());  // there is a Heron already
        says(to_line(again.error().front()), "Heron");
        auto fresh = workshop_in_memory();
        CHECK(take_in_boats(fresh, demo / "boats.csv") == 4);
        const TemporaryFolder folder;
        write_bytes(folder / "bad.csv", "name,line_size,hand\nIda,8,up\n");
        CHECK_FALSE(take_in_clients(fresh, folder / "bad.csv").has_value());
        write_bytes(folder / "odd.csv", "name,age\nIda,50\n");
        CHECK_FALSE(take_in_clients(fresh, folder / "odd.csv").has_value());
        CHECK(csv_of([&](auto& out) { write_clients(fresh, true, out, Format::csv); }) ==
              "code,name,line_size,hand,notes\n");
    }
}
