#include "exchange/codes_seen.h"

#include <algorithm>
#include <bit>
#include <utility>

namespace coilbook::exchange {
namespace {

constexpr std::size_t codes_of_a_block = 8;

std::uint64_t fingerprint_of(std::string_view code) {
    const std::uint64_t hash = std::hash<std::string_view>()(code);
    return hash == 0 ? 1 : hash;
}

// The bit of a fingerprint in the word `i` of its block: six bits of it each.
std::uint64_t bit_in_word(std::uint64_t fingerprint, std::size_t i) {
    return std::uint64_t{1} << (fingerprint >> (6 * i) & 63U);
}

// Which of `blocks` (a power of two) a fingerprint goes to. Its upper bits would do but for the few
// that bit_in_word() has, too, so it is stirred once more; the factor is 2^64 over the golden mean.
std::size_t block_of(std::uint64_t fingerprint, std::size_t blocks) {
    const std::uint64_t stirred = (fingerprint ^ fingerprint >> 32) * 0x9E3779B97F4A7C15U;
    return (stirred >> 32) & (blocks - 1);
}

}  // namespace

CodesSeen::Filter::Filter(std::size_t codes)
    : blocks(std::bit_ceil(std::max<std::size_t>(codes / codes_of_a_block, 1))),
      room(blocks.size() * codes_of_a_block) {}

bool CodesSeen::Filter::may_hold(std::uint64_t fingerprint) const {
    const auto& block = blocks[block_of(fingerprint, blocks.size())];
    for (std::size_t i = 0; i < block.size(); ++i) {
        if ((block[i] & bit_in_word(fingerprint, i)) == 0) return false;
    }
    return true;
}

void CodesSeen::Filter::expect(std::uint64_t fingerprint) const {
    __builtin_prefetch(&blocks[block_of(fingerprint, blocks.size())]);
}

void CodesSeen::Filter::put(std::uint64_t fingerprint) {
    auto& block = blocks[block_of(fingerprint, blocks.size())];
    for (std::size_t i = 0; i < block.size(); ++i) block[i] |= bit_in_word(fingerprint, i);
    --room;
}

CodesSeen::CodesSeen(ReadAgain read_again, std::size_t codes) : read_again_(std::move(read_again)) {
    filters_.emplace_back(codes);
}

void CodesSeen::expect(std::string_view code) const {
    const auto fingerprint = fingerprint_of(code);
    for (const auto& filter : filters_) filter.expect(fingerprint);
}

std::optional<std::size_t> CodesSeen::seen_before(std::string_view code, std::size_t line) {
    const auto fingerprint = fingerprint_of(code);
    if (filters_.empty()) return seen_in_table(fingerprint, line);
    if (!is_suspect(fingerprint)) return std::nullopt;
    if (readings_++ < most_readings) return line_in_file(code, line);
    tabulate_file(line);
    return seen_in_table(fingerprint, line);
}

// Puts the fingerprint into the filters, unless it may be there already.
bool CodesSeen::is_suspect(std::uint64_t fingerprint) {
    const auto holds = [&](const Filter& filter) { return filter.may_hold(fingerprint); };
    if (std::ranges::any_of(filters_, holds)) return true;
    if (filters_.back().room == 0) {
        filters_.emplace_back(2 * codes_of_a_block * filters_.back().blocks.size());
    }
    filters_.back().put(fingerprint);
    return false;
}

std::optional<std::size_t> CodesSeen::line_in_file(std::string_view code, std::size_t before) {
    std::optional<std::size_t> found;
    read_again_([&](std::string_view each, std::size_t line) {
        if (line >= before) return false;
        if (each == code) found = line;
        return !found;
    });
    return found;
}

void CodesSeen::tabulate_file(std::size_t before) {
    filters_ = {};
    read_again_([&](std::string_view each, std::size_t line) {
        if (line >= before) return false;
        static_cast<void>(seen_in_table(fingerprint_of(each), line));
        return true;
    });
}

std::optional<std::size_t> CodesSeen::seen_in_table(std::uint64_t fingerprint, std::size_t line) {
    Slot* slot = &slot_for(fingerprint);
    if (slot->fingerprint == fingerprint) return slot->line;
    if (2 * (count_ + 1) > slots_.size()) {
        grow();
        slot = &slot_for(fingerprint);
    }
    *slot = {fingerprint, line};
    ++count_;
    return std::nullopt;
}

// The code's slot, or the empty one where it would go.
CodesSeen::Slot& CodesSeen::slot_for(std::uint64_t fingerprint) {
    std::size_t at = fingerprint & (slots_.size() - 1);
    while (slots_[at].fingerprint != 0 && slots_[at].fingerprint != fingerprint) {
        at = (at + 1) & (slots_.size() - 1);
    }
    return slots_[at];
}

void CodesSeen::grow() {
    const auto old = std::exchange(slots_, std::vector<Slot>(2 * slots_.size()));
    for (const auto& slot : old) {
        if (slot.fingerprint != 0) slot_for(slot.fingerprint) = slot;
    }
}

}  // namespace coilbook::exchange
