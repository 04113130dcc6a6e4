// A roll: a compiled show, in columns, integers only. FORMATS.md describes the JSON it is kept in.
#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <vector>

#include "runtime/engine/integers.hpp"

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
        auto operator<=>(const Segment&) const = default;
    };
    Shape shape = Shape::sine;
    std::vector<Segment> segments;  // for Shape::segments: the first starts at 0, starts grow strictly
    std::uint64_t seed = 0;         // for Shape::flicker
    auto operator<=>(const Waveform&) const = default;
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

// A chase: pictures that follow one another. Each step is the whole picture of what the chase names; it is
// faded into from the step before it, but for the first step of the first round, which is there at once.
struct Chase {
    struct Step {
        std::uint64_t ms = 1, fade_ms = 0;  // how long it lasts, at least 1; 0..ms of it is the fade
        bool operator==(const Step&) const = default;
    };
    bool loop = false;                     // otherwise it holds its last step
    std::vector<Step> steps;               // one at least
    std::vector<std::uint32_t> parameter;  // growing
    std::vector<std::uint8_t> jumps;       // one for each: 1 where its values do not fade
    std::vector<Level> level;              // of all parameters in step 1, then in step 2 …
    bool operator==(const Chase&) const = default;
};

// Neighbouring parameters that take levels together.
struct Run {
    std::uint32_t parameter = 0;  // the first
    std::vector<Level> level;     // one for each
    // One for each: the wave that runs on it (an index into Roll::waves), the chase that takes its place (the
    // number of waves, and an index into Roll::chases), or none; empty when none has one.
    std::vector<std::uint32_t> wave;
    bool operator==(const Run&) const = default;
};

// What a cue sets with one timing. Rising intensities take `up`, falling ones `down`; everything else takes
// `up`.
struct Timing {
    std::uint64_t delay = 0, up = 0, down = 0;  // milliseconds
    Curve curve = Curve::linear;
    auto operator<=>(const Timing&) const = default;
};
// Neighbouring parameters.
struct Stretch {
    std::uint32_t parameter = 0, count = 0;
    bool operator==(const Stretch&) const = default;
};
struct Set {
    Timing timing;
    std::vector<Run> runs;
    // What the cue's list lets go of: no cue of the list stands for it any more. It goes to what the list
    // that stated it latest among the others has there, or home.
    std::vector<Stretch> releases{};
    bool operator==(const Set&) const = default;
};

// Frames of timecode per second; drop: 30000/1001, with the labels that drop-frame counting leaves out.
enum class TimecodeRate : std::uint8_t { f24, f25, drop, f30 };
inline constexpr std::uint64_t no_timecode = ~std::uint64_t{0};

enum class Next : std::uint8_t { go, follow, next_at };  // how the cue after this one starts

struct Cue {
    std::uint32_t number = 0;  // thousandths: 2500 is cue 2.5
    std::string label, on, note, page;
    Next next = Next::go;
    std::uint64_t next_ms = 0;      // follow: after this one is complete; next_at: after its GO
    std::uint64_t complete_ms = 0;  // from its GO: the largest delay + time of its header and lines
    Timing intensity;               // its header's times, for a jump to this cue; the other classes' below
    Timing colour, position, beam;
    std::uint64_t timecode = no_timecode;  // the frame of timecode at which it starts itself
    std::vector<std::uint32_t> starts;     // waves and chases (see Run::wave) that begin at this cue's GO
    std::vector<Set> sets;                 // in order; no parameter twice in one cue
    bool operator==(const Cue&) const = default;
};

// The whole tracked picture of a list when a cue has been played.
struct Picture {
    std::uint32_t cue = 0;            // index into Roll::cues
    std::vector<Level> level;         // of each parameter that the list stands for
    std::vector<std::uint32_t> wave;  // of each: see Run::wave
    std::vector<Stretch> stated{};    // which these are
    bool operator==(const Picture&) const = default;
};
inline constexpr std::uint32_t picture_every = 64;  // a roll holds one for each 64th cue of a list

// Cues that play in turn, beside those of other lists.
struct CueList {
    std::string name;
    std::uint32_t first = 0, count = 0;  // in Roll::cues
    bool operator==(const CueList&) const = default;
};

// What a submaster brings in as it is raised: levels by the highest, the rest mixed over what is beneath.
struct Submaster {
    std::uint32_t number = 1;
    std::string label;
    std::vector<std::uint32_t> starts;  // waves and chases that begin when it leaves 0
    std::vector<Run> runs;
    std::vector<Stretch> jumps;  // what does not mix: it takes its value as soon as the submaster leaves 0
    bool operator==(const Submaster&) const = default;
};

// How slots follow levels, at output: straight lines between knots. What is sent of a parameter with a slot
// goes through it last; the level of a virtual intensity before it multiplies the colours under it.
struct Response {
    std::vector<Level> level, slot;  // levels grow strictly, from 0 to 65535; slots never fall
    std::vector<Stretch> on;         // intensities and colours; each has one response at the most
    bool operator==(const Response&) const = default;
};

struct Roll {
    std::string title, by;
    std::uint32_t refresh = 40;       // frames per second, 1..44
    std::vector<Universe> universes;  // by growing number
    Parameters parameters;
    std::vector<Waveform> waveforms;
    std::vector<Wave> waves;
    std::vector<Chase> chases;
    TimecodeRate timecode_rate = TimecodeRate::f25;
    std::vector<CueList> lists;  // one at least, the main list first; together they hold all cues in order
    std::vector<Cue> cues;       // in each list by growing number
    std::vector<Picture> pictures;
    std::vector<Submaster> submasters;  // by growing number
    std::vector<Run> keeps;             // levels that intensities never go under; no waves
    std::vector<Run> panic;             // what the panic key brings up over everything; no waves
    std::vector<Response> responses;
};

}  // namespace tallow::runtime
