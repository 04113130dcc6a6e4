// What the engine does at a tick: it starts what is due (schedule.hpp), lets it change the levels (mix.hpp),
// and writes the slots (slots.hpp).
#include "runtime/engine/engine.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "runtime/engine/mix.hpp"
#include "runtime/engine/picture.hpp"
#include "runtime/engine/schedule.hpp"
#include "runtime/engine/slots.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {

struct Engine::Parts {
    explicit Parts(const Roll& r);
    void start(const Schedule::Due& due, Tick g);
    void start_cue(std::uint32_t list, std::uint32_t cue, Tick g);
    void jump_to(std::uint32_t list, std::uint32_t cue, Tick g, std::span<const std::uint32_t> starts);
    void begin(std::uint32_t list, std::uint32_t cue, Tick g);
    void start_due(Tick t);
    void start_before(Tick t);
    void write_slots();

    const Roll& roll;
    Schedule schedule;
    Mix mix;
    Slots slots;
    Tracked before, after;  // pictures of a list, for jump_to
    std::vector<std::uint8_t> changed;
    bool any_changed = false;
    bool first = true;  // no advance yet

    std::vector<std::uint32_t> begun;
    bool told = false;  // that these have begun
    Tick last = 0;      // the latest tick that was asked for
    bool overrun = false;
};

Engine::Parts::Parts(const Roll& r) : roll(r), schedule(r), mix(r), slots(r), changed(r.universes.size()) {
    for (Tracked* picture : {&before, &after}) {
        picture->stands.reserve(r.parameters.size());
        picture->level.reserve(r.parameters.size());
        picture->wave.reserve(r.parameters.size());
    }
    begun.reserve(r.cues.size());
}

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

// Plays a cue as the whole picture that its list has then, and begins waves and chases; what the list stood
// for beyond that is released.
void Engine::Parts::jump_to(std::uint32_t list, std::uint32_t index, Tick g,
                            std::span<const std::uint32_t> starts) {
    const Cue& cue = roll.cues[index];
    const std::uint32_t current = schedule.list(list).current;
    mix.begin_go(g);
    for (const std::uint32_t source : starts) mix.start(source, g);
    fold_picture(roll, index, after);
    if (current == none)
        before.stands.assign(roll.parameters.size(), 0);
    else
        fold_picture(roll, current, before);
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

void Engine::Parts::start(const Schedule::Due& due, Tick g) {
    if (!due.by_timecode) return start_cue(due.list, due.cue, g);
    schedule.pass_timecode();
    if (due.cue == schedule.list(due.list).next) return start_cue(due.list, due.cue, g);
    jump_to(due.list, due.cue, g, roll.cues[due.cue].starts);
    schedule.arm(due.list, g);
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
        start(*due, g);
    }
}

// What is due before t, when something else happens at t.
void Engine::Parts::start_before(Tick t) {
    if (t > 0) start_due(t - 1);
}

void Engine::Parts::write_slots() {
    if (!any_changed && !mix.any_touched()) return;
    any_changed = false;
    const Level* const levels = mix.levels();
    for (std::size_t u = 0; u < changed.size(); ++u) {
        changed[u] = mix.touched(u) && (slots.write(u, levels) || first);
        any_changed = any_changed || changed[u];
    }
    first = false;
    mix.clear_touched();
}

Engine::Engine(const Roll& roll) : p_(std::make_unique<Parts>(roll)) {}
Engine::~Engine() = default;

void Engine::advance(Tick t) {
    if (std::exchange(p_->told, false)) p_->begun.clear();
    p_->start_due(t);
    p_->told = true;
    p_->mix.evaluate(t);
    p_->last = t;
    p_->write_slots();
}

bool Engine::go(std::uint32_t list, Tick t) {
    p_->start_before(t);
    const std::uint32_t next = p_->schedule.list(list).next;
    if (next == none) return false;
    p_->start_cue(list, next, t);
    return true;
}

bool Engine::back(std::uint32_t list, Tick t) {
    p_->start_before(t);
    const std::uint32_t current = p_->schedule.list(list).current;
    if (current == none || current == p_->roll.lists[list].first) return false;
    p_->jump_to(list, current - 1, t, {});
    return true;
}

void Engine::hold(std::uint32_t list) {
    p_->schedule.hold(list);
}

void Engine::set_submaster(std::uint32_t index, Level position, Tick t) {
    p_->start_before(t);
    p_->mix.set_submaster(index, position, t);
}

void Engine::set_master(Level position, Tick t) {
    p_->start_before(t);
    p_->mix.set_master(position);
}

void Engine::set_panic(bool on, Tick t) {
    p_->start_before(t);
    p_->mix.set_panic(on);
}

void Engine::timecode(Tick t, Tick code) {
    p_->start_before(t);
    p_->schedule.run_timecode(t, code);
}

void Engine::timecode_stop() {
    p_->schedule.stop_timecode();
}

std::span<const std::uint8_t> Engine::slots(std::size_t universe) const {
    return p_->slots.universe(universe);
}
bool Engine::changed(std::size_t universe) const {
    return p_->changed[universe];
}
std::span<const std::uint32_t> Engine::begun() const {
    return p_->begun;
}

std::optional<std::uint32_t> Engine::current(std::uint32_t list) const {
    const std::uint32_t cue = p_->schedule.list(list).current;
    return cue == none ? std::nullopt : std::optional(cue);
}
std::optional<std::uint32_t> Engine::next(std::uint32_t list) const {
    const std::uint32_t cue = p_->schedule.list(list).next;
    return cue == none ? std::nullopt : std::optional(cue);
}
std::optional<Tick> Engine::next_start(std::uint32_t list) const {
    return p_->schedule.list(list).pending;
}
Tick Engine::complete_at(std::uint32_t list) const {
    return p_->schedule.list(list).complete_at;
}
bool Engine::at_rest(Tick t) const {
    return p_->schedule.at_rest(t);
}
bool Engine::overrun() const {
    return p_->overrun;
}

}  // namespace tallow::runtime
