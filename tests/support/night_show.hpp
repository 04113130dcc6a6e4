// A show for a night on which things fail: a wave of 16 bits makes each of its frames unlike all others, so
// that a receiver can tell by the slots alone which frame it holds.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "runtime/bytes.hpp"
#include "tests/support/recorder.hpp"

namespace tallow::test {

struct NightShow {
    std::string roll;                             // the file that is played
    std::vector<runtime::Bytes> frames;           // as `tallow render` has them, of universe 1
    std::map<std::string, std::uint64_t> places;  // by slots: which one each is
};

inline constexpr std::int64_t frame_ns = 25000000;  // at 40 frames a second
// When the cues are given: at these times of the show, each into the fade of the one before.
inline constexpr const char* night_times = "0s,200ms,500ms";

// The text of the show, and another version of it, in which other lamps are brighter.
std::string night_text();
std::string changed_night_text();
// Compiled to a roll and rendered, with files of this name.
NightShow night_show(const std::string& name, const std::string& text = night_text());

// What a source sent in universe 1, held against the frames of a show: REQUIREs that each packet is one of
// them, and none goes back.
struct Stretch {
    std::size_t packets = 0;
    std::uint64_t first = 0, last = 0;  // frames
    std::int64_t began = 0, ended = 0;  // when these came
    std::int64_t origin = 0;            // when frame 0 would have come, by the packet that was least late
    unsigned missing = 0;               // packets, by their sequence numbers
    unsigned terminated = 0;
    std::uint8_t priority = 0;
};
Stretch stretch_of(const std::vector<Recorded>& packets, const NightShow& show);

// The data of universe 1.
std::vector<Recorded> data_of(const std::vector<Recorded>& heard);
// The same, apart by their sources, in the order in which these were first heard.
std::vector<std::vector<Recorded>> by_source(const std::vector<Recorded>& heard);

}  // namespace tallow::test
