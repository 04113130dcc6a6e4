#include "runtime/engine/overlay.hpp"

#include <algorithm>
#include <utility>

namespace tallow::runtime {

Overlay::Overlay(const Roll& roll)
    : roll_(roll), floor_(roll.parameters.size()), look_(roll.parameters.size()) {
    for (const Run& run : roll.keeps)
        for (std::uint32_t i = 0; i < run.level.size(); ++i) floor_[run.parameter + i] = run.level[i];
    for (const Run& run : roll.panic)
        for (std::uint32_t i = 0; i < run.level.size(); ++i) look_[run.parameter + i] = {run.level[i], whole};
    floors_ = !roll.keeps.empty();
    floors_going_.reserve(roll.parameters.size());
    look_going_.reserve(roll.parameters.size());
}

void Overlay::set_up(bool on) {
    for (const Going& g : look_going_) look_[g.parameter] = g.to;
    look_going_.clear();
    up_ = on;
}

// What the look lights is never less than that; what else it states is as it says.
void Overlay::lay(Level* levels) const {
    const std::vector<Kind>& kind = roll_.parameters.kind;
    if (up_ || !look_going_.empty())
        for (std::uint32_t p = 0; p < look_.size(); ++p)
            levels[p] = kind[p] == Kind::intensity ? std::max(levels[p], look_[p].level)
                                                   : blend(levels[p], look_[p].level, look_[p].part);
    if (floors_ || !floors_going_.empty())
        for (std::uint32_t p = 0; p < floor_.size(); ++p) levels[p] = std::max(levels[p], floor_[p]);
}

// Of a value that one of both does not state, the other's goes away or comes.
Overlay::Over Overlay::look_to_go_to(std::uint32_t p, Over from) const {
    if (up_ && look_[p].part != 0) return look_[p];
    const bool by_highest = roll_.parameters.kind[p] == Kind::intensity;
    return {by_highest ? Level{0} : from.level, 0};
}

void Overlay::dissolve(const Overlay& from, const std::vector<std::uint32_t>& place) {
    floors_going_.clear();
    look_going_.clear();
    for (std::uint32_t p = 0; p < place.size(); ++p) {
        if (place[p] == none) continue;
        if (const Level before = from.floor_[place[p]]; before != floor_[p])
            floors_going_.push_back({p, {before, 0}, {floor_[p], 0}});
        if (!from.up_) continue;
        Over before = from.look_[place[p]];
        const Over to = look_to_go_to(p, before);
        if (before.part == 0 && roll_.parameters.kind[p] != Kind::intensity) before.level = to.level;
        if (before != to) look_going_.push_back({p, before, to});
    }
    go(0);
}

void Overlay::go(Weight far) {
    for (const Going& g : floors_going_) floor_[g.parameter] = blend(g.from.level, g.to.level, far);
    for (const Going& g : look_going_) {
        // From none to the whole, or back, where only one of both states it.
        const Weight part = g.from.part == g.to.part ? g.to.part : g.to.part == 0 ? whole - far : far;
        look_[g.parameter] = {blend(g.from.level, g.to.level, far), part};
    }
    if (far != whole) return;
    floors_going_.clear();
    look_going_.clear();
}

}  // namespace tallow::runtime
