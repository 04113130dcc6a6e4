#include "runtime/engine/claims.hpp"

#include <algorithm>

namespace tallow::runtime {

Claims::Claims(const Roll& roll, const Rows& rows, Stage& stage)
    : rig_(roll.parameters), rows_(rows), stage_(stage), held_(rows.claims.size()) {}

// An index into the claims; none where no other list states the parameter.
std::uint32_t Claims::claim_of(std::uint32_t list, std::uint32_t p) const {
    const auto [first, count] = rows_.share(p);
    for (std::uint32_t c = first; c < first + count; ++c)
        if (rows_.claims[c].list == list) return c;
    return none;
}

// The claim that owns a parameter; none where no list stands for it.
std::uint32_t Claims::latest(std::uint32_t p) const {
    const auto [first, count] = rows_.share(p);
    std::uint32_t latest = none;
    for (std::uint32_t c = first; c < first + count; ++c)
        if (held_[c].stands && (latest == none || held_[c].go > held_[latest].go)) latest = c;
    return latest;
}

// The row of an intensity begins to count: from 0 where another one counts, whose light it joins, else from
// home. What another list let go of on its way home goes out instead, in the same time.
void Claims::enter(std::uint32_t claim, Passage& passage) {
    const std::uint32_t p = rows_.claims[claim].parameter;
    const auto [first, count] = rows_.share(p);
    bool joins = false;
    for (std::uint32_t c = first; c < first + count; ++c) {
        if (c == claim || !counts(c)) continue;
        joins = true;
        const std::uint32_t row = rows_.claims[c].row;
        if (!held_[c].stands && stage_.goal(row) != 0) stage_.state(row, 0, none, passage, false);
    }
    stage_.put(rows_.claims[claim].row, joins ? Level{0} : rig_.home[p], none, passage.go);
}

void Claims::state(std::uint32_t list, std::uint32_t p, Level level, std::uint32_t source, Passage& passage,
                   bool at_once) {
    const std::uint32_t claim = claim_of(list, p);
    if (claim == none) return stage_.state(p, level, source, passage, at_once);
    if (rig_.kind[p] == Kind::intensity && !counts(claim)) enter(claim, passage);
    held_[claim] = {true, level, source, go_};
    stage_.state(rows_.claims[claim].row, level, source, passage, at_once);
}

void Claims::release(std::uint32_t list, std::uint32_t p, Passage& passage, bool at_once) {
    const std::uint32_t claim = claim_of(list, p);
    if (claim == none) return stage_.state(p, rig_.home[p], none, passage, at_once);
    if (!held_[claim].stands) return;
    const bool owned = latest(p) == claim;
    held_[claim].stands = false;
    const std::uint32_t heir = latest(p);
    if (rig_.kind[p] == Kind::intensity)
        stage_.state(rows_.claims[claim].row, heir == none ? rig_.home[p] : Level{0}, none, passage, false);
    else if (heir == none)
        stage_.state(p, rig_.home[p], none, passage, at_once);
    else if (owned)
        stage_.state(p, held_[heir].level, held_[heir].source, passage, at_once);
}

void Claims::orders(std::vector<std::uint64_t>& out) const {
    for (std::size_t c = 0; c < held_.size(); ++c) out[c] = held_[c].go;
}

void Claims::set_orders(const std::vector<std::uint64_t>& orders, Tick g) {
    for (std::size_t c = 0; c < held_.size(); ++c) {
        if (orders[c] != 0) held_[c].go = orders[c];  // else as the GOs that were given again left it
        go_ = std::max(go_, orders[c]);
    }
    for (std::uint32_t c = 0; c < held_.size();) {
        const std::uint32_t p = rows_.claims[c].parameter, owner = latest(p);
        c += rows_.share(p).count;
        if (rig_.kind[p] == Kind::intensity || owner == none) continue;
        const Held& held = held_[owner];
        if (!stage_.goes_to(p, held.level, held.source)) stage_.put(p, held.level, held.source, g);
    }
}

// Calls `each` with a shared intensity and the first and the end of its claims.
template <class Each>
void Claims::each_shared_intensity(Each each) const {
    for (std::uint32_t c = 0; c < held_.size();) {
        const std::uint32_t p = rows_.claims[c].parameter, end = c + rows_.share(p).count;
        if (rig_.kind[p] == Kind::intensity) each(p, c, end);
        c = end;
    }
}

void Claims::merge(Level* levels) const {
    each_shared_intensity([&](std::uint32_t p, std::uint32_t c, std::uint32_t end) {
        bool any = false;
        Level highest = 0;
        for (; c < end; ++c) {
            if (!counts(c)) continue;
            highest = std::max(highest, stage_.now()[rows_.claims[c].row]);
            any = true;
        }
        levels[p] = any ? highest : rig_.home[p];
    });
}

void Claims::merge_dark(std::uint8_t* dark) const {
    each_shared_intensity([&](std::uint32_t p, std::uint32_t c, std::uint32_t end) {
        bool any = false, all_dark = true;
        for (; c < end; ++c) {
            if (!counts(c)) continue;
            all_dark = all_dark && stage_.dark()[rows_.claims[c].row] != 0;
            any = true;
        }
        dark[p] = any ? all_dark : rig_.home[p] == 0;
    });
}

}  // namespace tallow::runtime
