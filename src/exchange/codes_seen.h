// Which codes a file has brought up so far, and on which line, in memory that does not grow with
// the file.
//
// A file that can be read again is asked itself: a filter (of the kind that Bloom described, CACM
// 13 (1970) 422) says of most codes for certain that they are new, and where it only suspects one
// the file's earlier rows are read again for it. The filter takes 8 MiB for a million codes, and
// suspects a new one among them wrongly in about one file of thirty. Reading again is for the odd
// repeated code; a file that keeps giving cause for it gets a table of all codes instead, so that
// the work stays in proportion to the file, whatever is in it. So does a stream from the start.
//
// The table keeps a fingerprint of 64 bits and the line for each code, 32 bytes at most. Two
// different codes of a million have the same fingerprint once in some thirty million files; then
// the second is refused as a duplicate, and the person sees both lines.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>
#include <vector>

namespace coilbook::exchange {

class CodesSeen {
  public:
    // Goes through the file's rows from its beginning, giving each code and line, until it is told
    // to stop by false.
    using Visit = std::function<bool(std::string_view code, std::size_t line)>;
    using ReadAgain = std::function<void(const Visit& visit)>;

    // For what cannot be read again.
    CodesSeen() = default;
    // `codes`: how many the first filter is for; each further one is for twice as many.
    explicit CodesSeen(ReadAgain read_again, std::size_t codes = std::size_t{1} << 20);

    // The line on which `code` stood already, or nothing if it is new; then it is kept with `line`.
    // REQUIRES: lines rise from call to call.
    [[nodiscard]] std::optional<std::size_t> seen_before(std::string_view code, std::size_t line);

    // Has the memory fetched that seen_before() will look at for this code. For codes that are told
    // some dozens at a time: the filter is larger than the caches, and waiting for it would cost
    // more than all else that is done here.
    void expect(std::string_view code) const;

    static constexpr int most_readings = 4;  // again, before the table takes over

  private:
    // One bit in each of the eight words of one block stands for a code.
    struct Filter {
        using Block = std::array<std::uint64_t, 8>;
        std::vector<Block> blocks;
        std::size_t room;  // codes that may still be put in

        explicit Filter(std::size_t codes);
        [[nodiscard]] bool may_hold(std::uint64_t fingerprint) const;
        void expect(std::uint64_t fingerprint) const;
        void put(std::uint64_t fingerprint);
    };
    struct Slot {
        std::uint64_t fingerprint = 0;  // 0: empty
        std::uint64_t line = 0;
    };
    [[nodiscard]] bool is_suspect(std::uint64_t fingerprint);
    [[nodiscard]] std::optional<std::size_t> line_in_file(std::string_view code,
                                                          std::size_t before);
    void tabulate_file(std::size_t before);
    [[nodiscard]] std::optional<std::size_t> seen_in_table(std::uint64_t fingerprint,
                                                           std::size_t line);
    [[nodiscard]] Slot& slot_for(std::uint64_t fingerprint);
    void grow();

    ReadAgain read_again_;
    int readings_ = 0;
    std::vector<Filter> filters_;  // the last one is filled; none: the table counts

    std::vector<Slot> slots_ = std::vector<Slot>(64);  // a power of two
    std::size_t count_ = 0;
};

}  // namespace coilbook::exchange
