#include "app/find.h"

#include <fmt/format.h>

#include <array>
#include <cassert>
#include <cstdlib>
#include <map>

#include "base/text.h"
#include "db/digest.h"
#include "identify/evidence.h"
#include "identify/facts.h"
#include "outings/custody_now.h"
#include "quantity/parse.h"
#include "quantity/units.h"
#include "store/client_repository.h"
#include "store/custody_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {
namespace {

namespace fs = std::filesystem;
using store::Figure;
using store::FigureRange;
using store::SearchEntry;
using store::SearchIndex;
using store::SearchQuery;

// Where the index of that catalogue lies; empty where there is no place for it.
fs::path index_file_of(const fs::path& catalogue) {
    const auto folder_in = [](const char* variable) -> fs::path {
        const char* value = std::getenv(variable);
        return value != nullptr && fs::path(value).is_absolute() ? fs::path(value) : fs::path();
    };
    auto cache = folder_in("XDG_CACHE_HOME");
    if (cache.empty()) {
        const auto home = folder_in("HOME");
        if (home.empty()) return {};
        cache = home / ".cache";
    }
    const auto folder = cache / "coilbook";
    std::error_code error;
    if (fs::create_directories(folder, error)) {
        fs::permissions(folder, fs::perms::owner_all, error);
    }
    if (error) return {};
    db::Digest digest;
    digest.add(std::string_view(catalogue.string()));
    return folder / (digest.finish().substr(0, 16) + ".search");
}

SearchIndex index_of(const fs::path& catalogue) {
    if (catalogue.empty()) return SearchIndex::in_memory();
    const auto file = index_file_of(catalogue);
    if (file.empty()) return SearchIndex::in_memory();
    try {
        return SearchIndex::open(file);
    } catch (const Error&) {  // nobody can write there: it is made anew each time
        return SearchIndex::in_memory();
    }
}

// Where each coil is, in words that people look for.
class Places {
  public:
    explicit Places(store::Catalogue& catalogue)
        : catalogue_(catalogue), custody_(catalogue.custody().standings()) {
        for (const auto& boat : catalogue.outings().boats(true)) boats_[boat.id] = boat.name;
        for (const auto& rig : catalogue.rigs().list()) rigs_[rig.id] = rig.code;
    }

    [[nodiscard]] std::string words_for(const Id<Coil>& coil) {
        const Thing thing(coil);
        const auto place = custody_.place_of(thing);
        if (place.where != Whereabouts::rig) return words_for(place);
        const auto rig = rigs_.find(*place.rig);
        return fmt::format("rig {} {}, {}", rig == rigs_.end() ? "" : rig->second,
                           name_of(*place.role), words_for(custody_.place_in_the_end(thing)));
    }

  private:
    [[nodiscard]] std::string words_for(const Place& place) {
        std::string words(name_of(place.where));
        if (place.boat) words += " " + boats_[*place.boat];
        if (place.client) {
            const auto client = catalogue_.clients().by_id(*place.client);
            if (client) words += " " + client->code;
        }
        return words;
    }

    store::Catalogue& catalogue_;
    CustodyNow custody_;
    std::map<Id<Boat>, std::string> boats_;
    std::map<Id<Rig>, std::string> rigs_;
};

// What the readings imply; nothing where they cannot be taken together.
store::Figures figures_of(const CoilReadings& readings, const Instruments& instruments) {
    store::Figures figures{};
    const auto put = [&](Figure figure, double si) {
        figures[static_cast<std::size_t>(figure)] = si;
    };
    if (readings.whole_length) put(Figure::length, readings.whole_length->value.si());
    const auto evidence = evidence_of(readings, instruments);
    if (!evidence) return figures;
    const auto facts = fit_facts(*evidence, fresh_water_at_10_C()).facts;
    if (facts.linear_density) put(Figure::weight_per_length, facts.linear_density->value.si());
    if (facts.density) put(Figure::density, facts.density->value.si());
    if (facts.diameter) put(Figure::diameter, facts.diameter->value.si());
    if (facts.sink_rate) put(Figure::sink_rate, facts.sink_rate->value.si());
    return figures;
}

std::string looks_of(const CoilReadings& readings) {
    std::string looks;
    if (readings.tint) looks += name_of(*readings.tint);
    if (readings.taper) looks += (looks.empty() ? "" : " ") + std::string(name_of(*readings.taper));
    return looks;
}

SearchEntry entry_of(const store::SearchableCoil& coil, Places& places,
                     const Instruments& instruments) {
    return {.coil = coil.rid,
            .code = coil.code,
            .class_name = coil.class_name,
            .place = places.words_for(coil.id),
            .looks = looks_of(coil.readings),
            .notes = coil.notes,
            .figures = figures_of(coil.readings, instruments)};
}

}  // namespace

