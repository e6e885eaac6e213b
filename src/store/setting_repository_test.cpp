#include "store/setting_repository.h"

#include "store/history_repository.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

TEST_SUITE("Settings in the catalogue") {
    TEST_CASE("a setting is kept, replaced and cleared, and the history has each step") {
        auto catalogue = Catalogue::in_memory();
        auto& settings = catalogue.settings();
        CHECK_FALSE(settings.get("water").has_value());
        for (const char* value : {"10 C", "12 C"}) {
            REQUIRE(in_an_act(catalogue, [&](Act& act) {
                        return settings.put(act, "water", value);
                    }).has_value());
        }
        CHECK(settings.get("water") == "12 C");
        CHECK(settings.all() == std::map<std::string, std::string>{{"water", "12 C"}});
        in_an_act(catalogue, [&](Act& act) { settings.clear(act, "water"); });
        CHECK(settings.all().empty());
        std::vector<db::Value> became;
        for (const auto& entry : catalogue.history().of_thing("water")) {
            for (const auto& each : catalogue.history().changes_of(entry.note.id)) {
                became.push_back(each.became);
            }
        }
        CHECK(became ==
              std::vector<db::Value>{db::Value{}, std::string("12 C"), std::string("10 C")});
    }

    TEST_CASE("what is no text is refused") {
        auto catalogue = Catalogue::in_memory();
        CHECK_FALSE(in_an_act(catalogue, [&](Act& act) {
                        return catalogue.settings().put(act, "water", "\xFF");
                    }).has_value());
        CHECK(catalogue.settings().all().empty());
    }
}
