#include "compiler/desk/submasters/reach.hpp"

namespace tallow::desk::submasters {

Reach::Reach(const Bounds& bounds, Levels& positions, Levels& recordings, Percent notch)
    : bounds_(bounds),
      positions_(positions),
      recordings_(recordings),
      notch_(notch),
      count_(bounds.low.rows() * bounds.low.columns()) {
    for (std::size_t c = 0; c < positions.rows(); ++c)
        for (std::size_t r = 0; r < recordings.rows(); ++r)
            for (std::size_t j = 0; j < recordings.columns(); ++j) count(c, j) += reached_by(c, r, j);
}

std::uint32_t& Reach::count(std::size_t cue, std::size_t channel) {
    return count_[cue * bounds_.low.columns() + channel];
}

bool Reach::reached_by(std::size_t cue, std::size_t recording, std::size_t channel) const {
    return reaches(positions_.at(cue, recording), recordings_.at(recording, channel),
                   bounds_.low.at(cue, channel));
}

// Whether a cell asks for light that no other recording brings.
bool Reach::needs(std::size_t cue, std::size_t recording, std::size_t channel) const {
    if (bounds_.low.at(cue, channel) == 0) return false;
    return count_[cue * bounds_.low.columns() + channel] == (reached_by(cue, recording, channel) ? 1u : 0u);
}

Between Reach::positions(std::size_t cue, std::size_t recording) const {
    Between span{0, all_of_it};
    for (std::size_t j = 0; j < recordings_.columns(); ++j) {
        const Percent level = recordings_.at(recording, j);
        if (level == 0) continue;
        if (passes(span.high, level, bounds_.high.at(cue, j)))
            span.high = highest_under(bounds_.high.at(cue, j), level, notch_);
        if (needs(cue, recording, j) && !reaches(span.low, level, bounds_.low.at(cue, j)))
            span.low = lowest_over(bounds_.low.at(cue, j), level, notch_);
    }
    return span;
}

Between Reach::levels(std::size_t recording, std::size_t channel) const {
    Between span{0, all_of_it};
    for (std::size_t c = 0; c < positions_.rows(); ++c) {
        const Percent position = positions_.at(c, recording);
        if (position == 0) continue;
        if (passes(position, span.high, bounds_.high.at(c, channel)))
            span.high = highest_under(bounds_.high.at(c, channel), position, notch_);
        if (needs(c, recording, channel) && !reaches(position, span.low, bounds_.low.at(c, channel)))
            span.low = lowest_over(bounds_.low.at(c, channel), position, notch_);
    }
    return span;
}

void Reach::set_position(std::size_t cue, std::size_t recording, Percent position) {
    if (positions_.at(cue, recording) == position) return;
    for (std::size_t j = 0; j < recordings_.columns(); ++j) count(cue, j) -= reached_by(cue, recording, j);
    positions_.at(cue, recording) = position;
    for (std::size_t j = 0; j < recordings_.columns(); ++j) count(cue, j) += reached_by(cue, recording, j);
}

void Reach::set_level(std::size_t recording, std::size_t channel, Percent level) {
    if (recordings_.at(recording, channel) == level) return;
    for (std::size_t c = 0; c < positions_.rows(); ++c)
        count(c, channel) -= reached_by(c, recording, channel);
    recordings_.at(recording, channel) = level;
    for (std::size_t c = 0; c < positions_.rows(); ++c)
        count(c, channel) += reached_by(c, recording, channel);
}

}  // namespace tallow::desk::submasters
