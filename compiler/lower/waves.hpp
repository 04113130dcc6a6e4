// Waves on selections, as the runtime plays them.
#pragma once

#include "compiler/show/show.hpp"
#include "compiler/track/colours.hpp"
#include "compiler/track/tracker.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::lower {

runtime::Waveform lower_waveform(const show::WaveShape& shape);

// Both ends of a range drawn toward their middle by 1 − swing (millionths of a percent), each rounded once.
std::pair<std::int64_t, std::int64_t> swung(std::int64_t low, std::int64_t high, std::int64_t swing);

// A row for each parameter, those of a turning hue over the whole of what their emitter's own waveform says;
// `waveform` is its index in the roll. What it continues is for the caller to say.
runtime::Wave lower_wave(const show::Show& show, track::Book& book, const track::WaveInstance& instance,
                         std::uint32_t waveform);

// Where each member of a wave's selection stands: millionths of a metre along the wave's axis, or of a member
// in the selection's order. A member that hangs nowhere, and so has nothing that the wave moves, stands at 0.
std::vector<std::int64_t> places(const show::Show& show, const show::WaveShape& shape,
                                 const show::Selection& selection);

// Every member's d(i) of LANGUAGE.md, doubled so that it is whole, from where they stand: their place
// forward, its negative backward, the distance from the middle of all outward, its negative inward, the place
// of another, by a seeded permutation, scattered.
std::vector<std::int64_t> doubled_distances(show::Travel travel, std::uint32_t seed,
                                            std::vector<std::int64_t> places);

// numerator/denominator of a turn, rounded to 2⁻⁶⁴ and wrapped. denominator > 0.
runtime::Phase turns(std::int64_t numerator, std::int64_t denominator);

}  // namespace tallow::lower
