// Waves on selections, as the runtime plays them.
#pragma once

#include "compiler/show/show.hpp"
#include "compiler/track/colours.hpp"
#include "compiler/track/tracker.hpp"
#include "runtime/roll.hpp"

namespace tallow::lower {

runtime::Waveform lower_waveform(const show::WaveShape& shape);

// A row for each parameter; `waveform` is its index in the roll. What it continues is for the caller to say.
runtime::Wave lower_wave(const show::Show& show, track::Colours& colours, const track::WaveInstance& instance,
                         std::uint32_t waveform);

// Every member's d(i) of LANGUAGE.md, doubled so that it is whole: 2·i forward, its negative backward, |2·i −
// (n−1)| outward, its negative inward, twice a seeded permutation of 0..n−1 scattered. n > 0.
std::vector<std::int64_t> doubled_distances(show::Travel travel, std::uint32_t seed, std::size_t n);

// numerator/denominator of a turn, rounded to 2⁻⁶⁴ and wrapped. denominator > 0.
runtime::Phase turns(std::int64_t numerator, std::int64_t denominator);

}  // namespace tallow::lower
