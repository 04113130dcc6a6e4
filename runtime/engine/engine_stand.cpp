// How an engine stands, told and taken over.
#include <algorithm>
#include <numeric>

#include "runtime/engine/engine_parts.hpp"

namespace tallow::runtime {

bool same_but_for_time(const Standing& a, const Standing& b) {
    return a.lists == b.lists && a.submasters == b.submasters && a.sources == b.sources &&
           a.claims == b.claims && a.master == b.master && a.blackout == b.blackout && a.panic == b.panic &&
           a.timecode.has_value() == b.timecode.has_value() &&
           (!a.timecode || *a.timecode - a.now == *b.timecode - b.now);
}

Standing Engine::standing() const {
    Standing s;
    s.lists.resize(p_->roll.lists.size());
    s.submasters.resize(p_->roll.submasters.size());
    s.sources.resize(p_->roll.waves.size() + p_->roll.chases.size());
    s.claims.resize(p_->mix.claims());
    stand(s);
    return s;
}

void Engine::stand(Standing& s) const {
    s.now = p_->last;
    for (std::uint32_t l = 0; l < s.lists.size(); ++l) s.lists[l] = p_->schedule.list(l);
    for (std::uint32_t i = 0; i < s.submasters.size(); ++i) s.submasters[i] = p_->mix.submaster(i);
    for (std::uint32_t i = 0; i < s.sources.size(); ++i) s.sources[i] = p_->mix.time_of(i);
    p_->mix.orders(s.claims);
    s.master = p_->mix.master();
    s.blackout = p_->mix.blackout();
    s.panic = p_->mix.panic_is_up();
    s.timecode = p_->schedule.timecode(p_->last);
}

// Puts what a list stands for after a cue where it is, in no time.
void Engine::Parts::settle_picture(std::uint32_t list, std::uint32_t cue, Tick g) {
    mix.begin_go(g);
    fold_picture(roll, cue, after);
    place_sources(cue, g, 0);
    Passage passage{g, {}};
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p)
        if (after.stands[p]) mix.state(list, p, after.level[p], after.wave[p], passage);
}

// Plays the GO of the present cue again, from the picture of the one before it.
void Engine::Parts::restore_list(std::uint32_t list, const Standing::List& to) {
    if (to.current != none && !to.stopped) {
        if (to.before != none) {
            settle_picture(list, to.before, to.begun);
            schedule.begin(list, to.before, to.begun);
        }
        go_on(list, to.current, to.begun);
    }
    schedule.set_list(list, to);
}

void Engine::dissolve(const Engine& from, const std::vector<std::uint32_t>& place, Tick t, Tick ticks) {
    p_->start_before(t);
    p_->mix.evaluate(t);
    p_->mix.dissolve(from.p_->mix, place, t, ticks);
}

void Engine::restore(const Standing& s) {
    std::vector<std::uint32_t> order(s.lists.size());
    std::iota(order.begin(), order.end(), 0u);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return s.lists[a].begun < s.lists[b].begun; });
    for (const std::uint32_t list : order) p_->restore_list(list, s.lists[list]);
    p_->mix.set_orders(s.claims, s.now);
    for (std::uint32_t i = 0; i < s.submasters.size(); ++i) p_->mix.set_submaster(i, s.submasters[i], s.now);
    for (std::uint32_t i = 0; i < s.sources.size(); ++i)
        if (s.sources[i].began) p_->mix.set_time(i, s.sources[i]);
    p_->mix.set_master(s.master);
    p_->mix.set_blackout(s.blackout);
    p_->mix.set_panic(s.panic);
    if (s.timecode) p_->schedule.run_timecode(s.now, *s.timecode);
    p_->last = s.now;
    p_->begun.clear();
}

}  // namespace tallow::runtime
