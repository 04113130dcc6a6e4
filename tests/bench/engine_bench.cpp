// The engine against a plain 16-bit fade loop over two arrays, on 64 full universes.
#include <stdexcept>

#include "runtime/engine/engine.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/bench/bench.hpp"
#include "tests/support/random.hpp"

namespace tallow::bench {
namespace {

using namespace runtime;

constexpr std::uint32_t universes = 64, slots = universes * 512;

// Fixtures of a master, four emitters, and an 8-bit parameter of their own, one after the other.
Roll rig() {
    Roll roll;
    for (std::uint32_t u = 0; u < universes; ++u)
        roll.universes.push_back({static_cast<std::uint16_t>(u + 1), 512});
    Parameters& p = roll.parameters;
    for (std::uint32_t i = 0; i < slots; ++i) {
        const std::uint32_t place = i % 512 % 6;
        p.key.push_back(std::to_string(i));
        p.universe.push_back(i / 512);
        p.coarse.push_back(static_cast<std::uint16_t>(i % 512 + 1));
        p.fine.push_back(0);
        p.home.push_back(0);
        p.kind.push_back(place == 0 ? Kind::intensity : place < 5 ? Kind::colour : Kind::position);
        p.under.push_back(place == 0 ? none : i - place);
    }
    return roll;
}

// A cue that takes every slot to a random level in its time: masters on one timing, the rest on another.
Cue cue(std::uint32_t number, const Roll& roll, std::uint64_t time_ms, std::uint32_t wave,
        test::Random& random) {
    Cue cue;
    cue.number = number * 1000;
    cue.sets.resize(2);
    cue.sets[0].timing = {0, time_ms, time_ms / 2, Curve::ease};
    cue.sets[1].timing = {0, time_ms, time_ms, Curve::linear};
    for (std::uint32_t i = 0; i < slots; ++i) {
        Set& set = cue.sets[roll.parameters.kind[i] == Kind::intensity ? 0 : 1];
        if (set.runs.empty() || set.runs.back().parameter + set.runs.back().level.size() != i)
            set.runs.push_back({i, {}, {}});
        set.runs.back().level.push_back(static_cast<Level>(10000 + random.below(45000)));
        if (wave != none) set.runs.back().wave.push_back(wave);
    }
    return cue;
}

Roll fading_roll() {
    test::Random random(1);
    Roll roll = rig();
    roll.cues = {cue(1, roll, 0, none, random), cue(2, roll, 3600000, none, random)};
    roll.lists = {{"main", 0, 2}};
    return roll;
}

// A sine over every slot, fifty fixtures from crest to crest.
Roll waving_roll() {
    test::Random random(2);
    Roll roll = rig();
    roll.waveforms.emplace_back();
    Wave wave;
    wave.period = 6000;
    for (std::uint32_t i = 0; i < slots; ++i) {
        wave.parameter.push_back(i);
        // Intensities and colours between two ends, positions around their level.
        const bool around = roll.parameters.kind[i] == Kind::position;
        wave.low.push_back(around ? -random.below(10000) : random.below(20000));
        wave.high.push_back(around ? random.below(10000) : 40000 + random.below(20000));
        const std::uint32_t member = i / 512 * 86 + i % 512 / 6;
        wave.offset.push_back(~Phase{0} / 50 * (member % 50));
        wave.member.push_back(member);
    }
    roll.waves.push_back(std::move(wave));
    roll.cues = {cue(1, roll, 0, 0, random)};
    roll.cues[0].starts = {0};
    roll.lists = {{"main", 0, 1}};
    return roll;
}

// Seconds of one frame after all cues were started, a second apart.
double tick_seconds(const Roll& roll) {
    if (const Status s = validate(roll); !s.ok()) throw std::logic_error(s.why());
    Engine engine(roll);
    Tick t = 0;
    for (std::size_t i = 0; i < roll.cues.size(); ++i, t += 40 * ticks_per_frame) {
        engine.advance(t);
        engine.go(t);
    }
    return seconds([&] { engine.advance(t += ticks_per_frame); });
}

double plain_loop_seconds() {
    test::Random random(3);
    std::vector<Level> from(slots), to(slots), out(slots);
    for (std::uint32_t i = 0; i < slots; ++i) {
        from[i] = static_cast<Level>(random.bits());
        to[i] = static_cast<Level>(random.bits());
    }
    Weight w = 0;
    return seconds([&] {
        w = (w + 9) & 65535;
        const Level* const __restrict a = from.data(), * const __restrict b = to.data();
        Level* const __restrict o = out.data();
        for (std::uint32_t i = 0; i < slots; ++i) o[i] = blend(a[i], b[i], w);
        asm volatile("" : : "r"(o) : "memory");  // the loop's result counts as used
    });
}

}  // namespace

std::vector<Row> engine_rows() {
    Roll still = fading_roll();
    still.cues.pop_back();
    still.lists[0].count = 1;
    const double plain = plain_loop_seconds(), fading = tick_seconds(fading_roll());
    const double waving = tick_seconds(waving_roll()), resting = tick_seconds(still);
    const double mega = slots / 1e6;
    return {
        {"engine, 64 universes, every slot fading", "Mslots/s", mega / fading, mega / plain,
         Row::Goal::at_least, 0.33},
        {"engine, every slot on a wave", "Mslots/s", mega / waving, mega / plain, Row::Goal::at_least, 0.2},
        {"engine, nothing moving", "us", resting * 1e6, fading * 1e6, Row::Goal::at_most, 0.01}};
}

}  // namespace tallow::bench
