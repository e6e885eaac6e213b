#include "catalog/given_code.h"

#include <algorithm>
#include <cassert>

#include "base/text.h"

namespace coilbook {
namespace {

constexpr unsigned modulus = 17;
constexpr unsigned radix = 2;
static_assert(code_alphabet.size() == modulus);

unsigned value_of(char c) {
    const auto at = code_alphabet.find(c);
    assert(at != std::string_view::npos && "a character of the alphabet");
    return static_cast<unsigned>(at);
}

// The sum over `text` of value times radix^(characters after it), modulo the modulus.
unsigned weighted_sum(std::string_view text) {
    unsigned sum = 0;
    for (const char c : text) sum = (sum * radix + value_of(c)) % modulus;
    return sum;
}

std::string in_capitals(std::string_view text) {
    std::string capitals(text);
    for (char& c : capitals) {
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    }
    return capitals;
}

// What a person may write for a character of the alphabet.
char forgiven(char capital) {
    switch (capital) {
        case 'S':
            return '5';
        case 'Z':
            return '2';
        case 'I':
        case '1':
            return 'L';
        default:  // the others mean themselves
            return capital;
    }
}

// How many characters are wrong, missing, too many or swapped with their neighbour.
// Source: the distance of optimal string alignment (Damerau 1964), by the usual table.
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before, last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t wrong = a[i - 1] == b[j - 1] ? 0 : 1;
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + wrong});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                row[j] = std::min(row[j], before[j - 2] + 1);
            }
        }
        before = last;
        last = row;
    }
    return last[b.size()];
}

}  // namespace

std::string given_code(std::uint64_t draw) {
    auto number = draw % given_codes;
    std::string code(given_code_length - 1, code_alphabet.front());
    for (auto at = code.rbegin(); at != code.rend(); ++at) {
        *at = code_alphabet[static_cast<std::size_t>(number % modulus)];
        number /= modulus;
    }
    return code + check_character(code);
}

char check_character(std::string_view beginning) {
    // sum · radix + check = 1
    const unsigned sum = weighted_sum(beginning) * radix % modulus;
    return code_alphabet[(modulus + 1 - sum) % modulus];
}

bool has_form_of_given_code(std::string_view text) {
    return text.size() == given_code_length && std::ranges::all_of(text, [](char c) {
               return code_alphabet.find(c) != std::string_view::npos;
           });
}

bool is_given_code(std::string_view text) {
    return has_form_of_given_code(text) && weighted_sum(text) == 1;
}

std::optional<std::string> read_given_code(std::string_view text) {
    std::string code;
    for (const char c : in_capitals(text)) {
        if (c != ' ' && c != '-') code += forgiven(c);
    }
    if (!is_given_code(code)) return std::nullopt;
    return code;
}

bool is_mistyped_code(std::string_view text) {
    const auto code = in_capitals(trimmed(text));
    return has_form_of_given_code(code) && !is_given_code(code);
}

std::vector<std::string> nearest_codes(std::string_view text, std::span<const std::string> codes,
                                       std::size_t most) {
    struct Near {
        std::size_t away;
        std::string code;
    };
    const auto wanted = lower_ascii(trimmed(text));
    const auto farthest = std::min<std::size_t>(2, wanted.size() / 2);
    std::vector<Near> found;
    for (const auto& code : codes) {
        const auto shorter = std::min(code.size(), wanted.size());
        if (std::max(code.size(), wanted.size()) - shorter > farthest) continue;
        const auto away = distance(wanted, lower_ascii(code));
        if (away <= farthest) found.push_back({away, code});
    }
    std::ranges::sort(found, [](const Near& a, const Near& b) {
        return a.away != b.away ? a.away < b.away : a.code < b.code;
    });
    std::vector<std::string> nearest;
    for (std::size_t at = 0; at < std::min(most, found.size()); ++at) {
        nearest.push_back(std::move(found[at].code));
    }
    return nearest;
}

}  // namespace coilbook
