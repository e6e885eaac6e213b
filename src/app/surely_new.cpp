#include "app/surely_new.h"

namespace coilbook::app {

SurelyNew::SurelyNew(const store::KindRepository& table)
    : kind_(table.kind()), greatest_id_(table.greatest_id()) {
    table.each_name([&](std::string_view name) { (void)is_told(name); });
}

bool SurelyNew::is_new(const store::KindRow& row) {
    const auto name = kind_.in_masses->name_of(row);
    const bool has_known_name = name && !name->empty() && is_told(*name);
    const auto* id = std::get_if<std::string>(&row.front());
    const bool has_known_id = id != nullptr && (is_told(*id) || *id <= greatest_id_);
    return name && !has_known_name && !has_known_id;
}

void SurelyNew::note_name(const store::KindRow& row) {
    if (const auto name = kind_.in_masses->name_of(row)) (void)is_told(*name);
}

bool SurelyNew::is_told(std::string_view words) {
    return told_.seen_before(words, ++asked_).has_value();
}

}  // namespace coilbook::app
