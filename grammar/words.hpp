// The words of the language, once: the rules, the compiler and the editors' word lists all read them here.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace tallow::grammar {

// X(identifier, "text", opens a declaration, cannot be the name of a fixture, group or palette)
#define TALLOW_WORDS(X)                       \
    X(show, "show", true, false)              \
    X(use, "use", true, false)                \
    X(type, "type", true, false)              \
    X(patch, "patch", true, false)            \
    X(group, "group", true, false)            \
    X(palette, "palette", true, false)        \
    X(look, "look", true, true)               \
    X(wave, "wave", true, true)               \
    X(cue, "cue", true, false)                \
    X(list, "list", true, false)              \
    X(chase, "chase", true, true)             \
    X(submaster, "submaster", true, false)    \
    X(hang, "hang", true, false)              \
    X(circuit, "circuit", true, false)        \
    X(data, "data", true, false)              \
    X(desk, "desk", true, false)              \
    X(safety, "safety", true, false)          \
    X(skip, "skip", true, false)              \
    /* show */                                \
    X(tallow, "tallow", false, false)         \
    X(by, "by", false, true)                  \
    X(refresh, "refresh", false, false)       \
    X(defaults, "defaults", false, false)     \
    X(frames, "frames", false, false)         \
    X(drop, "drop", false, false)             \
    /* type */                                \
    X(emitter, "emitter", false, true)        \
    X(filters, "filters", false, false)       \
    X(wheel, "wheel", false, false)           \
    X(mode, "mode", false, false)             \
    X(range, "range", false, false)           \
    X(home, "home", false, false)             \
    X(supply, "supply", false, false)         \
    X(constant, "constant", false, false)     \
    X(dimmed, "dimmed", false, false)         \
    X(draws, "draws", false, false)           \
    X(pf, "pf", false, false)                 \
    X(plug, "plug", false, false)             \
    X(both, "both", false, false)             \
    X(length, "length", false, false)         \
    X(is, "is", false, false)                 \
    X(response, "response", false, false)     \
    X(preheat, "preheat", false, false)       \
    X(floor, "floor", false, false)           \
    X(lightness, "lightness", false, false)   \
    X(xy, "xy", false, true)                  \
    X(x, "x", false, false)                   \
    /* patch and selections */                \
    X(at, "at", false, true)                  \
    X(ganged, "ganged", false, true)          \
    X(balanced, "balanced", false, true)      \
    X(all, "all", false, true)                \
    X(except, "except", false, true)          \
    X(odd, "odd", false, true)                \
    X(even, "even", false, true)              \
    X(every, "every", false, true)            \
    X(cell, "cell", false, true)              \
    X(cells, "cells", false, true)            \
    X(depth, "depth", false, false)           \
    X(height, "height", false, false)         \
    /* settings */                            \
    X(full, "full", false, true)              \
    X(out, "out", false, true)                \
    X(dmx, "dmx", false, true)                \
    X(dmx16, "dmx16", false, true)            \
    X(colour, "colour", false, true)          \
    X(color, "color", false, true)            \
    X(hue, "hue", false, true)                \
    X(saturation, "saturation", false, true)  \
    X(intensity, "intensity", false, true)    \
    X(steady, "steady", false, true)          \
    X(fade, "fade", false, true)              \
    X(delay, "delay", false, true)            \
    X(off, "off", false, true)                \
    /* cue */                                 \
    X(up, "up", false, false)                 \
    X(down, "down", false, false)             \
    X(move, "move", false, false)             \
    X(beam, "beam", false, false)             \
    X(cut, "cut", false, false)               \
    X(curve, "curve", false, false)           \
    X(linear, "linear", false, false)         \
    X(ease, "ease", false, false)             \
    X(visual, "visual", false, false)         \
    X(follow, "follow", false, false)         \
    X(next_at, "next-at", false, false)       \
    X(timecode, "timecode", false, false)     \
    X(cue_only, "cue-only", false, false)     \
    X(block, "block", false, false)           \
    X(on, "on", false, true)                  \
    X(page, "page", false, true)              \
    X(note, "note", false, true)              \
    /* wave */                                \
    X(sine, "sine", false, false)             \
    X(triangle, "triangle", false, false)     \
    X(rise, "rise", false, false)             \
    X(fall, "fall", false, false)             \
    X(square, "square", false, false)         \
    X(flicker, "flicker", false, false)       \
    X(points, "points", false, false)         \
    X(period, "period", false, true)          \
    X(wavelength, "wavelength", false, true)  \
    X(along, "along", false, true)            \
    X(travel, "travel", false, true)          \
    X(forward, "forward", false, false)       \
    X(backward, "backward", false, false)     \
    X(outward, "outward", false, false)       \
    X(inward, "inward", false, false)         \
    X(scattered, "scattered", false, false)   \
    X(phase, "phase", false, true)            \
    X(duty, "duty", false, true)              \
    X(seed, "seed", false, true)              \
    X(swing, "swing", false, true)            \
    /* chase */                               \
    X(step, "step", false, true)              \
    X(takes, "takes", false, true)            \
    X(loop, "loop", false, false)             \
    /* data */                                \
    X(from, "from", false, false)             \
    X(wireless, "wireless", false, true)      \
    /* desk */                                \
    X(plays, "plays", false, false)           \
    X(universe, "universe", false, false)     \
    X(layout, "layout", false, false)         \
    X(channel, "channel", false, false)       \
    X(channels, "channels", false, false)     \
    X(scene, "scene", false, false)           \
    X(scenes, "scenes", false, false)         \
    X(submasters, "submasters", false, false) \
    X(pages, "pages", false, false)           \
    X(chases, "chases", false, false)         \
    X(each, "each", false, false)             \
    X(steps, "steps", false, false)           \
    X(rows, "rows", false, false)             \
    X(notch, "notch", false, false)           \
    X(reach, "reach", false, false)           \
    X(crossfade, "crossfade", false, false)   \
    X(dipless, "dipless", false, false)       \
    X(dips, "dips", false, false)             \
    /* safety */                              \
    X(flashes, "flashes", false, false)       \
    X(per, "per", false, false)               \
    X(second, "second", false, false)         \
    X(keep, "keep", false, false)             \
    X(above, "above", false, false)           \
    X(panic, "panic", false, false)

