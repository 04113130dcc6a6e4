// How large a show may grow, so that a small text cannot ask for more memory than there is. Each is far
// beyond what a show needs. Those that a roll shares are in runtime/limits.hpp.
#pragma once

#include "compiler/show/scope.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {

inline constexpr std::size_t parameter_names_at_most = 100'000;  // of all types
inline constexpr std::size_t fixtures_at_most = 1'000'000;
inline constexpr std::size_t selected_at_most = 10'000'000;  // fixtures and cells in all different selections
inline constexpr std::uint64_t picture_values = std::uint64_t{1}
                                                << 25;  // whole pictures in a roll × parameters
inline constexpr std::uint64_t set_values =
    std::uint64_t{1} << 25;  // that all cues, submasters and the panic look set (value_count.hpp)
inline constexpr std::uint64_t played_values = std::uint64_t{1}
                                               << 26;  // parameters × (lists + submasters + chases)

inline constexpr std::size_t points_at_most = runtime::limits::wave_points - 2;  // of one wave
inline constexpr std::size_t hue_points_at_most = 1000;                          // of one that turns the hue
inline constexpr std::uint64_t hue_segments = std::uint64_t{1} << 23;  // of all waves that turn the hue
inline constexpr std::size_t responses_at_most =
    runtime::limits::responses / 3;  // different ones; each bends slots, levels and emitters apart
inline constexpr std::size_t chases_at_most = 1000;
inline constexpr std::uint32_t steps_at_most = 1000;          // of one chase
inline constexpr std::uint64_t step_values = 50'000'000;      // parameters × steps, of all chases; also
                                                              // what their lines set
inline constexpr std::uint32_t largest_submaster = 9999;      // its number
inline constexpr std::size_t spread_times_at_most = 100'000;  // members of one line with times of their own

// The levels of a chase's steps, at the most.
std::uint64_t chase_values(const Show& show, const Chase& chase);

// Reports a show that comes to more than picture_values, played_values or set_values. Needs sound looks:
// without cycles, and within their limit. True when all is within bounds.
bool check_bounds(Scope& scope);

}  // namespace tallow::show
