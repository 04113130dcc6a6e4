#include "tests/support/simple_roll.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "runtime/roll/roll_io.hpp"

namespace tallow::test {

using namespace runtime;

Roll rig(std::initializer_list<Kind> kinds) {
    Roll roll;
    roll.universes = {{1, 512}};
    roll.lists = {{"main", 0, 0}};
    Parameters& p = roll.parameters;
    for (const Kind kind : kinds) {
        const auto slot = static_cast<std::uint16_t>(2 * p.size() + 1);
        p.key.push_back("parameter/" + std::to_string(p.size()));
        p.universe.push_back(0);
        p.coarse.push_back(slot);
        p.fine.push_back(static_cast<std::uint16_t>(slot + 1));
        p.home.push_back(0);
        p.kind.push_back(kind);
        p.under.push_back(none);
    }
    return roll;
}

Cue& add_cue(Roll& roll, Timing timing, const std::vector<Said>& said) {
    Cue cue;
    cue.number = static_cast<std::uint32_t>(1000 * (roll.cues.size() + 1));
    cue.complete_ms = timing.delay + std::max(timing.up, timing.down);
    cue.intensity = cue.colour = cue.position = cue.beam = timing;
    cue.sets = {{timing, {}}};
    for (const Said& s : said) cue.sets[0].runs.push_back({s.parameter, {s.level}, {s.wave}});
    ++roll.lists.back().count;
    return roll.cues.emplace_back(std::move(cue));
}

void add_list(Roll& roll, const std::string& name) {
    roll.lists.push_back({name, static_cast<std::uint32_t>(roll.cues.size()), 0});
}

std::uint32_t add_chase(Roll& roll, bool loop, Chase::Step step,
                        const std::vector<std::vector<Level>>& levels) {
    Chase chase;
    chase.loop = loop;
    for (std::uint32_t p = 0; p < levels[0].size(); ++p) chase.parameter.push_back(p);
    chase.jumps.resize(levels[0].size());
    for (const auto& of_step : levels) {
        chase.steps.push_back(step);
        chase.level.insert(chase.level.end(), of_step.begin(), of_step.end());
    }
    roll.chases.push_back(std::move(chase));
    return static_cast<std::uint32_t>(roll.waves.size() + roll.chases.size() - 1);
}

std::uint32_t add_wave(Roll& roll, const Shape& shape, std::uint64_t period_ms, std::vector<Rational> offsets,
                       std::int32_t low, std::int32_t high) {
    Wave wave;
    wave.waveform = static_cast<std::uint32_t>(roll.waveforms.size());
    roll.waveforms.push_back(shape.waveform());
    wave.period = period_ms;
    for (const Rational& offset : offsets) {
        const auto i = static_cast<std::uint32_t>(wave.parameter.size());
        wave.parameter.push_back(i);
        wave.low.push_back(low);
        wave.high.push_back(high);
        wave.offset.push_back(offset.phase());
        wave.member.push_back(i);
    }
    roll.waves.push_back(std::move(wave));
    return static_cast<std::uint32_t>(roll.waves.size() - 1);
}

int value(const Engine& engine, std::uint32_t parameter) {
    const auto slots = engine.slots(0);
    return slots[2 * parameter] * 256 + slots[2 * parameter + 1];
}

Playing::Playing(Roll r) : roll(std::move(r)), engine(roll) {
    REQUIRE(validate(roll).why() == "");
}

}  // namespace tallow::test
