// The limits that every reader of foreign bytes holds to. Beyond one of them a file is refused, with the
// limit named.
#pragma once

#include <cstddef>
#include <cstdint>

namespace tallow::runtime::limits {

inline constexpr std::size_t file_bytes = std::size_t{1} << 30;  // a roll, a frames file
inline constexpr std::uint32_t refresh_min = 1,
                               refresh_max = 44;  // frames per second (E1.11: 44 full packets)
inline constexpr std::uint32_t universe_min = 1, universe_max = 63999;  // E1.31, 6.2.7
inline constexpr std::uint32_t universes = 63999;                       // in one file
inline constexpr std::uint32_t slots = 512;                             // in one universe (E1.11)
inline constexpr std::uint32_t parameters = 1u << 22;                   // in one roll
inline constexpr std::uint32_t cues = 1u << 20;                         // in one roll
inline constexpr std::uint32_t waves = 1u << 22;                        // wave instances in one roll
inline constexpr std::uint32_t wave_rows = 1u << 28;                    // rows of all waves in one roll
inline constexpr std::uint32_t wave_points = 4096;                      // segments of one waveform
inline constexpr std::uint32_t chases = 1u << 20;                       // in one roll
inline constexpr std::uint32_t chase_steps = 4096;                      // in one chase
inline constexpr std::uint32_t chase_levels = 1u << 28;                 // levels of all chases in one roll
inline constexpr std::uint32_t lists = 4096;                            // cue lists in one roll
inline constexpr std::uint32_t submasters = 4096;                       // in one roll
inline constexpr std::uint32_t responses = 256;                         // in one roll
inline constexpr std::uint32_t response_knots = 4096;                   // of one
inline constexpr std::uint32_t text_bytes = 65535;                      // one string in a roll
inline constexpr std::uint64_t time_ms = std::uint64_t{7} * 24 * 3600 * 1000;  // one time in a show: a week
inline constexpr std::uint64_t frames = time_ms / 1000 * refresh_max;          // in one frames file
inline constexpr std::uint32_t chunk_frames = 4096;                // frames in one chunk of a frames file
inline constexpr std::size_t chunk_bytes = std::size_t{64} << 20;  // one chunk of a frames file, unpacked
inline constexpr std::size_t state_bytes = std::size_t{16} << 20;  // one state of a show
// The time of a show that plays, in ticks: a year at the highest refresh.
inline constexpr std::uint64_t show_ticks = std::uint64_t{366} * 24 * 3600 * 1000 * refresh_max;
inline constexpr std::uint32_t cues_at_once = 64;  // cues that may start at one instant

}  // namespace tallow::runtime::limits
