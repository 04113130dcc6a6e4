// Numbers of things in sentences.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace tallow::text {

// `1 cue`, `12 cues`: a noun whose plural is made with an s.
std::string counted(std::size_t n, std::string_view one);

}  // namespace tallow::text
