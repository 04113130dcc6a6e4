// Text from outside, before people or other readers get it.
#pragma once

#include <string>
#include <string_view>

namespace tallow::runtime {

// Whether this is one word: UTF-8 of 1 to 100 bytes with neither blanks nor control characters, such as would
// steer a terminal.
bool is_plain_word(std::string_view text);

// To be shown: the beginning, with `?` for each byte that is not printable ASCII.
std::string shown(std::string_view text);

}  // namespace tallow::runtime
