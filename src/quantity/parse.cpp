#include "quantity/parse.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <span>
#include <system_error>

#include "base/text.h"
#include "quantity/units.h"

namespace coilbook {
namespace {

// One spelling of a unit. A value is (number * factor + zero) in SI; a difference has no zero.
struct Unit {
    std::string_view name;
    double factor;
    double zero = 0.0;
};

// What a kind of quantity accepts, and how a Problem tells it.
struct Kind {
    std::span<const Unit> units;
    std::string_view accepted;
    bool feet_and_inches = false;
};

constexpr std::array mass_units{
    Unit{"gr", grain.si()},     Unit{"grain", grain.si()}, Unit{"grains", grain.si()},
    Unit{"g", gram.si()},       Unit{"gram", gram.si()},   Unit{"grams", gram.si()},
    Unit{"mg", milligram.si()}, Unit{"kg", kilogram.si()}, Unit{"oz", ounce.si()},
    Unit{"lb", pound.si()},
};
constexpr std::array length_units{
    Unit{"in", inch.si()},   Unit{"inch", inch.si()},     Unit{"inches", inch.si()},
    Unit{"\"", inch.si()},   Unit{"″", inch.si()},        Unit{"''", inch.si()},
    Unit{"ft", foot.si()},   Unit{"foot", foot.si()},     Unit{"feet", foot.si()},
    Unit{"'", foot.si()},    Unit{"′", foot.si()},        Unit{"yd", yard.si()},
    Unit{"m", metre.si()},   Unit{"cm", centimetre.si()}, Unit{"mm", millimetre.si()},
    Unit{"thou", thou.si()},
};
constexpr std::array duration_units{
    Unit{"s", 1.0},
    Unit{"sec", 1.0},
    Unit{"ms", 0.001},
    Unit{"min", minute.si()},
};
constexpr std::array speed_units{
    Unit{"in/s", inch_per_second.si()},
    Unit{"ips", inch_per_second.si()},
    Unit{"ft/s", (foot / second).si()},
    Unit{"m/s", 1.0},
    Unit{"cm/s", 0.01},
};
constexpr std::array density_units{
    Unit{"g/cm3", 1000.0},
    Unit{"g/cm³", 1000.0},
    Unit{"kg/m3", 1.0},
    Unit{"kg/m³", 1.0},
};
constexpr std::array linear_density_units{
    Unit{"gr/ft", grain_per_foot.si()},
    Unit{"g/m", gram_per_metre.si()},
    Unit{"kg/m", 1.0},
};
constexpr std::array temperature_units{
    Unit{"C", 1.0, 273.15},
    Unit{"°C", 1.0, 273.15},
    Unit{"F", 1.0 / 1.8, 273.15 - 32.0 / 1.8},
    Unit{"°F", 1.0 / 1.8, 273.15 - 32.0 / 1.8},
    Unit{"K", 1.0},
};

constexpr Kind mass_kind{mass_units, "a weight in gr (grains) or g (grams), such as 22.4 gr"};
constexpr Kind length_kind{
    length_units, "a length in in, ft, mm, cm, m or thou, such as 24 in, 12 ft 3 in or 0.94 mm",
    true};
constexpr Kind duration_kind{duration_units, "a time in s or min, such as 12.5 s"};
constexpr Kind speed_kind{speed_units, "a speed in in/s, ft/s or m/s, such as 6 in/s"};
constexpr Kind density_kind{density_units, "a density in g/cm3 or kg/m3, such as 4.1 g/cm3"};
constexpr Kind linear_density_kind{linear_density_units,
                                   "a weight per length in gr/ft or g/m, such as 14 gr/ft"};
constexpr Kind temperature_kind{temperature_units, "a temperature in C or F, such as 10 C"};

// The unit of that name, or null. Capitals are forgiven: no two units differ by them alone.
const Unit* find_unit(const Kind& kind, std::string_view name) {
    for (const Unit& unit : kind.units) {  // as columns' heads have it, and soon found
        if (unit.name == name) return &unit;
    }
    for (const Unit& unit : kind.units) {
        if (unit.name.size() == name.size() && begins_in_any_case(name, unit.name)) return &unit;
    }
    return nullptr;
}

constexpr bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// Whether a unit may end before `rest`: "12ft3in" is feet and inches, "in/s" is not inches.
bool ends_a_unit(std::string_view rest) {
    return rest.empty() || is_digit(rest.front()) || rest.starts_with("±") ||
           std::string_view(" \t|+-").find(rest.front()) != std::string_view::npos;
}

// Walks through one text from left to right and keeps the whole of it for messages.
class Reader {
  public:
    Reader(std::string_view text, const Kind& kind, NumberStyle style)
        : whole_(trimmed(text)),
          rest_(whole_),
          kind_(&kind),
          style_(style),
          has_fractions_(whole_.find('/') != std::string_view::npos) {}

