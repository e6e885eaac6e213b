#include "app/class_sheets.h"

#include <algorithm>
#include <map>

#include "app/learning.h"
#include "identify/evidence.h"
#include "identify/facts.h"
#include "identify/gaussian2.h"

namespace coilbook::app {

LineFigures middle_of(const LineDistribution& line) {
    const LineBody body = line_at(gaussian_of(line).mean);
    return {body.weight_per_length, body.diameter, density(body),
            sink(body, fresh_water_at_10_C()).rate};
}

LinearDensity ClassSheet::weight_moved() const {
    return middle.weight_per_length - middle_before.weight_per_length;
}

double ClassSheet::weight_moved_share() const {
    return middle.weight_per_length / middle_before.weight_per_length - 1.0;
}

double ClassSheet::density_moved_share() const {
    return middle.density / middle_before.density - 1.0;
}

std::vector<ClassSheet> class_sheets(const Workshop& workshop, const std::vector<SaidCoil>& coils) {
    std::map<std::string, int> said;
    for (const auto& each : coils) ++said[each.class_name];
    const LearnedLibrary& learned = workshop.learned();
    std::vector<ClassSheet> sheets;
    for (std::size_t k = 0; k < learned.library.size(); ++k) {
        const auto& about = learned.classes[k];
        ClassSheet sheet{.now = learned.library[k],
                         .before = about.before,
                         .middle = middle_of(learned.library[k].line),
                         .middle_before = middle_of(about.before),
                         .learned_from = about.used,
                         .set_aside = static_cast<int>(about.set_aside.size()),
                         .silent = 0};
        if (sheet.is_line()) {
            const int heard = sheet.learned_from + sheet.set_aside;
            sheet.silent = std::max(0, said[sheet.now.name] - heard);
        }
        sheets.push_back(std::move(sheet));
    }
    return sheets;
}

namespace {

std::optional<LineDistribution> line_read(const CoilReadings& readings,
                                          const Instruments& instruments) {
    const auto evidence = evidence_of(readings, instruments);
    if (!evidence) return std::nullopt;
    return fit_facts(*evidence, fresh_water_at_10_C()).facts.line;
}

}  // namespace

std::vector<ConfirmedExample> confirmed_examples(const Workshop& workshop,
                                                 const std::vector<SaidCoil>& coils) {
    std::map<std::string, const DoubtfulCoil*> doubtful;
    for (const auto& each : workshop.learned().doubtful) doubtful.emplace(each.key, &each);
    std::vector<ConfirmedExample> examples;
    for (const auto& each : coils) {
        ConfirmedExample example{.coil = each.coil,
                                 .class_name = each.class_name,
                                 .line = line_read(each.readings, workshop.instruments()),
                                 .is_set_aside = false,
                                 .chance = 1.0,
                                 .better_class = {},
                                 .doubt = {}};
        if (const auto found = doubtful.find(each.coil.id.text()); found != doubtful.end()) {
            example.is_set_aside = true;
            example.chance = found->second->chance;
            example.better_class = found->second->better_class.value_or("");
            example.doubt = doubt_about(workshop, each.coil.id);
        }
        examples.push_back(std::move(example));
    }
    return examples;
}

}  // namespace coilbook::app
