// Frames made up for tests and benches: fades, waves, cuts and stillness, the same for the same seed.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "runtime/frames/frames.hpp"

namespace tallow::test {

struct MadeShow {
    runtime::FramesInfo info;
    std::vector<runtime::Bytes> frames;
    std::vector<runtime::CueMark> marks;
};

// A show of `frames` frames: now and then some slots fade, jump or run on a wave; often nothing moves.
MadeShow made_show(std::uint64_t seed, std::vector<runtime::Universe> universes, std::size_t frames);

// Its frames file, written to `path`.
void write_made(const MadeShow& show, const std::string& path);
// The same as bytes.
runtime::Bytes packed(const MadeShow& show);

// The 512 slots of a packet in hexadecimal: `slots` of them from the frame's slot `at` on, then 0.
std::string hex_slots(const runtime::Bytes& frame, std::size_t at, std::size_t slots);

// A path in the build folder for a test's file.
std::string scratch(const std::string& name);

}  // namespace tallow::test
