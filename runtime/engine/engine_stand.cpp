// How an engine stands, told and taken over.
#include <algorithm>
#include <vector>

#include "runtime/engine/engine_parts.hpp"
#include "runtime/limits.hpp"

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

// From home on, or where no more is known from what the earliest cue left.
void Engine::Parts::add_list(std::uint32_t list, const Standing::List& to, std::vector<Again>& all) {
    if (to.current == none) return;
    if (to.stopped) all.push_back({Again::What::stop, *to.stopped, list, to.current});
    Standing::Given after{to.current, to.begun};
    for (const Standing::Given& given : to.earlier) {
        all.push_back({Again::What::go, after.at, list, after.cue});
        after = given;
        if (given.cue == none) return;
    }
    all.push_back({Again::What::settle, all.back().at, list, after.cue});
}

std::vector<Engine::Parts::Again> Engine::Parts::in_order(const Standing& s) {
    std::vector<Again> all;
    for (std::uint32_t list = 0; list < s.lists.size(); ++list) add_list(list, s.lists[list], all);
    std::reverse(all.begin(), all.end());
    std::stable_sort(all.begin(), all.end(), [](const Again& a, const Again& b) { return a.at < b.at; });
    return all;
}

// Waves and chases that had begun by then.
void Engine::Parts::take_times(const Standing& s, Tick t) {
    for (std::uint32_t i = 0; i < s.sources.size(); ++i) {
        const auto began = s.sources[i].began;
        if (began && t - *began < limits::show_ticks) mix.set_time(i, s.sources[i]);
    }
}

void Engine::Parts::do_again(const Again& again, const Standing& s) {
    switch (again.what) {
        case Again::What::settle:
            settle_picture(again.list, again.cue, again.at);
            schedule.begin(again.list, again.cue, again.at);
            return take_times(s, again.at);
        case Again::What::go:
            return go_on(again.list, again.cue, again.at);
        case Again::What::stop:
            const Tick gone = s.lists[again.list].complete_at;
            return stop(again.list, (std::max(gone, again.at) - again.at) / roll.refresh, again.at);
    }
}

void Engine::dissolve(const Engine& from, const std::vector<std::uint32_t>& place, Tick t, Tick ticks) {
    p_->start_before(t);
    p_->mix.evaluate(t);
    p_->mix.dissolve(from.p_->mix, place, t, ticks);
}

void Engine::restore(const Standing& s) {
    for (const Parts::Again& again : Parts::in_order(s)) p_->do_again(again, s);
    for (std::uint32_t list = 0; list < s.lists.size(); ++list) p_->schedule.set_list(list, s.lists[list]);
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
