// A catalogue for tests of the pages about rigs, the day and the stock: two boats, a client, a rig
// for size 8 with a tip on and one in its wallet, and spare tips of known classes.
#pragma once

#include <stdexcept>
#include <string>

#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/day.h"
#include "app/outfit.h"
#include "app/rigs.h"
#include "support/workshop.h"

namespace coilbook::app {

struct Shed {
    Workshop workshop = workshop_in_memory();
    std::string client;  // the code of Ida Brandvik
    Day tomorrow = today(workshop) + std::chrono::days{1};

    Shed() {
        sure(add_boat(workshop, "Heron", 3, ""));
        sure(add_boat(workshop, "Puddle", 2, "raft"));
        client = sure(add_client(workshop, {"Ida Brandvik", LineSize{8}, "right", ""})).code;
        RigWords words;
        words.code = "R1";
        words.name = "blue two-hander";
        words.line_size = LineSize{8};
        words.rod = "13 ft";
        const auto rig = sure(add_rig(workshop, words));
        tip("A1", "size 8 type 3 tip");
        tip("A2", "size 8 type 6 tip");
        tip("A3", "size 8 type 8 tip");
        tip("B1", "T-11");
        tip("B2", "T-11");
        if (!string_rig(workshop, rig, {"A1"}, RigRole::tip) ||
            !string_rig(workshop, rig, {"A2"}, RigRole::wallet)) {
            throw std::logic_error("the rig is not strung");
        }
    }
    void tip(const char* code, const char* class_name) {
        sure(confirm_coil(workshop, sure(add_coil(workshop, code)), class_name));
    }
    [[nodiscard]] std::string where(const char* code) { return sure(where_is(workshop, code)); }

    template <class T>
    static T sure(Result<T> result) {
        if (!result) throw std::logic_error(to_line(result.error()));
        if constexpr (!std::is_void_v<T>) return *std::move(result);
    }
};

}  // namespace coilbook::app
