#include "store/stored_value.h"

#include <utility>
#include <variant>

namespace coilbook::store {
namespace {

struct ToStored {
    template <class Q>
    StoredValue operator()(const Stated<Q>& stated) const {
        StoredValue cells{
            .value_si = si_of(stated.value), .standard_uncertainty_si = {}, .value_text = {}};
        if (stated.uncertainty) cells.standard_uncertainty_si = si_of(*stated.uncertainty);
        return cells;
    }
    StoredValue operator()(Tint tint) const { return word(name_of(tint)); }
    StoredValue operator()(Taper taper) const { return word(name_of(taper)); }
    StoredValue operator()(bool yes) const { return word(yes ? "yes" : "no"); }
    static StoredValue word(std::string text) {
        return {.value_si = {}, .standard_uncertainty_si = {}, .value_text = std::move(text)};
    }
};

}  // namespace

StoredValue stored(const ReadingValue& value) {
    return std::visit(ToStored{}, value);
}

}  // namespace coilbook::store