    [[nodiscard]] bool at_end() {
        skip_blanks();
        return rest_.empty();
    }
    [[nodiscard]] tl::unexpected<Problem> refuse(std::string_view why) const {
        return problem("", quoted(whole_) + " " + std::string(why), std::string(kind_->accepted));
    }
    [[nodiscard]] tl::unexpected<Problem> refuse_unit() const {
        const auto word = rest_.substr(0, rest_.find_first_of(" \t|"));
        return refuse("has the unknown unit " + quoted(word));
    }

    [[nodiscard]] bool at_number() {
        skip_blanks();
        return !rest_.empty() && (is_digit(rest_.front()) || rest_.front() == '.');
    }

    [[nodiscard]] bool take(std::string_view word) {
        skip_blanks();
        if (!rest_.starts_with(word)) return false;
        rest_.remove_prefix(word.size());
        return true;
    }

    // A decimal number, a fraction of whole numbers ("3/8"), or both ("24 3/8").
    [[nodiscard]] Result<double> number() {
        const auto first = decimal();
        if (!first) return first;
        if (!has_fractions_) return first;
        if (at_fraction_bar()) return over(*first);
        const auto before = rest_;
        skip_blanks();
        if (!rest_.empty() && is_digit(rest_.front())) {
            const auto second = decimal();
            if (second && at_fraction_bar()) {
                const auto part = over(*second);
                if (!part) return part;
                return *first + std::copysign(*part, *first);
            }
        }
        rest_ = before;
        return first;
    }

    // The longest spelling of a unit that stands here, or none. Capitals are forgiven.
    [[nodiscard]] const Unit* unit() {
        skip_blanks();
        if (rest_.empty()) return nullptr;
        const Unit* best = nullptr;
        for (const Unit& each : kind_->units) {
            const bool stands_here =
                begins_in_any_case(rest_, each.name) && ends_a_unit(rest_.substr(each.name.size()));
            if (stands_here && (!best || each.name.size() > best->name.size())) best = &each;
        }
        if (best) rest_.remove_prefix(best->name.size());
        return best;
    }

  private:
    void skip_blanks() {
        while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t')) {
            rest_.remove_prefix(1);
        }
    }
    [[nodiscard]] bool at_fraction_bar() const {
        return rest_.size() > 1 && rest_[0] == '/' && is_digit(rest_[1]);
    }
    [[nodiscard]] Result<double> over(double numerator) {
        rest_.remove_prefix(1);
        const auto denominator = decimal();
        if (!denominator) return denominator;
        if (*denominator == 0.0) return refuse("divides by zero");
        return numerator / *denominator;
    }
    [[nodiscard]] Result<double> decimal();

