// The codes that the program gives to things: six characters that survive wet ink and bad light.
//
// Five characters are drawn by lot, the sixth checks them: K7M3X and its check character. The
// alphabet has 17 characters, none of which is easily taken for another:
//
//     2 3 4 5 7 9 C F H J K L M R T W X
//
// Left out are 0 O Q D (alike), 1 I (L stays), 6 G, 8 B (3 stays), S (5), Z (2), A (4), E P (F, R),
// N (M, H), U V Y (W, X). As no vowel is left, no code is a word.
//
// Check character: the pure system of ISO/IEC 7064 with one check character, as in its MOD 11-2 and
// MOD 37-2 (from memory; the standard itself names no modulus of 17). With values a1 … a6 a code is
// right when a1·2^5 + a2·2^4 + … + a6·2^0 = 1 modulo 17. As 17 is prime and 2^k is not 1 modulo 17
// for k = 1 … 5, every single wrong character and every swap of two characters, neighbours or not,
// makes the sum another one; so does every doubled pair (KK read as MM).
//
// Two laptops draw without asking each other. Of 17^5 = 1 419 857 codes, a copy that gave m and one
// that gave n share one with a chance of about m n / 1 419 857: for a week of 50 coils on each, 1
// in 570. Then both coils have the code when the copies are merged, and the merge must tell; inside
// one catalogue a code is never given twice. People may go on using codes of their own, such as A7.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace coilbook {

inline constexpr std::string_view code_alphabet = "234579CFHJKLMRTWX";
inline constexpr std::size_t given_code_length = 6;
inline constexpr std::uint64_t given_codes = 1'419'857;  // 17^5

// The code with the number `draw` modulo given_codes. From 64 random bits every code is drawn alike
// often, to one part in 10^13.
[[nodiscard]] std::string given_code(std::uint64_t draw);

// The character that makes `beginning` a right code. REQUIRES: characters of the alphabet.
[[nodiscard]] char check_character(std::string_view beginning);

// Six characters of the alphabet, whether or not the last one checks the others.
[[nodiscard]] bool has_form_of_given_code(std::string_view text);
// The same with the right check character: a code that the program gave.
[[nodiscard]] bool is_given_code(std::string_view text);

// The given code that a person means: small letters, blanks and hyphens are forgiven, and S is read
// as 5, Z as 2, I and 1 as L. Nothing where that is no given code: it was mistyped, or is a code of
// the person's own.
[[nodiscard]] std::optional<std::string> read_given_code(std::string_view text);

// Whether a text, in any capitals, has the form of a given code with a wrong check character: a
// given code that was mistyped, or a code of the person's own that only looks like one.
[[nodiscard]] bool is_mistyped_code(std::string_view text);

// Of `codes` those that `text` may have been meant for, the nearest first, at most `most`: at most
// two characters, but not more than half of them, are wrong, missing, too many or swapped with
// their neighbour. Capitals do not count.
[[nodiscard]] std::vector<std::string> nearest_codes(std::string_view text,
                                                     std::span<const std::string> codes,
                                                     std::size_t most = 3);

}  // namespace coilbook
