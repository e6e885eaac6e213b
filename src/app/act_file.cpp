#include "app/act_file.h"

#include <fmt/format.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "db/base64.h"

namespace coilbook::app {
namespace {

using exchange::Json;

constexpr std::string_view format_name = "coilbook exchange";
constexpr std::int64_t newest_version = 1;
constexpr std::size_t longest_line = 8 * 1024 * 1024;
constexpr std::int64_t most_lines_of_an_act = 16'000'000;
constexpr int deepest = 3;

Json json_of(const db::Value& value) {
    return std::visit(
        [](const auto& each) -> Json {
            using Each = std::decay_t<decltype(each)>;
            if constexpr (std::is_same_v<Each, std::monostate>) {
                return nullptr;
            } else {
                return each;
            }
        },
        value);
}

std::optional<db::Value> value_of(const Json& json) {
    if (json.is_null()) return db::Value{};
    if (json.is_number_unsigned()) {
        const auto number = json.get<std::uint64_t>();
        if (number > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max())) {
            return std::nullopt;
        }
        return db::Value{static_cast<std::int64_t>(number)};
    }
    if (json.is_number_integer()) return db::Value{json.get<std::int64_t>()};
    if (json.is_number_float()) {
        const auto number = json.get<double>();
        if (!std::isfinite(number)) return std::nullopt;
        return db::Value{number};
    }
    if (json.is_string() && is_plain_text(json.get_ref<const std::string&>())) {
        return db::Value{json.get<std::string>()};
    }
    return std::nullopt;
}

// The text under that key; nothing where there is none.
std::optional<std::string> text_at(const Json& json, const char* key) {
    const auto found = json.find(key);
    if (found == json.end() || !found->is_string()) return std::nullopt;
    auto text = found->get<std::string>();
    return is_plain_text(text) ? std::optional(std::move(text)) : std::nullopt;
}
// The whole number under that key, within the range; nothing where there is none.
std::optional<std::int64_t> number_at(const Json& json, const char* key, std::int64_t low,
                                      std::int64_t high) {
    const auto found = json.find(key);
    if (found == json.end() || !found->is_number_integer()) return std::nullopt;
    const auto value = value_of(*found);
    if (!value) return std::nullopt;
    const auto number = std::get<std::int64_t>(*value);
    return low <= number && number <= high ? std::optional(number) : std::nullopt;
}

void put_line(std::ostream& out, db::Digest& digest, const Json& json) {
    const auto line = exchange::to_text(json) + '\n';
    digest.add_raw(line);
    out << line;
}

Json head_of(const store::ActRecord& record) {
    auto seen = Json::array();
    for (const auto& id : record.seen) seen.push_back(id.text());
    Json head{{"act", record.note.id.text()},
              {"at", to_text(record.note.at)},
              {"who", record.note.who},
              {"program", record.note.program},
              {"what", record.note.what},
              {"why", record.note.why},
              {"laptop", record.note.laptop},
              {"undoes", record.undoes ? Json(record.undoes->text()) : Json(nullptr)},
              {"clock", record.clock_ms},
              {"seen", std::move(seen)},
              {"form", record.seal_form},
              {"seal", record.seal},
              {"changes", record.changes.size()},
              {"rows", record.rows.size()}};
    if (record.pieces > 0) head["pieces"] = record.pieces;
    return head;
}

}  // namespace

bool is_exchange_file(const std::filesystem::path& file) {
    std::error_code none;
    if (!std::filesystem::is_regular_file(file, none)) return false;
    std::ifstream in(file, std::ios::binary);
    std::string line(1000, '\0');  // a head is a tenth of that
    in.read(line.data(), static_cast<std::streamsize>(line.size()));
    line.resize(static_cast<std::size_t>(in.gcount()));
    const auto head = Json::parse(line.substr(0, line.find('\n')), nullptr, false);
    return head.is_object() && text_at(head, "format") == format_name;
}

int write_acts(store::ActSource& acts, std::ostream& out, const std::string& program,
               bool with_names) {
    db::Digest digest;
    put_line(out, digest,
             {{"format", format_name}, {"version", newest_version}, {"written_by", program}});
    int written = 0;
    while (*acts.next()) {
        const auto record = acts.record();
        put_line(out, digest, head_of(record));
        for (const auto& change : record.changes) {
            put_line(out, digest,
                     Json::array({change.table, change.thing, change.field, json_of(change.was),
                                  json_of(change.became)}));
        }
        for (const auto& row : record.rows) {
            auto cells = Json::array();
            for (const auto& cell : row.cells) cells.push_back(json_of(cell));
            put_line(out, digest, Json::array({row.table, std::move(cells)}));
        }
        for (auto piece = *acts.next_piece(); piece; piece = *acts.next_piece()) {
            put_line(out, digest,
                     Json::array(
                         {"picture", piece->sha256, piece->position, db::base64_of(piece->bytes)}));
        }
        ++written;
    }
    if (with_names) {
        for (const auto& person : acts.persons()) {
            put_line(out, digest,
                     {{"client", person.client.text()},
                      {"told_at", person.told_at},
                      {"name", person.name},
                      {"line_size", person.line_size ? Json(*person.line_size) : Json(nullptr)},
                      {"hand", person.hand},
                      {"notes", person.notes}});
        }
    }
    out << exchange::to_text(Json{{"end", digest.finish()}}) << '\n' << std::flush;
    return written;
}

