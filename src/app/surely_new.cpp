#include "app/surely_new.h"

namespace coilbook::app {
namespace {

constexpr std::size_t characters_of_the_moment = 10;  // of an id (base/id.cpp)

}  // namespace

SurelyNew::SurelyNew(const store::KindRepository& table)
    : kind_(table.kind()), greatest_id_(table.greatest_id()) {
    table.each_name([&](std::string_view name) { note_name(name); });
}

bool SurelyNew::note(const store::KindRow& row) {
    const auto name = kind_.in_masses->name_of(row);
    const bool has_new_name = name && (name->empty() || note_name(*name));
    const auto* id = std::get_if<std::string>(&row.front());
    const bool has_new_id = id == nullptr || note_id(*id);
    return has_new_name && has_new_id;
}

void SurelyNew::note_name_of(const store::KindRow& row) {
    if (const auto name = kind_.in_masses->name_of(row)) note_name(*name);
}

bool SurelyNew::note_name(std::string_view name) {
    return !names_.seen_before(name, ++names_noted_);
}

bool SurelyNew::note_id(std::string_view id) {
    if (id <= greatest_id_) return false;
    const auto moment = id.substr(0, characters_of_the_moment);
    if (moment > moment_) {
        moment_ = moment;
        ids_of_moment_.clear();
    }
    return moment == moment_ && ids_of_moment_.emplace(id).second;
}

}  // namespace coilbook::app