enum class Word : std::uint8_t {
    none,  // any other word: a name
#define TALLOW_WORD(identifier, text, declares, reserved) identifier,
    TALLOW_WORDS(TALLOW_WORD)
#undef TALLOW_WORD
};

struct WordInfo {
    Word word;
    std::string_view text;
    bool declares;  // opens a declaration
    bool reserved;  // would be ambiguous as the name of a fixture, group or palette
};

inline constexpr auto words = std::to_array<WordInfo>({{Word::none, "", false, false},
#define TALLOW_WORD(identifier, text, declares, reserved) {Word::identifier, text, declares, reserved},
                                                       TALLOW_WORDS(TALLOW_WORD)
#undef TALLOW_WORD
});
static_assert(words.size() <= 256);

constexpr const WordInfo& info(Word word) {
    return words[static_cast<std::size_t>(word)];
}
constexpr std::string_view text(Word word) {
    return info(word).text;
}

// The word of the language that has this text; Word::none for any other.
constexpr Word word_of(std::string_view text) {
    for (const WordInfo& w : words)
        if (w.text == text) return w.word;
    return Word::none;
}

// The units that a number may carry, and what each measures.
enum class Unit : std::uint8_t {
    none,
    percent,
    second,
    millisecond,
    minute,
    minute_second,
    hertz,
    degree,
    kelvin,
    metre,
    watt,
    ampere,
    volt,
    lumen,
    unknown  // letters behind the number that are no unit
};

struct UnitInfo {
    Unit unit;
    std::string_view text;
};

inline constexpr auto units = std::to_array<UnitInfo>({
    {Unit::percent, "%"},
    {Unit::second, "s"},
    {Unit::millisecond, "ms"},
    {Unit::minute, "min"},
    {Unit::hertz, "Hz"},
    {Unit::degree, "deg"},
    {Unit::kelvin, "K"},
    {Unit::metre, "m"},
    {Unit::watt, "W"},
    {Unit::ampere, "A"},
    {Unit::volt, "V"},
    {Unit::lumen, "lm"},
});

// As it is written: `%`; empty where there is none.
constexpr std::string_view text(Unit unit) {
    for (const UnitInfo& u : units)
        if (u.unit == unit) return u.text;
    return {};
}

constexpr Unit unit_of(std::string_view text) {
    for (const UnitInfo& u : units)
        if (u.text == text) return u.unit;
    return Unit::unknown;
}

// What begins a line of a type.
inline constexpr auto type_lines = std::to_array(
    {Word::emitter, Word::filters, Word::wheel, Word::mode, Word::range, Word::home, Word::response,
     Word::preheat, Word::floor, Word::supply, Word::draws, Word::plug, Word::length});
constexpr bool begins_type_line(Word word) {
    for (const Word w : type_lines)
        if (w == word) return true;
    return false;
}

}  // namespace tallow::grammar
