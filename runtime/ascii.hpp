// Letters of ASCII, in any case.
#pragma once

#include <algorithm>
#include <string_view>

namespace tallow::runtime {

constexpr char small_letter(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

// Whether a text is this word, which is in small letters, in any case: `GO` and `Go` are `go`.
constexpr bool is_word(std::string_view text, std::string_view word) {
    return std::equal(text.begin(), text.end(), word.begin(), word.end(),
                      [](char a, char b) { return small_letter(a) == b; });
}

}  // namespace tallow::runtime
