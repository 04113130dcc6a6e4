// Rolls to and from their JSON text (FORMATS.md).
#pragma once

#include <string>
#include <string_view>

#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// One JSON object, keys and columns in fixed order, integers only, a final line end: the same roll, the same
// bytes.
std::string write_roll(const Roll& roll);

// Reads by SAX into typed handlers, checks depth, counts and every index against limits.hpp before anything
// is reserved; unknown or repeated keys, floats, and what validate() refuses are failures that name the key
// and the byte.
Result<Roll> read_roll(std::string_view text);

// Whether a text begins as a roll does, whole and sound or not.
bool is_roll(std::string_view text);

// Whether every index, count, order and range of a roll holds: what Engine relies on.
Status validate(const Roll& roll);

}  // namespace tallow::runtime
