// What begins and ends: cues in turn, cues as whole pictures, lists that are let go of.
#include <algorithm>
#include <array>
#include <utility>

#include "runtime/engine/engine_parts.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {

// Makes a cue the present one of its list, its clock at g.
void Engine::Parts::begin(std::uint32_t list, std::uint32_t cue, Tick g) {
    schedule.begin(list, cue, g);
    last = std::max(last, g);
    if (std::exchange(told, false)) begun.clear();
    if (begun.size() < begun.capacity()) begun.push_back(cue);
}

void Engine::Parts::start_cue(std::uint32_t list, std::uint32_t index, Tick g) {
    const Cue& cue = roll.cues[index];
    mix.begin_go(g);
    for (const std::uint32_t source : cue.starts) mix.start(source, g);
    for (const Set& set : cue.sets) {
        Passage passage{g, set.timing};
        for (const Run& run : set.runs)
            for (std::uint32_t i = 0; i < run.level.size(); ++i)
                mix.state(list, run.parameter + i, run.level[i], run.wave.empty() ? none : run.wave[i],
                          passage);
        for (const Stretch& stretch : set.releases)
            for (std::uint32_t i = 0; i < stretch.count; ++i)
                mix.release(list, stretch.parameter + i, passage);
    }
    begin(list, index, g);
    schedule.arm(list, g);
}

// Fills `before` with what a list stands for now.
void Engine::Parts::take_before(std::uint32_t list) {
    const Schedule::List& on = schedule.list(list);
    if (on.current == none || on.stopped)
        before.stands.assign(roll.parameters.size(), 0);
    else
        fold_picture(roll, on.current, before);
}

void Engine::Parts::place_sources(std::uint32_t cue, Tick g, Tick passed) {
    std::fill(in_after.begin(), in_after.end(), std::uint8_t{0});
    for (const std::uint32_t source : after.wave) {
        if (source == none || std::exchange(in_after[source], std::uint8_t{1}) != 0 || mix.runs(source))
            continue;
        const auto age = straight.age(source, cue);
        mix.set_time(source, age ? SourceTime{g - age->ticks - passed, age->carried} : SourceTime{g, 0});
    }
}

void Engine::Parts::jump_to(std::uint32_t list, std::uint32_t index, Tick g, Tick passed) {
    const Cue& cue = roll.cues[index];
    mix.begin_go(g);
    take_before(list);
    fold_picture(roll, index, after);
    place_sources(index, g, passed);
    std::array<Passage, 4> passages{
        // by Kind
        Passage{g, cue.intensity}, Passage{g, cue.colour}, Passage{g, cue.position}, Passage{g, cue.beam}};
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p) {
        Passage& passage = passages[static_cast<std::size_t>(roll.parameters.kind[p])];
        if (after.stands[p])
            mix.state(list, p, after.level[p], after.wave[p], passage);
        else if (before.stands[p])
            mix.release(list, p, passage);
    }
    begin(list, index, g);
}

void Engine::Parts::stop(std::uint32_t list, std::uint64_t ms, Tick g) {
    mix.begin_go(g);
    take_before(list);
    // The rest goes home when the light has gone.
    Passage light{g, {0, ms, ms, Curve::linear}}, rest{g, {ms, 0, 0, Curve::linear}};
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p)
        if (before.stands[p]) mix.release(list, p, roll.parameters.kind[p] == Kind::intensity ? light : rest);
    schedule.stop(list, g, g + ms * roll.refresh);
}

void Engine::Parts::go_on(std::uint32_t list, std::uint32_t cue, Tick g) {
    if (!schedule.list(list).stopped && cue == schedule.list(list).next) return start_cue(list, cue, g);
    jump_to(list, cue, g);
    schedule.arm(list, g);
}

// A cue that a GO has begun before its code is not begun again: only what follows it counts from the code.
void Engine::Parts::start_by_code(std::uint32_t list, std::uint32_t cue, Tick g) {
    schedule.pass_timecode();
    const Schedule::List& on = schedule.list(list);
    if (on.current == cue && !on.stopped) return schedule.arm(list, g);
    go_on(list, cue, g);
}

// Starts what is due by t, each cue at its own tick.
void Engine::Parts::start_due(Tick t) {
    overrun = false;
    Tick instant = 0;
    std::uint32_t at_once = 0;
    for (auto due = schedule.due(); due && due->at <= t; due = schedule.due()) {
        const Tick g = std::max(due->at, last);  // later than its time only after an overrun
        if (g != instant) at_once = 0;
        instant = g;
        if (at_once++ == limits::cues_at_once) {
            overrun = true;
            return;
        }
        if (due->by_timecode)
            start_by_code(due->list, due->cue, g);
        else
            go_on(due->list, due->cue, g);
    }
}

// What is due before t, when something else happens at t.
void Engine::Parts::start_before(Tick t) {
    if (t > 0) start_due(t - 1);
}

// Puts every list but one where it belongs when the timecode has jumped.
void Engine::Parts::locate(Tick t, Tick code, std::uint32_t but) {
    for (std::uint32_t list = 0; list < roll.lists.size(); ++list) {
        if (list == but) continue;
        const auto place = schedule.place(list, code);
        if (!place) continue;
        const Schedule::List& on = schedule.list(list);
        if (on.current != place->cue || on.stopped) jump_to(list, place->cue, t, place->passed);
        schedule.arm(list, t, place->passed);
    }
}

}  // namespace tallow::runtime
