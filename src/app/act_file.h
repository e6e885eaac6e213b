// The exchange file: the acts of a catalogue as text, to be carried from laptop to laptop.
//
// Lines of JSON (RFC 8259), one thing a line, each act after all that it has seen:
//
//     {"format": "coilbook exchange", "version": 1, "written_by": "coilbook 0.1.0"}
//     {"act": "01J…", "at": "2026-…Z", "who": …, "program": …, "what": …, "why": …, "laptop": …,
//      "undoes": null, "clock": 1795599275120, "seen": ["01J…"], "form": 2, "seal": "3f…",
//      "changes": 2, "rows": 1}
//     ["coil", "01J…", "notes", null, "from the drift boat"]      so many changes: table, thing,
//                                                                field, was, became
//     ["reading", ["01J…", …]]                                   so many rows: table, cells
//     ["picture", "7b…", 0, "iVBORw0…"]                          so many pieces of photographs,
//                                                                where the act has "pieces":
//                                                                digest, position, bytes in base64
//     {"client": "01J…", "told_at": …, "name": …, "line_size": 8, "hand": …, "notes": …}
//     {"end": "9a…"}                                             SHA-256 of all lines before
//
// Lines about clients stand there only where the writer was asked for names: they are personal
// data. The file may be a stranger's: lines of more than 8 MiB, acts of more than 16 million
// changes or pieces, deep nesting, what is not plain text and what lacks its end are refused;
// whether an act is what it was, says its seal.
#pragma once

#include <filesystem>
#include <istream>
#include <ostream>
#include <string>

#include "db/digest.h"
#include "exchange/json.h"
#include "store/act_record.h"

namespace coilbook::app {

// Whether `file` begins as an exchange file does, of any version.
[[nodiscard]] bool is_exchange_file(const std::filesystem::path& file);

// Writes all acts of `acts`; gives how many. The caller looks whether `out` took it.
int write_acts(store::ActSource& acts, std::ostream& out, const std::string& program,
               bool with_names);

// Acts out of such a file; `name` stands for it in Problems (field: "FILE:LINE"). REQUIRES: `in`
// outlives it.
class ActFile : public store::ActSource {
  public:
    ActFile(std::istream& in, std::string name);

    [[nodiscard]] Result<std::optional<Head>> next() override;
    [[nodiscard]] store::ActRecord record() override;
    [[nodiscard]] Result<std::optional<store::PicturePiece>> next_piece() override;
    [[nodiscard]] std::vector<store::PersonRecord> persons() override;

  private:
    [[nodiscard]] Result<exchange::Json> next_line();
    [[nodiscard]] Result<void> read_head();
    [[nodiscard]] Result<void> read_act(const exchange::Json& line);
    [[nodiscard]] Result<void> read_change();
    [[nodiscard]] Result<void> read_row();
    [[nodiscard]] Result<store::PicturePiece> read_piece();
    [[nodiscard]] Result<void> read_person(const exchange::Json& line);
    [[nodiscard]] tl::unexpected<Problem> bad(const std::string& what) const;

    std::istream& in_;
    std::string name_;
    std::size_t line_ = 0;
    bool has_begun_ = false;
    db::Digest digest_;
    std::optional<store::ActRecord> record_;
    std::int64_t pieces_left_ = 0;  // of it, that stand next in the file
    std::vector<store::PersonRecord> persons_;
};

}  // namespace coilbook::app
