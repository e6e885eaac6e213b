// Builders for tests of rigs, boats and custody: ids by number, moments by minute.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "catalog/custody.h"

namespace coilbook {

template <class Kind>
[[nodiscard]] Id<Kind> id_of(int number) {
    RandomBytes bytes{};
    bytes[9] = static_cast<std::uint8_t>(number & 255);
    bytes[8] = static_cast<std::uint8_t>(number >> 8 & 255);
    bytes[7] = static_cast<std::uint8_t>(number >> 16 & 255);
    return Id<Kind>::make(Instant{}, bytes);
}
[[nodiscard]] inline Instant minute_after_start(int minutes) {
    return Instant{std::chrono::sys_days{std::chrono::year{2026} / 5 / 1}} +
           std::chrono::minutes{minutes};
}

// A record of handovers that is written down by one computer which knows all of it.
class RecordBuilder {
  public:
    RecordBuilder& hand(const Thing& thing, const Place& to) {
        int turn = 0;
        for (const auto& each : record_) turn += each.thing == thing ? 1 : 0;
        return hand(thing, to, turn);
    }
    // As somebody writes it down who knows of so many handovers of the thing.
    RecordBuilder& hand(const Thing& thing, const Place& to, int turn) {
        ++minute_;
        record_.push_back(
            {id_of<Handover>(minute_), thing, to, minute_after_start(minute_), "test", "", turn});
        return *this;
    }
    operator const std::vector<Handover>&() const { return record_; }  // NOLINT: it ends so
    [[nodiscard]] const std::vector<Handover>& record() const { return record_; }

  private:
    std::vector<Handover> record_;
    int minute_ = 0;
};

[[nodiscard]] inline Thing coil_thing(int number) {
    return id_of<Coil>(number);
}
[[nodiscard]] inline Thing rig_thing(int number) {
    return id_of<Rig>(number);
}
[[nodiscard]] inline Place on_boat(int number) {
    return {.where = Whereabouts::boat, .boat = id_of<Boat>(number)};
}
[[nodiscard]] inline Place in_rig(int number, RigRole role) {
    return {.where = Whereabouts::rig, .rig = id_of<Rig>(number), .role = role};
}
[[nodiscard]] inline Place lost_from(int number) {
    return {.where = Whereabouts::lost, .boat = id_of<Boat>(number)};
}
[[nodiscard]] inline Place in_bin() {
    return {};
}

}  // namespace coilbook
