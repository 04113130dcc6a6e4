// A roll: a compiled show, in columns, integers only. FORMATS.md describes the JSON it is kept in.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "runtime/integers.hpp"

namespace tallow::runtime {

inline constexpr std::uint32_t none = 0xffffffffu;  // where an index may be missing

enum class Kind : std::uint8_t { intensity, colour, position, beam };  // the class of a parameter
enum class Curve : std::uint8_t { linear, ease, visual };

// The parameters of the rig: columns of equal length, in slot order; one that has no slot of its own (a
// virtual intensity) stands before the first colour that it scales.
struct Parameters {
    std::vector<std::string> key;         // "cyc/2/3/red": fixture, index, cell (if any), attribute
    std::vector<std::uint32_t> universe;  // index into Roll::universes; none for a virtual intensity
    std::vector<std::uint16_t> coarse;    // slot 1..512; 0 for a virtual intensity
    std::vector<std::uint16_t> fine;      // slot 1..512 of the fine byte; 0 for an 8-bit parameter
    std::vector<Level> home;              // before any cue
    std::vector<Kind> kind;
    std::vector<std::uint32_t> under;  // the intensity parameter that it stands under (a cell's, a master's)
                                       // or none. A colour under one without a slot is multiplied by it.
    std::size_t size() const { return key.size(); }
};

struct Universe {
    std::uint16_t number = 1;   // 1..63999
    std::uint16_t slots = 512;  // 1..512
    bool operator==(const Universe&) const = default;
};

// The shape of a wave over one turn. Values are 0..65535 of the way from the low end to the high one.
struct Waveform {
    enum class Shape : std::uint8_t { sine, segments, flicker };
    // Linear from `from` at `start` to `to` at the next segment's start (or the turn's end);
    // right-continuous.
    struct Segment {
        Phase start;
        Level from, to;
        bool operator==(const Segment&) const = default;
    };
    Shape shape = Shape::sine;
    std::vector<Segment> segments;  // for Shape::segments: the first starts at 0, starts grow strictly
    std::uint64_t seed = 0;         // for Shape::flicker
    bool operator==(const Waveform&) const = default;
};

// A wave put on a selection by a cue: one row for each parameter that it moves, in parameter order.
// The value of a row is low + (high − low)·w at phase (time since its start)/period + offset; an intensity is
// scaled by it, a colour or beam value is replaced by it, a position has it added (and is then kept to
// 0..65535).
struct Wave {
    std::uint32_t waveform = 0;   // index into Roll::waveforms
    std::uint64_t period = 1000;  // milliseconds, at least 1
    std::uint32_t continues =
        none;  // the wave (index) whose phase this one takes over at its start, if that one has run
    std::vector<std::uint32_t> parameter;
    std::vector<std::int32_t> low, high;  // −65535..65535
    std::vector<Phase> offset;
    std::vector<std::uint32_t> member;  // place in the selection: what a flicker is seeded with
    bool operator==(const Wave&) const = default;
};

// Neighbouring parameters that take levels together.
struct Run {
    std::uint32_t parameter = 0;      // the first
    std::vector<Level> level;         // one for each
    std::vector<std::uint32_t> wave;  // one for each: the wave that runs on it (index into Roll::waves) or
                                      // none; empty when none has one
    bool operator==(const Run&) const = default;
};

// What a cue sets with one timing. Rising intensities take `up`, falling ones `down`; everything else takes
// `up`.
struct Timing {
    std::uint64_t delay = 0, up = 0, down = 0;  // milliseconds
    Curve curve = Curve::linear;
    auto operator<=>(const Timing&) const = default;
};
struct Set {
    Timing timing;
    std::vector<Run> runs;
    bool operator==(const Set&) const = default;
};

enum class Next : std::uint8_t { go, follow, next_at };  // how the cue after this one starts

struct Cue {
    std::uint32_t number = 0;  // thousandths: 2500 is cue 2.5
    std::string label, on, note, page;
    Next next = Next::go;
    std::uint64_t next_ms = 0;      // follow: after this one is complete; next_at: after its GO
    std::uint64_t complete_ms = 0;  // from its GO: the largest delay + time of its header and lines
    Timing intensity;               // its header's times, for a jump to this cue; the other classes' below
    Timing colour, position, beam;
    std::vector<std::uint32_t> starts;  // waves that begin at this cue's GO
    std::vector<Set> sets;              // in order; no parameter twice in one cue
    bool operator==(const Cue&) const = default;
};

// The whole tracked picture when a cue has been played: one level and one wave (or none) for each parameter.
struct Picture {
    std::uint32_t cue = 0;  // index into Roll::cues
    std::vector<Level> level;
    std::vector<std::uint32_t> wave;
    bool operator==(const Picture&) const = default;
};
inline constexpr std::uint32_t picture_every = 64;  // a roll holds one for each 64th cue (index 63, 127 …)

struct Roll {
    std::string title, by;
    std::uint32_t refresh = 40;       // frames per second, 1..44
    std::vector<Universe> universes;  // by growing number
    Parameters parameters;
    std::vector<Waveform> waveforms;
    std::vector<Wave> waves;
    std::vector<Cue> cues;  // by growing number
    std::vector<Picture> pictures;
};

}  // namespace tallow::runtime