    std::string_view whole_;
    std::string_view rest_;
    const Kind* kind_;
    NumberStyle style_;
    bool has_fractions_;
};

constexpr bool may_be_in_a_number(char c) {
    return is_digit(c) || c == '.' || c == ',' || c == 'e' || c == 'E' || c == '+' || c == '-';
}

Result<double> Reader::decimal() {
    skip_blanks();
    if (rest_.starts_with('+')) rest_.remove_prefix(1);
    const auto after = std::ranges::find_if_not(rest_, may_be_in_a_number);
    std::string digits(rest_.begin(), after);
    if (style_.decimal_mark == ',') {
        if (digits.find('.') != std::string::npos) {
            return refuse("has a decimal point in a file whose numbers have a decimal comma");
        }
        if (const auto comma = digits.find(','); comma != std::string::npos) digits[comma] = '.';
    }
    double value = 0.0;
    const auto [stop, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (error == std::errc::result_out_of_range) return refuse("is out of any sensible range");
    if (error != std::errc{} || !std::isfinite(value))
        return refuse("does not begin with a number");
    const auto used = static_cast<std::size_t>(stop - digits.data());
    if (used < digits.size() && digits[used] == ',') {
        return refuse("has a decimal comma; write a decimal point");
    }
    // Where one number ends and the next begins is never guessed.
    if (used < digits.size() && digits[used] == '.') {
        return refuse("has two decimal points in one number");
    }
    rest_.remove_prefix(used);
    return value;
}

// What a text came to in SI, and what stood behind its "+-".
struct Parsed {
    double value;
    std::optional<double> uncertainty;
};

// "+- number [unit]" in SI, or nothing where no "+-" stands. A unit written here is also put into
// `unit` where that is still empty ("22.4 +- 0.2 gr"); with no unit anywhere, `bare_unit` counts.
Result<std::optional<double>> take_uncertainty(Reader& reader, const Unit*& unit,
                                               const Unit* bare_unit) {
    if (!reader.take("+-") && !reader.take("±")) return std::nullopt;
    const auto number = reader.number();
    if (!number) return tl::unexpected(number.error());
    if (*number < 0.0) return reader.refuse("has a negative uncertainty");
    const Unit* written = reader.unit();
    if (!unit) unit = written ? written : bare_unit;
    if (!unit) return reader.refuse("has no unit");
    return *number * (written ? written : unit)->factor;
}

// The inches of "12 ft 3 in" in SI, where a number and a unit of inches stand here.
std::optional<double> take_inches(Reader& reader) {
    Reader ahead = reader;
    const auto number = ahead.number();
    const Unit* unit = number ? ahead.unit() : nullptr;
    if (!unit || unit->factor != inch.si()) return std::nullopt;
    reader = ahead;
    return *number * inch.si();
}

// One quantity: number [unit], for lengths also feet and inches, then perhaps its uncertainty.
// A bare number takes `bare_unit`, which may be null.
Result<Parsed> take_quantity(Reader& reader, const Kind& kind, const Unit* bare_unit) {
    const auto number = reader.number();
    if (!number) return tl::unexpected(number.error());
    const Unit* written = reader.unit();
    const Unit* unit = written;
    std::optional<double> inches;
    if (kind.feet_and_inches && written && written->factor == foot.si()) {
        inches = take_inches(reader);
    }
    const Unit* last_unit = inches ? find_unit(kind, "in") : unit;
    const auto uncertainty = take_uncertainty(reader, last_unit, bare_unit);
    if (!uncertainty) return tl::unexpected(uncertainty.error());
    if (!unit) unit = last_unit ? last_unit : bare_unit;
    if (!unit) return reader.at_end() ? reader.refuse("has no unit") : reader.refuse_unit();
    const double value = *number * unit->factor + unit->zero;
    const Parsed parsed{value + std::copysign(inches.value_or(0.0), value), *uncertainty};
    if (!std::isfinite(parsed.value) || !std::isfinite(parsed.uncertainty.value_or(0.0))) {
        return reader.refuse("is out of any sensible range");
    }
    return parsed;
}

// Digits, perhaps with a decimal point among them, and nothing else: what an instrument shows, and
// most of what is read.
std::optional<double> plain_number(std::string_view text) {
    const bool is_plain = !text.empty() && is_digit(text.front()) && is_digit(text.back()) &&
                          std::ranges::all_of(text, [](char c) { return is_digit(c) || c == '.'; });
    if (!is_plain) return std::nullopt;
    double value = 0.0;
    const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || stop != text.data() + text.size()) return std::nullopt;
    return value;
}

Result<Parsed> parse_whole(std::string_view text, const Kind& kind, NumberStyle style) {
    const Unit* const bare_unit = find_unit(kind, style.column_unit);
    if (bare_unit && style.decimal_mark == '.') {
        if (const auto number = plain_number(text)) {
            const double value = *number * bare_unit->factor + bare_unit->zero;
            if (std::isfinite(value)) return Parsed{value, std::nullopt};
        }
    }
    Reader reader(text, kind, style);
    if (reader.at_end()) return reader.refuse("is empty");
    const auto parsed = take_quantity(reader, kind, bare_unit);
    if (parsed && !reader.at_end()) return reader.refuse_unit();
    return parsed;
}

template <class Q>
Stated<Q> stated(const Parsed& parsed) {
    Stated<Q> result{Q::from_si(parsed.value), {}};
    if (parsed.uncertainty) result.uncertainty = Q::from_si(*parsed.uncertainty);
    return result;
}

template <class Q>
Result<Stated<Q>> parse_quantity(std::string_view text, const Kind& kind, NumberStyle style) {
    return parse_whole(text, kind, style).map(stated<Q>);
}

}  // namespace

