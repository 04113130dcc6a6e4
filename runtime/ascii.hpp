// Letters of ASCII, in any case; its digits and blanks.
#pragma once

#include <algorithm>
#include <string_view>

namespace tallow::runtime {

constexpr bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

constexpr char small_letter(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

// Whether a text is this word, which is in small letters, in any case: `GO` and `Go` are `go`.
constexpr bool is_word(std::string_view text, std::string_view word) {
    return std::equal(text.begin(), text.end(), word.begin(), word.end(),
                      [](char a, char b) { return small_letter(a) == b; });
}

// Without the blanks before and behind it.
constexpr std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r";
    const std::size_t begin = text.find_first_not_of(blanks);
    if (begin == std::string_view::npos) return {};
    return text.substr(begin, text.find_last_not_of(blanks) - begin + 1);
}

}  // namespace tallow::runtime
