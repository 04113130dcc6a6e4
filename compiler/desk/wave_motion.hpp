// What waves and chases do to the channels of a desk, as levels over time.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "compiler/desk/chase_steps.hpp"
#include "compiler/desk/pictures.hpp"
#include "compiler/lower/responses.hpp"
#include "compiler/lower/sources.hpp"
#include "runtime/engine/waveform.hpp"

namespace tallow::desk {

// How a channel moves in a cue. Time is counted from the beginning of each wave and chase.
struct Motion {
    std::uint64_t period = 0;     // milliseconds: of all together
    bool repeats = true;          // false: a flicker, a chase without `loop`
    std::vector<std::string> of;  // names: `ripple`, `chase runner`
};

class WaveMotion {
  public:
    WaveMotion(const show::Show& show, track::Book& book, const track::Tracker& tracker);

    // After the tracker's next(): nothing for a channel that none moves.
    std::optional<Motion> motion(const Channel& channel);
    // The channel in a round of `period` milliseconds, a multiple of the motion's. What it gives may be
    // called as long as this lives.
    Mover mover(const Channel& channel, std::uint64_t period);

  private:
    struct Line;
    std::optional<Line> line(Index parameter);
    Index chase(Index parameter) const;  // into Show::chases, or none

    const show::Show& show_;
    track::Book& book_;
    const track::Tracker& tracker_;
    runtime::Roll roll_;  // of the waves alone
    lower::Sources sources_;
    lower::Responses responses_;
    std::map<std::uint32_t, std::unique_ptr<runtime::PreparedWaveform>> prepared_;  // by place in the roll
};

// The least common multiple, where it is within `limits::time_ms`.
std::optional<std::uint64_t> common_period(std::uint64_t a, std::uint64_t b);

}  // namespace tallow::desk