ActFile::ActFile(std::istream& in, std::string name) : in_(in), name_(std::move(name)) {}

tl::unexpected<Problem> ActFile::bad(const std::string& what) const {
    return problem(fmt::format("{}:{}", name_, line_), what,
                   "an exchange file as 'coilbook exchange write' makes it, whole");
}

Result<Json> ActFile::next_line() {
    ++line_;
    std::string line;
    for (int byte = in_.get(); byte != '\n'; byte = in_.get()) {
        if (byte == std::istream::traits_type::eof()) return bad("the file is cut off here");
        if (line.size() == longest_line) return bad("this line is too long");
        line += static_cast<char>(byte);
    }
    line += '\n';
    const auto not_too_deep = [](int depth, Json::parse_event_t, Json&) {
        return depth <= deepest;
    };
    auto json = Json::parse(line, not_too_deep, false);
    if (json.is_discarded()) return bad("this line is not JSON");
    if (!json.is_object() || !json.contains("end")) digest_.add_raw(line);
    return json;
}

Result<void> ActFile::read_head() {
    const auto line = next_line();
    if (!line) {
        auto none = line.error();
        none.sentence = "this is no exchange file of Coilbook: " + none.sentence;
        return tl::unexpected(std::move(none));
    }
    if (!line->is_object() || text_at(*line, "format") != format_name) {
        return bad("this is no exchange file of Coilbook");
    }
    const auto version = number_at(*line, "version", 1, std::numeric_limits<std::int64_t>::max());
    if (!version) return bad("the version of this exchange file cannot be read");
    if (*version > newest_version) {
        return bad(
            fmt::format("this exchange file is of version {}, from a newer program; this "
                        "program reads version {}",
                        *version, newest_version));
    }
    return {};
}

Result<void> ActFile::read_change() {
    const auto line = next_line();
    if (!line) return tl::unexpected(line.error());
    if (!line->is_array() || line->size() != 5) return bad("this is no change");
    std::vector<db::Value> cells;
    for (const auto& cell : *line) {
        auto value = value_of(cell);
        if (!value) return bad("this is no change");
        cells.push_back(std::move(*value));
    }
    for (std::size_t at = 0; at < 3; ++at) {
        if (!std::holds_alternative<std::string>(cells[at])) return bad("this is no change");
    }
    record_->changes.push_back({std::get<std::string>(cells[0]), std::get<std::string>(cells[1]),
                                std::get<std::string>(cells[2]), cells[3], cells[4]});
    return {};
}

Result<void> ActFile::read_row() {
    const auto line = next_line();
    if (!line) return tl::unexpected(line.error());
    if (!line->is_array() || line->size() != 2 || !(*line)[0].is_string() ||
        !(*line)[1].is_array()) {
        return bad("this is no row");
    }
    store::GrownRow row{(*line)[0].get<std::string>(), {}};
    for (const auto& cell : (*line)[1]) {
        auto value = value_of(cell);
        if (!value) return bad("this is no row");
        row.cells.push_back(std::move(*value));
    }
    record_->rows.push_back(std::move(row));
    return {};
}

Result<store::PicturePiece> ActFile::read_piece() {
    const auto line = next_line();
    if (!line) return tl::unexpected(line.error());
    const bool is_piece = line->is_array() && line->size() == 4 && (*line)[0] == "picture" &&
                          (*line)[1].is_string() && (*line)[2].is_number_unsigned() &&
                          (*line)[3].is_string();
    if (!is_piece) return bad("this is no piece of a picture");
    const auto position = value_of((*line)[2]);
    auto bytes = db::bytes_from_base64((*line)[3].get_ref<const std::string&>());
    if (!position || !bytes) return bad("this is no piece of a picture");
    return store::PicturePiece{(*line)[1].get<std::string>(), std::get<std::int64_t>(*position),
                               std::move(*bytes)};
}

