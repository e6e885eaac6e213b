#include "app/coil_care.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>

#include "app/private_file.h"
#include "base/text.h"
#include "store/care_repository.h"

namespace coilbook::app {
namespace {

constexpr const char* wanted = "a PNG or JPEG file of at most 8 MiB and 40 million pixels";

Result<std::string> bytes_of_file(const std::filesystem::path& file) {
    const auto shown = coilbook::quoted(file.string(), 300);
    std::error_code failed;
    if (!std::filesystem::is_regular_file(file, failed)) {
        return problem("photograph", shown + " is not a file that can be read", wanted);
    }
    std::ifstream in(file, std::ios::binary);
    if (!in) return problem("photograph", shown + " cannot be read", wanted);
    // One byte more than may be: so a file that is too long is told, whatever it grows to.
    std::string bytes(static_cast<std::size_t>(largest_picture_bytes) + 1, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (in.bad()) return problem("photograph", shown + " cannot be read to its end", wanted);
    bytes.resize(static_cast<std::size_t>(in.gcount()));
    if (std::cmp_greater(bytes.size(), largest_picture_bytes)) {
        return problem("photograph", shown + " has more than 8 MiB", wanted);
    }
    return bytes;
}

}  // namespace

Result<void> note_condition(Workshop& workshop, const Coil& coil, Wear what, bool is_found,
                            std::string_view note) {
    const Condition condition{.id = workshop.new_id<Condition>(),
                              .coil = coil.id,
                              .what = what,
                              .is_found = is_found,
                              .at = workshop.surroundings().now(),
                              .by = workshop.surroundings().who,
                              .note = std::string(trimmed(note))};
    const auto plain = store::check_plain("note", note);
    if (!plain) return plain;
    const auto words =
        is_found ? fmt::format("note of coil {}: {}", coil.code, name_of(what))
                 : fmt::format("note of coil {}: {} is good again", coil.code, name_of(what));
    return workshop.catalogue().act(workshop.note(words, condition.note), [&](store::Act& act) {
        return workshop.catalogue().care().add(act, condition);
    });
}

std::vector<Condition> conditions_now(Workshop& workshop, const Coil& coil) {
    return workshop.catalogue().care().conditions_now(coil.id);
}

std::vector<Condition> all_conditions(Workshop& workshop, const Coil& coil) {
    return workshop.catalogue().care().all_conditions(coil.id);
}

Result<PictureFacts> picture_facts(std::string_view bytes) {
    const auto head = pictures::head_of(bytes);
    if (!head) return tl::unexpected(head.error());
    if (const auto shown = pictures::decoded(bytes, 16); !shown) {
        return tl::unexpected(shown.error());
    }
    return PictureFacts{store::digest_of_picture(bytes), *head,
                        static_cast<std::int64_t>(bytes.size())};
}

Result<Photograph> add_photograph(Workshop& workshop, const Coil& coil,
                                  const std::filesystem::path& file, std::string_view note) {
    const auto bytes = bytes_of_file(file);
    if (!bytes) return tl::unexpected(bytes.error());
    const auto facts = picture_facts(*bytes);
    if (!facts) return tl::unexpected(facts.error());
    const Photograph photograph{.id = workshop.new_id<Photograph>(),
                                .coil = coil.id,
                                .sha256 = facts->sha256,
                                .format = facts->head.format,
                                .width = facts->head.width,
                                .height = facts->head.height,
                                .size = facts->size,
                                .at = workshop.surroundings().now(),
                                .by = workshop.surroundings().who,
                                .note = std::string(trimmed(note))};
    const auto there = photographs_of(workshop, coil);
    if (const auto same = std::ranges::find(there, photograph.sha256, &Photograph::sha256);
        same != there.end()) {
        if (workshop.catalogue().care().picture(same->sha256)) {
            return problem("photograph", "coil " + coil.code + " has this photograph already",
                           "another one");
        }
        workshop.catalogue().act(
            workshop.note("bring a lost picture of coil " + coil.code + " back"),
            [&](store::Act& act) { workshop.catalogue().care().bring_back(act, *same, *bytes); });
        return *same;
    }
    const auto added = workshop.catalogue().act(
        workshop.note("add a photograph of coil " + coil.code),
        [&](store::Act& act) { return workshop.catalogue().care().add(act, photograph, *bytes); });
    if (!added) return tl::unexpected(added.error());
    return photograph;
}

Result<void> put_photograph_away(Workshop& workshop, const Coil& coil,
                                 const Id<Photograph>& photograph) {
    const PutAway word{workshop.new_id<Photograph>(),
                       photograph,
                       workshop.surroundings().now(),
                       workshop.surroundings().who,
                       {}};
    return workshop.catalogue().act(
        workshop.note("put a photograph of coil " + coil.code + " away"),
        [&](store::Act& act) { return workshop.catalogue().care().put_away(act, word); });
}

std::vector<Photograph> photographs_of(Workshop& workshop, const Coil& coil) {
    return workshop.catalogue().care().photographs(coil.id);
}

Result<Photograph> photograph_called(Workshop& workshop, const Coil& coil, std::string_view id) {
    auto all = photographs_of(workshop, coil);
    if (all.empty()) {
        return problem("photograph", "coil " + coil.code + " has no photograph",
                       "a coil that has one");
    }
    if (trimmed(id).empty()) return all.front();
    std::erase_if(all, [&](const Photograph& each) {
        return !begins_in_any_case(each.id.text(), trimmed(id));
    });
    if (all.size() == 1) return all.front();
    return problem("photograph",
                   coilbook::quoted(id) + (all.empty() ? " is no photograph of coil " + coil.code
                                                       : " begins several ids"),
                   "an id that 'coilbook coils photograph " + coil.code + "' shows");
}

Result<pictures::Picture> picture_of(Workshop& workshop, const Photograph& photograph,
                                     int longest) {
    return pictures::decoded(workshop.catalogue().care().bytes_of(photograph), longest);
}

Result<void> save_photograph(Workshop& workshop, const Photograph& photograph,
                             const std::filesystem::path& file) {
    const auto bytes = workshop.catalogue().care().bytes_of(photograph);
    return fill_new_private_file(file, "save", [&](std::ostream& out) {
        out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    });
}

void write_conditions(Workshop& workshop, const Coil& coil, std::ostream& out, Format format,
                      std::size_t terminal_width) {
    RowWriter writer(out, {{"at"}, {"condition"}, {"state"}, {"by", false, 4, 1}, {"note"}}, format,
                     terminal_width);
    auto all = all_conditions(workshop, coil);
    std::ranges::reverse(all);
    for (const auto& each : all) {
        writer.add({to_text(each.at), std::string(name_of(each.what)),
                    std::string(each.is_found ? "found" : "good again"), cell_of(each.by),
                    cell_of(each.note)});
    }
    writer.finish();
}

void write_photographs(Workshop& workshop, const Coil& coil, std::ostream& out, Format format,
                       std::size_t terminal_width) {
    RowWriter writer(out,
                     {{"id"},
                      {"at"},
                      {"by", false, 4, 1},
                      {"format", false, 4, 2},
                      {"width", true},
                      {"height", true},
                      {"size", true},
                      {"note"}},
                     format, terminal_width);
    for (const auto& each : photographs_of(workshop, coil)) {
        writer.add({each.id.text(), to_text(each.at), cell_of(each.by),
                    std::string(name_of(each.format)), std::int64_t{each.width},
                    std::int64_t{each.height}, each.size, cell_of(each.note)});
    }
    writer.finish();
}

}  // namespace coilbook::app
