// What a frames file or a roll holds, for people and for tables.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "runtime/frames/frames.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// Takes text piece by piece.
using TextSink = std::function<Status(std::string_view)>;

// A line `frame,time,universe,1,2,…,512`, then one for each frame and universe, of one frame alone when
// `only` is given. The time is in seconds (frame_seconds()); a universe of fewer slots leaves the last
// columns empty. Lines end with a line feed. Fails when the sink fails, and when damage ends the frames
// early, after all that could be read.
Status write_csv(FramesReader& reader, std::optional<std::uint64_t> only, const TextSink& sink);

// Frame / refresh in decimal seconds, without needless zeros: exact where the fraction ends within nine
// decimals, as with 40 Hz; else rounded to the nearest in the ninth.
std::string frame_seconds(std::uint64_t frame, std::uint32_t refresh);

// `1 (512 slots), 7 (20 slots)`
std::string universe_list(std::span<const Universe> universes);

// A page for people: refresh, universes, frames, length, cue marks, damage. Reads all frames, so that all
// damage shows.
std::string summary(FramesReader& reader);

// The same for a roll: title, refresh, universes, parameters, cues (list by list, where there are several)
// with their number, label, how they start and how long they take, waves, chases, submasters, floors.
std::string summary(const Roll& roll);

}  // namespace tallow::runtime
