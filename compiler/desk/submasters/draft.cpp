#include "compiler/desk/submasters/draft.hpp"

namespace tallow::desk::submasters {

Draft::Draft(const Bounds& bounds, Percent notch, std::uint64_t& work)
    : bounds_(&bounds),
      notch_(notch),
      work_(&work),
      position_(bounds.low.rows(), 0),
      level_(bounds.low.columns(), all_of_it),
      cues_of_(bounds.low.columns()),
      most_changes_(64 + 8 * (bounds.low.rows() + bounds.low.columns())) {}

void Draft::clear() {
    std::fill(position_.begin(), position_.end(), Percent{0});
    std::fill(level_.begin(), level_.end(), all_of_it);
    for (const Cell& c : cells_) cues_of_[c.channel].clear();
    cells_.clear();
}

bool Draft::add(Cell cell) {
    const bool can = serve(cell);
    if (can) {
        cells_.push_back(cell);
        changes_.clear();
    } else {
        let_go(cell);
    }
    return can;
}

bool Draft::can_add(Cell cell) {
    const bool can = serve(cell);
    let_go(cell);
    return can;
}

bool Draft::serve(Cell cell) {
    *work_ += 16;
    cues_of_[cell.channel].push_back(cell.cue);
    return settle(cell.cue,
                  lowest_over(bounds_->low.at(cell.cue, cell.channel), level_[cell.channel], notch_));
}

void Draft::let_go(Cell cell) {
    cues_of_[cell.channel].pop_back();
    for (; !changes_.empty(); changes_.pop_back()) {
        const Change& c = changes_.back();
        (c.position ? position_ : level_)[c.at] = c.was;
    }
}

// Raises a position, and whatever that forces.
bool Draft::settle(std::size_t cue, Percent position) {
    raised_.assign(1, {cue, position});
    while (!raised_.empty()) {
        const auto [i, to] = raised_.back();
        raised_.pop_back();
        if (to <= position_[i]) continue;
        if (to > all_of_it || changes_.size() > most_changes_) return false;
        changes_.push_back({true, i, position_[i]});
        position_[i] = to;
        *work_ += 2 * level_.size();
        for (std::size_t j = 0; j < level_.size(); ++j)
            if (passes(to, level_[j], bounds_->high.at(i, j)) &&
                !lower(j, highest_under(bounds_->high.at(i, j), to, notch_)))
                return false;
    }
    return true;
}

bool Draft::lower(std::size_t channel, Percent level) {
    changes_.push_back({false, channel, level_[channel]});
    level_[channel] = level;
    *work_ += 16 + 4 * cues_of_[channel].size();
    for (const std::size_t cue : cues_of_[channel]) {
        if (reaches(position_[cue], level, bounds_->low.at(cue, channel))) continue;
        const Percent needed = lowest_over(bounds_->low.at(cue, channel), level, notch_);
        if (needed > all_of_it) return false;
        raised_.emplace_back(cue, needed);
    }
    return true;
}

Percent Draft::top(std::size_t cue) const {
    // The least of high/level, found without division.
    Percent high = all_of_it, level = all_of_it;
    for (std::size_t j = 0; j < level_.size(); ++j) {
        const Percent h = bounds_->high.at(cue, j);
        if (h * level < high * level_[j]) {
            high = h;
            level = level_[j];
        }
    }
    return highest_under(high, level, notch_);
}

}  // namespace tallow::desk::submasters