Result<Stated<Mass>> parse_mass(std::string_view text, NumberStyle style) {
    return parse_quantity<Mass>(text, mass_kind, style);
}
Result<Stated<Length>> parse_length(std::string_view text, NumberStyle style) {
    return parse_quantity<Length>(text, length_kind, style);
}
Result<Stated<Duration>> parse_duration(std::string_view text, NumberStyle style) {
    return parse_quantity<Duration>(text, duration_kind, style);
}
Result<Stated<Speed>> parse_speed(std::string_view text, NumberStyle style) {
    return parse_quantity<Speed>(text, speed_kind, style);
}
Result<Stated<Density>> parse_density(std::string_view text, NumberStyle style) {
    return parse_quantity<Density>(text, density_kind, style);
}
Result<Stated<LinearDensity>> parse_linear_density(std::string_view text, NumberStyle style) {
    return parse_quantity<LinearDensity>(text, linear_density_kind, style);
}

Result<Stated<Temperature>> parse_temperature(std::string_view text, NumberStyle style) {
    return parse_whole(text, temperature_kind, style).map([](const Parsed& parsed) {
        Stated<Temperature> result{Temperature::from_kelvin(parsed.value), {}};
        if (parsed.uncertainty) {
            result.uncertainty = TemperatureDifference::from_kelvin(*parsed.uncertainty);
        }
        return result;
    });
}

Result<TemperatureDifference> parse_temperature_difference(std::string_view text,
                                                           NumberStyle style) {
    const Unit* unit = find_unit(temperature_kind, style.column_unit);
    Reader reader(text, temperature_kind, style);
    const auto number = reader.number();
    if (!number) return tl::unexpected(number.error());
    if (const Unit* written = reader.unit()) unit = written;
    if (!reader.at_end()) return reader.refuse_unit();
    if (!unit) return reader.refuse("has no unit");
    return TemperatureDifference::from_kelvin(*number * unit->factor);
}

Result<std::vector<Stated<Length>>> parse_lengths(std::string_view text, NumberStyle style) {
    // Without a column's unit, a number's own may stand further right ("0.94 0.95 mm"): the last
    // one of the cell is found first.
    const Unit* fallback = find_unit(length_kind, style.column_unit);
    const auto searched = fallback ? std::string_view{} : text;
    for (const auto piece : pieces(searched, " \t|")) {
        for (const Unit& unit : length_units) {
            const bool ends_in_unit = piece.ends_with(unit.name) &&
                                      (piece.size() == unit.name.size() ||
                                       is_digit(piece[piece.size() - unit.name.size() - 1]) ||
                                       piece[piece.size() - unit.name.size() - 1] == '.');
            if (ends_in_unit) fallback = &unit;
        }
    }
    std::vector<Stated<Length>> lengths;
    lengths.reserve(4);
    Reader reader(text, length_kind, style);
    while (!reader.at_end()) {
        const auto parsed = take_quantity(reader, length_kind, fallback);
        if (!parsed) return tl::unexpected(parsed.error());
        lengths.push_back(stated<Length>(*parsed));
        if (!reader.take("|") && !reader.at_end() && !reader.at_number()) {
            return reader.refuse_unit();
        }
    }
    if (lengths.empty()) return reader.refuse("is empty");
    return lengths;
}

Result<double> parse_number(std::string_view text, char decimal_mark) {
    constexpr Kind kind{{}, "a plain number, such as 0.5"};
    Reader reader(text, kind, {decimal_mark, {}});
    const auto number = reader.number();
    if (number && !reader.at_end()) return reader.refuse("is more than a number");
    return number;
}

}  // namespace coilbook