Finder::Finder(Workshop& workshop)
    : workshop_(workshop),
      searchable_(workshop.catalogue().searchable()),
      index_(index_of(workshop.catalogue().file())) {}

void Finder::make_anew(const store::SearchMark& mark,
                       const std::function<void(std::size_t)>& progress) {
    Places places(workshop_.catalogue());
    std::size_t done = 0;
    SearchIndex::Change change(index_, true);
    searchable_.each([&](const store::SearchableCoil& coil) {
        change.put(entry_of(coil, places, workshop_.instruments()));
        if (progress) progress(++done);
    });
    change.finish(mark);
}

void Finder::refresh(const std::function<void(std::size_t)>& progress) {
    auto& catalogue = workshop_.catalogue();
    const auto one_moment = catalogue.one_moment();
    const auto now = searchable_.mark().value_or(store::SearchMark{0, ""});
    const auto known = index_.mark();
    if (known == now) return;
    if (!known) return make_anew(now, progress);
    const auto changed = searchable_.changed_since(*known);
    if (changed.is_all) return make_anew(now, progress);
    Places places(catalogue);
    SearchIndex::Change change(index_, false);
    for (const auto rid : changed.coils) {
        const auto coil = searchable_.by_rid(rid);
        if (coil) {
            change.put(entry_of(*coil, places, workshop_.instruments()));
        } else {
            change.remove(rid);
        }
    }
    change.finish(now);
}

store::SearchAnswer Finder::find(const store::SearchQuery& query) {
    refresh();
    return index_.find(query);
}

std::string discard_damaged_index(const fs::path& catalogue) {
    std::error_code none;
    const auto file = index_file_of(fs::weakly_canonical(catalogue, none));
    if (file.empty() || !fs::exists(file, none)) return {};
    std::string wrong;
    try {
        const auto found = SearchIndex::open(file).damage();
        if (found.empty()) return {};
        wrong = found.front();
    } catch (const Error& error) {
        wrong = error.what();
    }
    for (const char* ending : {"", "-wal", "-shm"}) fs::remove(file.string() + ending, none);
    return wrong;
}

namespace {

// A kind of figure as people write its ends.
struct RangeKind {
    Figure figure;
    std::vector<std::string_view> units;  // of the ends; the first where people mostly use it
};
const std::vector<RangeKind>& range_kinds() {
    static const std::vector<RangeKind> kinds{
        {Figure::weight_per_length, {"gr/ft", "g/m"}},
        {Figure::density, {"g/cm3", "g/cm³", "kg/m3"}},
        {Figure::diameter, {"mm", "thou"}},
        {Figure::sink_rate, {"in/s", "ips", "ft/s", "m/s", "cm/s"}},
        {Figure::length, {"ft", "in", "yd", "m", "cm"}}};
    return kinds;
}

template <class Q>
Result<double> si_of(const Result<Stated<Q>>& stated) {
    if (!stated) return tl::unexpected(stated.error());
    return stated->value.si();
}

Result<double> end_from(Figure figure, std::string_view text, std::string_view unit) {
    const NumberStyle style{'.', unit};
    switch (figure) {
        case Figure::weight_per_length:
            return si_of(parse_linear_density(text, style));
        case Figure::density:
            return si_of(parse_density(text, style));
        case Figure::sink_rate:
            return si_of(parse_speed(text, style));
        case Figure::diameter:
        case Figure::length:
            return si_of(parse_length(text, style));
    }
    assert(false && "every figure is read above");
    return 0.0;
}

std::optional<Figure> figure_with_unit(std::string_view unit) {
    for (const auto& kind : range_kinds()) {
        for (const auto each : kind.units) {
            if (each == unit) return kind.figure;
        }
    }
    return std::nullopt;
}

// "10..12" with the unit that stands behind it, if any.
Result<FigureRange> range_from(std::string_view numbers, std::string_view unit) {
    const auto figure = unit.empty() ? Figure::weight_per_length : *figure_with_unit(unit);
    const auto shown_unit = unit.empty() ? std::string_view("gr/ft") : unit;
    const auto dots = numbers.find("..");
    const auto read = [&](std::string_view text) -> Result<std::optional<double>> {
        if (text.empty()) return std::optional<double>();
        const auto end = end_from(figure, text, shown_unit);
        if (!end) {
            return problem("search", coilbook::quoted(numbers) + " is no range",
                           "two numbers with two dots between them, such as 10..12, and a unit");
        }
        return std::optional(*end);
    };
    const auto from = read(numbers.substr(0, dots));
    if (!from) return tl::unexpected(from.error());
    const auto to = read(numbers.substr(dots + 2));
    if (!to) return tl::unexpected(to.error());
    if (*from && *to && **from > **to) {
        return problem("search", coilbook::quoted(numbers) + " is a range that nothing is in",
                       "the smaller number first, such as 10..12; 10.. is 10 or more");
    }
    return FigureRange{figure, *from, *to};
}

}  // namespace

