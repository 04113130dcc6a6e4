// UTF-8: validity, characters of names, the width of text on a terminal.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace tallow::text {

// The offset of the first byte that is not part of valid UTF-8; npos when there is none.
std::size_t first_invalid(std::string_view bytes);

// The character at `pos`, which moves behind it. `bytes` must be valid UTF-8.
char32_t decode(std::string_view bytes, std::size_t& pos);

// Letters of any script; and what may follow one in a name: letters, marks, digits, `-`, `_`.
bool is_letter(char32_t c);
bool is_name_part(char32_t c);

// Signs that the language takes for `-`, and for a blank.
bool is_dash(char32_t c);
bool is_hard_blank(char32_t c);

// Columns on a terminal: wide characters take two, marks none, a tab one.
std::size_t width(std::string_view bytes);

// How many characters (code points).
std::size_t count(std::string_view bytes);

// The form in which names are compared: NFC, long dashes as `-`.
std::string canonical_name(std::string_view bytes);

// In small letters, of any script.
std::string small_letters(std::string_view bytes);

}  // namespace tallow::text