Result<void> ActFile::read_act(const Json& line) {
    const auto id = text_at(line, "act");
    const auto at = text_at(line, "at");
    const auto who = text_at(line, "who");
    const auto program = text_at(line, "program");
    const auto what = text_at(line, "what");
    const auto why = text_at(line, "why");
    const auto laptop = text_at(line, "laptop");
    const auto seal = text_at(line, "seal");
    const auto clock = number_at(line, "clock", 0, std::int64_t{1} << 53U);
    const auto form = number_at(line, "form", 1, 2);
    const auto changes = number_at(line, "changes", 0, most_lines_of_an_act);
    const auto rows = number_at(line, "rows", 0, most_lines_of_an_act);
    const auto pieces = line.contains("pieces") ? number_at(line, "pieces", 0, most_lines_of_an_act)
                                                : std::optional<std::int64_t>(0);
    const auto seen = line.find("seen");
    const auto undoes = line.find("undoes");
    if (!id || !at || !who || !program || !what || !why || !laptop || !seal || !clock || !form ||
        !changes || !rows || !pieces || seen == line.end() || !seen->is_array() ||
        undoes == line.end()) {
        return bad("this is no act");
    }
    const auto act = Id<store::Act>::from_text(*id);
    const auto moment = instant_from_text(*at);
    if (!act || !moment) return bad("this is no act");
    record_ = store::ActRecord{.note = {*act, *moment, *who, *program, *what, *why, *laptop},
                               .clock_ms = *clock,
                               .seal_form = static_cast<int>(*form),
                               .seal = *seal,
                               .pieces = *pieces};
    for (const auto& each : *seen) {
        const auto known = each.is_string() ? Id<store::Act>::from_text(each.get<std::string>())
                                            : Id<store::Act>::from_text("");
        if (!known) return bad("this act has seen what is no act");
        record_->seen.push_back(*known);
    }
    if (!undoes->is_null()) {
        const auto undone = undoes->is_string()
                                ? Id<store::Act>::from_text(undoes->get<std::string>())
                                : Id<store::Act>::from_text("");
        if (!undone) return bad("this act takes back what is no act");
        record_->undoes = *undone;
    }
    for (std::int64_t n = 0; n < *changes; ++n) {
        if (const auto read = read_change(); !read) return read;
    }
    for (std::int64_t n = 0; n < *rows; ++n) {
        if (const auto read = read_row(); !read) return read;
    }
    pieces_left_ = *pieces;
    return {};
}

Result<void> ActFile::read_person(const Json& line) {
    const auto id = text_at(line, "client");
    const auto told_at = text_at(line, "told_at");
    const auto name = text_at(line, "name");
    const auto hand = text_at(line, "hand");
    const auto notes = text_at(line, "notes");
    const auto client = Id<Client>::from_text(id.value_or(""));
    const bool has_size = line.contains("line_size") && !line["line_size"].is_null();
    const auto size = number_at(line, "line_size", 1, 15);
    const bool is_good = client && told_at && name && !name->empty() && name->size() <= 200 &&
                         (hand == "" || hand == "left" || hand == "right") && notes &&
                         has_size == size.has_value() &&
                         (told_at->empty() || instant_from_text(*told_at));
    if (!is_good) return bad("this tells of no client");
    persons_.push_back({*client, *told_at, *name, size, *hand, *notes});
    return {};
}

Result<std::optional<store::ActSource::Head>> ActFile::next() {
    if (!has_begun_) {
        has_begun_ = true;
        if (const auto head = read_head(); !head) return tl::unexpected(head.error());
    }
    for (auto piece = next_piece(); !piece || *piece; piece = next_piece()) {
        if (!piece) return tl::unexpected(piece.error());
    }
    for (;;) {
        const auto line = next_line();
        if (!line) return tl::unexpected(line.error());
        if (!line->is_object()) return bad("neither an act nor a client nor the end stands here");
        if (line->contains("end")) {
            if (text_at(*line, "end") != digest_.finish()) {
                return bad("the file is not as it was written");
            }
            return std::optional<Head>{};
        }
        if (line->contains("client")) {
            if (const auto read = read_person(*line); !read) return tl::unexpected(read.error());
            continue;
        }
        if (!persons_.empty()) return bad("an act stands behind the clients");
        if (const auto read = read_act(*line); !read) return tl::unexpected(read.error());
        return std::optional<Head>{Head{record_->note.id, record_->seal}};
    }
}

store::ActRecord ActFile::record() {
    return *record_;
}

Result<std::optional<store::PicturePiece>> ActFile::next_piece() {
    if (pieces_left_ == 0) return std::optional<store::PicturePiece>();
    --pieces_left_;
    auto piece = read_piece();
    if (!piece) return tl::unexpected(piece.error());
    return std::move(*piece);
}

std::vector<store::PersonRecord> ActFile::persons() {
    return persons_;
}

}  // namespace coilbook::app
