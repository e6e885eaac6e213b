// New rows of a table that wait to come in together, with the lines of the file that say them.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "store/kinds.h"

namespace coilbook::app {

[[nodiscard]] inline std::size_t text_bytes(const store::KindRow& row) {
    std::size_t bytes = 0;
    for (const auto& cell : row) {
        if (const auto* text = std::get_if<std::string>(&cell)) bytes += text->size();
    }
    return bytes;
}

class WaitingRows {
  public:
    static constexpr std::size_t most_rows = 4000;

    [[nodiscard]] bool is_full() const {
        return lines_.size() >= most_rows || bytes_ >= most_bytes;
    }
    // Gives a row for it that is in already, or an empty one: who made that may end it (Belt::put).
    [[nodiscard]] store::KindRow add(std::size_t line, store::KindRow row) {
        const auto place = lines_.size();
        lines_.push_back(line);
        bytes_ += text_bytes(row);
        if (place == rows_.size()) rows_.emplace_back();
        return std::exchange(rows_[place], std::move(row));
    }

    // All of them; none waits after that. The rows stay until the next one is added.
    struct All {
        std::vector<std::size_t> lines;
        std::span<const store::KindRow> rows;
    };
    [[nodiscard]] All take() {
        bytes_ = 0;
        const std::span rows(rows_.data(), lines_.size());
        return {std::exchange(lines_, {}), rows};
    }

  private:
    static constexpr std::size_t most_bytes = 4 * 1024 * 1024;
    std::vector<std::size_t> lines_;
    std::vector<store::KindRow> rows_;  // behind those of `lines_`, rows that are in already
    std::size_t bytes_ = 0;
};

}  // namespace coilbook::app
