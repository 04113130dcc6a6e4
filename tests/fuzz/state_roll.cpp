#include "tests/fuzz/state_roll.hpp"

namespace tallow::test {
namespace {

using namespace runtime;

Parameters rig() {
    Parameters p;
    for (std::uint32_t i = 0; i < 4; ++i) {
        p.key.push_back("parameter/" + std::to_string(i));
        p.universe.push_back(0);
        p.coarse.push_back(static_cast<std::uint16_t>(i + 1));
        p.fine.push_back(0);
        p.home.push_back(0);
        p.kind.push_back(i < 2 ? Kind::intensity : Kind::colour);
        p.under.push_back(i < 2 ? none : i - 2);
    }
    return p;
}

Wave wave(std::uint64_t period, std::uint32_t continues) {
    Wave w;
    w.period = period;
    w.continues = continues;
    w.parameter = {0, 1};
    w.low = {0, 0};
    w.high = {full, full};
    w.offset = {0, Phase{1} << 62};
    w.member = {0, 1};
    return w;
}

void add(Roll& roll, std::uint32_t parameter, std::uint32_t source, Next next) {
    const Timing timing{0, 2000, 1000, Curve::linear};
    Cue cue;
    cue.number = static_cast<std::uint32_t>(1000 * (roll.cues.size() + 1));
    cue.complete_ms = 2000;
    cue.intensity = cue.colour = cue.position = cue.beam = timing;
    cue.next = next;
    cue.next_ms = next == Next::go ? 0 : 700;
    if (source != none) cue.starts = {source};
    cue.sets = {{timing, {{parameter, {full, 30000}, {source, source}}}}};
    ++roll.lists.back().count;
    roll.cues.push_back(std::move(cue));
}

}  // namespace

Roll state_roll() {
    Roll roll;
    roll.universes = {{1, 4}};
    roll.parameters = rig();
    roll.waveforms.emplace_back();
    roll.waves = {wave(900, none), wave(500, 0)};
    Chase chase;
    chase.loop = true;
    chase.parameter = {0, 1};
    chase.jumps = {0, 0};
    chase.steps = {{300, 100}, {200, 0}};
    chase.level = {full, 0, 0, full};
    roll.chases = {chase};
    roll.lists = {{"main", 0, 0}};
    add(roll, 0, 0, Next::go);
    add(roll, 2, none, Next::follow);
    add(roll, 0, 1, Next::next_at);
    add(roll, 0, none, Next::go);
    roll.cues.back().timecode = 250;
    roll.lists.push_back({"side", static_cast<std::uint32_t>(roll.cues.size()), 0});
    add(roll, 0, 2, Next::go);
    roll.cues.back().number = 1500;
    add(roll, 2, none, Next::go);
    roll.submasters.resize(1);
    roll.submasters[0].number = 3;
    roll.submasters[0].runs = {{0, {60000}, {}}};
    roll.panic = {{1, {full}, {}}};
    return roll;
}

}  // namespace tallow::test
