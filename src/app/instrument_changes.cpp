#include "app/instrument_changes.h"

#include <algorithm>

#include "app/instrument_drawers.h"
#include "app/instruments.h"
#include "base/text.h"
#include "catalog/coil.h"
#include "exchange/csv.h"
#include "exchange/instruments_file.h"
#include "store/check_repository.h"
#include "store/instrument_repository.h"

namespace coilbook::app {
namespace {

double si_of(const ShownFigure& figure) {
    return std::visit([](auto quantity) { return quantity.si(); }, figure);
}

Result<void> check_figures(const MakersFigures& figures) {
    for (const auto& figure : {figures.resolution, figures.limit_of_error, figures.repeatability}) {
        if (si_of(figure) > 0.0) return {};
    }
    return problem("limit_of_error", "with all figures zero it would never be wrong",
                   "the step of its display at least");
}

AnyInstrument with_figures(AnyInstrument instrument, const MakersFigures& figures) {
    std::visit(
        [&]<class Kind>(Kind& each) {
            using Q = QuantityOf<Kind>;
            each.resolution = std::get<Q>(figures.resolution);
            each.limit_of_error = std::get<Q>(figures.limit_of_error);
            each.repeatability = std::get<Q>(figures.repeatability);
        },
        instrument);
    return instrument;
}

Result<void> put(Workshop& workshop, const std::string& what, const AnyInstrument& instrument) {
    const auto done = workshop.catalogue().act(workshop.note(what), [&](store::Act& act) {
        return std::visit(
            [&](const auto& each) {
                return workshop.catalogue().instruments().put(
                    act, workshop.new_id<store::BenchInstrument>(), each);
            },
            instrument);
    });
    if (done) workshop.refresh();
    return done;
}

// What was found in a check is not replaced by what a file believes.
std::vector<Problem> against_checks(Workshop& workshop, const Instruments& before,
                                    const Instruments& read, const std::string& file) {
    std::vector<Problem> problems;
    const auto checks = workshop.catalogue().checks().last_checks();
    for_each_kind([&](InstrumentKind kind, auto drawer) {
        for (const auto& [code, instrument] : read.*drawer) {
            const auto old = (before.*drawer).find(code);
            if (old == (before.*drawer).end() || old->second == instrument) continue;
            for (const auto& check : checks) {
                if (check.kind != name_of(kind) || check.code != code) continue;
                problems.push_back(exchange::in_file(
                    file, 0,
                    {code.empty() ? std::string(name_of(kind)) : code,
                     "its figures come from the check of " + to_text(check.at).substr(0, 10),
                     "a file without that row; or take the check back first, with 'coilbook "
                     "undo'"}));
            }
        }
    });
    return problems;
}

}  // namespace

MakersFigures makers_figures(const AnyInstrument& instrument) {
    return std::visit(
        [](const auto& each) {
            return MakersFigures{each.resolution, each.limit_of_error, each.repeatability};
        },
        instrument);
}

Result<void> add_instrument(Workshop& workshop, const InstrumentKey& key,
                            const MakersFigures& figures) {
    if (trimmed(key.code).empty()) {
        return problem("code", "an instrument needs a code", "a short name to write on it");
    }
    const auto code = coil_code_from(key.code);
    if (!code) {
        auto wrong = code.error();
        wrong.field = "code";
        return tl::unexpected(std::move(wrong));
    }
    const InstrumentKey named{key.kind, *code};
    if (instrument_of(workshop.catalogue().instruments().all(), named)) {
        return problem("code", "there is a " + in_words(named) + " already", "another code");
    }
    if (const auto fine = check_figures(figures); !fine) return fine;
    auto ordinary = instrument_of(default_instruments(), {key.kind, ""});
    if (!ordinary) return tl::unexpected(ordinary.error());
    std::visit([&](auto& each) { each.code = *code; }, *ordinary);
    return put(workshop, "add " + in_words(named), with_figures(*ordinary, figures));
}

Result<void> change_figures(Workshop& workshop, const InstrumentKey& key,
                            const MakersFigures& figures) {
    const auto all = known_instruments(workshop);
    const auto known = std::ranges::find(all, key, &KnownInstrument::key);
    if (known == all.end()) {
        return problem("code", "there is no " + in_words(key) + " in the catalogue",
                       "an instrument of the list");
    }
    if (const auto fine = check_figures(figures); !fine) return fine;
    const auto before = makers_figures(known->instrument);
    if (known->checked_at && !known->as_written.empty()) {
        const std::string sentence = "it was checked on " + day_in_words(*known->checked_at) +
                                     ", and that is surer than what its maker says";
        const std::string instead = "checking it again, or undoing that check first";
        if (figures.limit_of_error != before.limit_of_error) {
            return problem("limit_of_error", sentence, instead);
        }
        if (figures.repeatability != before.repeatability) {
            return problem("repeatability", sentence, instead);
        }
    }
    if (figures == before) return {};
    return put(workshop, "change the figures of " + in_words(key),
               with_figures(known->instrument, figures));
}

Done take_in_instruments(Workshop& workshop, const std::filesystem::path& path) {
    const auto before = workshop.catalogue().instruments().all();
    const auto read = exchange::read_instruments(path, before);
    if (!read) return tl::unexpected(read.error());
    if (auto problems = against_checks(workshop, before, *read, path.string()); !problems.empty()) {
        return tl::unexpected(std::move(problems));
    }
    const auto done = workshop.catalogue().act(
        workshop.note("take in the instruments of " + path.filename().string()),
        [&](store::Act& act) -> Result<void> {
            Result<void> result;
            for_each_kind([&](InstrumentKind, auto drawer) {
                for (const auto& [code, instrument] : (*read).*drawer) {
                    const auto old = (before.*drawer).find(code);
                    const bool is_same = old != (before.*drawer).end() && old->second == instrument;
                    if (is_same || !result) continue;
                    result = workshop.catalogue().instruments().put(
                        act, workshop.new_id<store::BenchInstrument>(), instrument);
                }
            });
            return result;
        });
    if (!done) return tl::unexpected(std::vector{done.error()});
    workshop.refresh();
    return {};
}

}  // namespace coilbook::app
