// Cues in which a show stood, and which a changed show has no more.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "runtime/engine/standing.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

struct GoneCue {
    std::string list;
    std::uint32_t number = 0;  // in thousandths
    bool operator==(const GoneCue&) const = default;
};

// Those of a show that stands so in one roll which another one does not have, though it has their lists.
std::vector<GoneCue> gone_cues(const Standing& standing, const Roll& from, const Roll& to);

// With the lists' names, where the changed show has several or other ones: `it stood in cue 7, which is no
// more`, `it stood in main cue 7, side cue 3, which are no more`; "" for none.
std::string gone_words(const std::vector<GoneCue>& gone, const Roll& to);
// The same behind other words, after a semicolon.
std::string gone_behind(const std::vector<GoneCue>& gone, const Roll& to);

}  // namespace tallow::runtime
