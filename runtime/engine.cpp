// The schedule: which cue starts when. What a cue does to the parameters is in stage.hpp.
#include "runtime/engine.hpp"

#include <algorithm>
#include <array>

#include "runtime/limits.hpp"
#include "runtime/picture.hpp"
#include "runtime/slots.hpp"
#include "runtime/stage.hpp"

namespace tallow::runtime {

struct Engine::Columns {
    explicit Columns(const Roll& r);
    void start_cue(std::uint32_t index, Tick g);
    void jump_to(std::uint32_t index, Tick g);
    void begin(std::uint32_t index, Tick g);
    void start_due(Tick t);
    void write_slots();

    const Roll& roll;
    Stage stage;
    Slots slots;
    Picture picture;  // for jump_to
    std::vector<std::uint8_t> changed;
    bool any_changed = false;
    bool first = true;  // no advance yet

    Tick last = 0;  // the latest tick that was asked for
    std::uint32_t current = none, next = none;
    std::optional<Tick> pending;
    Tick complete_at = 0;
    bool overrun = false;
};

Engine::Columns::Columns(const Roll& r) : roll(r), stage(r), slots(r), changed(r.universes.size()) {
    picture.level.reserve(r.parameters.size());
    picture.wave.reserve(r.parameters.size());
    if (!r.cues.empty()) next = 0;
}

// Makes a cue the present one, its clock at g.
void Engine::Columns::begin(std::uint32_t index, Tick g) {
    current = index;
    next = index + 1 < roll.cues.size() ? index + 1 : none;
    complete_at = g + roll.cues[index].complete_ms * roll.refresh;
    pending.reset();
    last = std::max(last, g);
}

void Engine::Columns::start_cue(std::uint32_t index, Tick g) {
    const Cue& cue = roll.cues[index];
    stage.evaluate(g);
    for (const std::uint32_t wave : cue.starts) stage.start_wave(wave, g);
    for (const Set& set : cue.sets) {
        Passage passage{g, set.timing};
        for (const Run& run : set.runs)
            for (std::uint32_t i = 0; i < run.level.size(); ++i)
                stage.state(run.parameter + i, run.level[i], run.wave.empty() ? none : run.wave[i], passage);
    }
    begin(index, g);
    if (next == none) return;
    if (cue.next == Next::follow) pending = complete_at + cue.next_ms * roll.refresh;
    if (cue.next == Next::next_at) pending = g + cue.next_ms * roll.refresh;
}

void Engine::Columns::jump_to(std::uint32_t index, Tick g) {
    const Cue& cue = roll.cues[index];
    stage.evaluate(g);
    fold_picture(roll, index, picture);
    std::array<Passage, 4> passages{
        // by Kind
        Passage{g, cue.intensity}, Passage{g, cue.colour}, Passage{g, cue.position}, Passage{g, cue.beam}};
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p)
        stage.state(p, picture.level[p], picture.wave[p],
                    passages[static_cast<std::size_t>(roll.parameters.kind[p])]);
    begin(index, g);
}

// Starts what is due by t, each cue at its own tick.
void Engine::Columns::start_due(Tick t) {
    overrun = false;
    Tick instant = 0;
    std::uint32_t at_once = 0;
    while (pending && *pending <= t) {
        const Tick g = std::max(*pending, last);  // later than its time only after an overrun
        if (g != instant) at_once = 0;
        instant = g;
        if (at_once++ == limits::cues_at_once) {
            overrun = true;
            return;
        }
        start_cue(next, g);
    }
}

void Engine::Columns::write_slots() {
    if (!any_changed && !stage.any_touched()) return;
    any_changed = false;
    for (std::size_t u = 0; u < changed.size(); ++u) {
        changed[u] = stage.touched(u) && (slots.write(u, stage.now()) || first);
        any_changed = any_changed || changed[u];
    }
    first = false;
    stage.clear_touched();
}

Engine::Engine(const Roll& roll) : c_(std::make_unique<Columns>(roll)) {}
Engine::~Engine() = default;

void Engine::advance(Tick t) {
    c_->start_due(t);
    c_->stage.evaluate(t);
    c_->last = t;
    c_->write_slots();
}

bool Engine::go(Tick t) {
    if (t > 0) c_->start_due(t - 1);
    if (c_->next == none) return false;
    c_->start_cue(c_->next, t);
    return true;
}

bool Engine::back(Tick t) {
    if (t > 0) c_->start_due(t - 1);
    if (c_->current == none || c_->current == 0) return false;
    c_->jump_to(c_->current - 1, t);
    return true;
}

void Engine::hold() {
    c_->pending.reset();
}

std::span<const std::uint8_t> Engine::slots(std::size_t index) const {
    return c_->slots.universe(index);
}
bool Engine::changed(std::size_t index) const {
    return c_->changed[index];
}

std::optional<std::uint32_t> Engine::current() const {
    return c_->current == none ? std::nullopt : std::optional(c_->current);
}
std::optional<std::uint32_t> Engine::next() const {
    return c_->next == none ? std::nullopt : std::optional(c_->next);
}
std::optional<Tick> Engine::next_start() const {
    return c_->pending;
}
Tick Engine::complete_at() const {
    return c_->complete_at;
}
bool Engine::overrun() const {
    return c_->overrun;
}

}  // namespace tallow::runtime
