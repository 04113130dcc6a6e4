// Rolls of a few 16-bit parameters, one after the other in one universe, for tests that look at single
// values.
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "runtime/engine/engine.hpp"
#include "tests/support/rational.hpp"
#include "tests/support/shapes.hpp"

namespace tallow::test {

// One parameter of each kind given; intensities start at 0, others at 0 too.
runtime::Roll rig(std::initializer_list<runtime::Kind> kinds);

// What a cue says to one parameter.
struct Said {
    std::uint32_t parameter;
    runtime::Level level;
    std::uint32_t wave = runtime::none;
};
// The next cue of a roll, in whole numbers; all that it says has one timing, which is its header's too.
runtime::Cue& add_cue(runtime::Roll& roll, runtime::Timing timing, const std::vector<Said>& said);

// The cues that are added from here on are in another list.
void add_list(runtime::Roll& roll, const std::string& name);

// A wave on parameters 0, 1, 2 … in turn, each so much later in phase; it is begun by no cue yet.
std::uint32_t add_wave(runtime::Roll& roll, const Shape& shape, std::uint64_t period_ms,
                       std::vector<Rational> offsets, std::int32_t low = 0,
                       std::int32_t high = runtime::full);

// A chase on parameters 0, 1, 2 … in turn: steps of equal times, each with a level for each parameter.
// Returns the number that runs name it by, so all waves come first.
std::uint32_t add_chase(runtime::Roll& roll, bool loop, runtime::Chase::Step step,
                        const std::vector<std::vector<runtime::Level>>& levels);

// The 16-bit value of a parameter at the last advance.
int value(const runtime::Engine& engine, std::uint32_t parameter);

// An engine that plays a roll of the test's own making. Fails the test where the roll is not valid.
struct Playing {
    explicit Playing(runtime::Roll r);
    int at(runtime::Tick t, std::uint32_t parameter = 0) {
        engine.advance(t);
        return value(engine, parameter);
    }
    runtime::Roll roll;
    runtime::Engine engine;
};

}  // namespace tallow::test