Result<store::SearchQuery> query_from(std::string_view typed) {
    store::SearchQuery query;
    const auto words = pieces(typed, " \t");
    for (std::size_t at = 0; at < words.size(); ++at) {
        const auto word = words[at];
        if (word.find("..") == std::string_view::npos) {
            query.words.emplace_back(word);
            continue;
        }
        // The unit stands at the end of the word or is the next one.
        const auto last_sign = word.find_last_of("0123456789.");
        auto unit = word.substr(last_sign + 1);
        if (unit.empty() && at + 1 < words.size() && figure_with_unit(words[at + 1])) {
            unit = words[++at];
        }
        // A density's unit ends in a figure.
        auto numbers = word.substr(0, last_sign + 1);
        for (const auto* density : {"g/cm3", "kg/m3"}) {
            if (!word.ends_with(density)) continue;
            unit = density;
            numbers = word.substr(0, word.size() - unit.size());
        }
        if (!unit.empty() && !figure_with_unit(unit)) {
            return problem("search", coilbook::quoted(unit) + " is no unit of a range",
                           "gr/ft, g/cm3, mm (diameter), in/s or ft (whole length)");
        }
        auto range = range_from(numbers, unit);
        if (!range) return tl::unexpected(range.error());
        for (const auto& each : query.ranges) {
            if (each.figure != range->figure) continue;
            return problem("search", coilbook::quoted(word) + " is a second range of one figure",
                           "one range for each");
        }
        query.ranges.push_back(*range);
    }
    return query;
}

void write_found(const store::SearchAnswer& answer, std::ostream& out, Format format,
                 std::size_t terminal_width) {
    RowWriter writer(out,
                     {{"code"},
                      {"confirmed_class"},
                      {"grains_per_foot", true, 4, 1},
                      {"diameter_mm", true, 3, 3},
                      {"density_g_cm3", true, 3, 2},
                      {"sink_rate_in_s", true, 3, 1},
                      {"length_ft", true, 3, 4},
                      {"place", false, 4, 2},
                      {"looks", false, 4, 5},
                      {"notes", false, 4, 6}},
                     format, terminal_width);
    constexpr std::array units{grain_per_foot.si(), millimetre.si(), gram_per_cubic_centimetre.si(),
                               inch_per_second.si(), foot.si()};
    constexpr std::array order{Figure::weight_per_length, Figure::diameter, Figure::density,
                               Figure::sink_rate, Figure::length};
    for (const auto& entry : answer.entries) {
        std::vector<Cell> cells{entry.code, cell_of(entry.class_name)};
        for (std::size_t i = 0; i < order.size(); ++i) {
            const auto si = entry.figures[static_cast<std::size_t>(order[i])];
            cells.push_back(cell_of(si ? std::optional(*si / units[i]) : std::nullopt));
        }
        cells.insert(cells.end(),
                     {cell_of(entry.place), cell_of(entry.looks), cell_of(entry.notes)});
        writer.add(cells);
    }
    if (answer.entries.empty() && format == Format::table) out << "Nothing was found.\n";
    const auto all = answer.is_counted ? fmt::format("{} found", answer.count)
                                       : fmt::format("more than {} found", answer.count);
    writer.finish(answer.entries.size() < answer.count || !answer.is_counted
                      ? fmt::format("{}; these are the first {}", all, answer.entries.size())
                      : all);
}

}  // namespace coilbook::app
