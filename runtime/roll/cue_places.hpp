// Where cues stand in their list, and lists in their roll.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// The last cue of a list up to a number in thousandths; none where all are behind it.
inline std::uint32_t cue_up_to(const Roll& roll, const CueList& list, std::uint64_t number) {
    const auto begin = roll.cues.begin() + list.first;
    const auto after = std::upper_bound(begin, begin + list.count, number,
                                        [](std::uint64_t n, const Cue& c) { return n < c.number; });
    return after == begin ? none : static_cast<std::uint32_t>(after - 1 - roll.cues.begin());
}

// The list of this name, an index; past the last one where there is none.
inline std::size_t list_named(const Roll& roll, std::string_view name) {
    const auto in = std::find_if(roll.lists.begin(), roll.lists.end(),
                                 [&](const CueList& list) { return list.name == name; });
    return static_cast<std::size_t>(in - roll.lists.begin());
}

// The cue behind one of a list, or the list's first for none; none behind the last.
inline std::uint32_t cue_behind(const CueList& list, std::uint32_t cue) {
    const std::uint32_t behind = cue == none ? list.first : cue + 1;
    return behind < list.first + list.count ? behind : none;
}

}  // namespace tallow::runtime
