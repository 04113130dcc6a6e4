// All that a roll ever does to each parameter, as one mark: parameters of equal marks go the same way
// whenever GO is given, whatever submasters, the grand master and timecode do.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::fit {

using runtime::Level;

// A fingerprint of 128 bits: two different histories agree by chance in one of 10³⁰ cases.
struct Mark {
    std::uint64_t a = 0x243f6a8885a308d3, b = 0x13198a2e03707344;
    void add(std::uint64_t word);
    void add(const Mark& mark) {
        add(mark.a);
        add(mark.b);
    }
    auto operator<=>(const Mark&) const = default;
};

struct History {
    // Of every statement with its cue, timing, level, and wave or chase; of submasters, floors and response.
    // It does not depend on where the parameter stands in the rig, nor on the numbers of waves.
    Mark mark;
    // The one level that it ever has. Of what stands under intensities it is enough that it has it whenever
    // light shows it, `back` out of the cue that stated it first aside.
    std::optional<Level> always;
};

// One for each of the roll's parameters. Marks of two rolls compare where the rolls have the same lists,
// cues and submasters. The roll must have passed validate().
std::vector<History> histories_of(const runtime::Roll& roll);

}  // namespace tallow::fit
