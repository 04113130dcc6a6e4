#include "runtime/engine/engine.hpp"

#include <utility>

#include "runtime/engine/engine_parts.hpp"

namespace tallow::runtime {

Engine::Parts::Parts(const Roll& r)
    : roll(r),
      schedule(r),
      mix(r),
      slots(r),
      straight(r),
      in_after(r.waves.size() + r.chases.size()),
      changed(r.universes.size()) {
    for (Tracked* picture : {&before, &after}) {
        picture->stands.reserve(r.parameters.size());
        picture->level.reserve(r.parameters.size());
        picture->wave.reserve(r.parameters.size());
    }
    begun.reserve(r.cues.size());
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
    p_->go_on(list, next, t);
    return true;
}

void Engine::go_to(std::uint32_t list, std::uint32_t cue, Tick t) {
    p_->start_before(t);
    p_->jump_to(list, cue, t);
    p_->schedule.arm(list, t);
}

bool Engine::back(std::uint32_t list, Tick t) {
    p_->start_before(t);
    const Schedule::List& on = p_->schedule.list(list);
    if (on.current == none || (on.current == p_->roll.lists[list].first && !on.stopped)) return false;
    p_->jump_to(list, on.stopped ? on.current : on.current - 1, t);
    return true;
}

void Engine::stop(std::uint32_t list, std::uint64_t ms, Tick t) {
    p_->start_before(t);
    p_->stop(list, ms, t);
}

void Engine::hold(std::uint32_t list, Tick t) {
    p_->start_before(t);
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

void Engine::set_blackout(bool on, Tick t) {
    p_->start_before(t);
    p_->mix.set_blackout(on);
}

bool Engine::blackout() const {
    return p_->mix.blackout();
}

void Engine::set_panic(bool on, Tick t) {
    p_->start_before(t);
    p_->mix.set_panic(on);
}

bool Engine::panic() const {
    return p_->mix.panic_is_up();
}

void Engine::timecode(Tick t, Tick code, std::uint32_t but) {
    p_->start_before(t);
    if (p_->schedule.run_timecode(t, code)) p_->locate(t, code, but);
}

void Engine::timecode_stop(Tick t) {
    p_->start_before(t);
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
