#include "compiler/track/chase_picture.hpp"

#include <algorithm>

#include "compiler/track/tracker.hpp"

namespace tallow::track {
namespace {

// Each step as a cue that leaves nothing to the next.
std::vector<show::Cue> step_cues(const show::Chase& chase) {
    std::vector<show::Cue> cues;
    for (const show::Chase::Step& step : chase.steps) {
        cues.push_back(cue_of(step.items));
        cues.back().cue_only = true;
    }
    return cues;
}

// A step's word on a parameter.
struct Said {
    bool named = false;
    Level level = 0;
};

}  // namespace

ChasePicture::Span ChasePicture::span(Index of) const {
    const auto place = std::lower_bound(parameter.begin(), parameter.end(), of);
    const auto column = static_cast<std::size_t>(place - parameter.begin());
    Span span{level[column], level[column], level[column]};
    for (std::size_t at = column; at < level.size(); at += parameter.size()) {
        span.low = std::min(span.low, level[at]);
        span.high = std::max(span.high, level[at]);
    }
    return span;
}

ChasePicture chase_picture(const Show& show, Book& book, const show::Chase& chase) {
    const std::vector<show::Cue> cues = step_cues(chase);
    const std::size_t steps = cues.size();
    std::map<Index, std::vector<Said>> said;  // by parameter, then by step
    std::map<Index, bool> jumps;
    Tracker tracker(show, book, cues);
    for (std::size_t step = 0; tracker.next(); ++step)
        for (const Change& change : tracker.changes()) {
            if (!tracker.stands_for(change.parameter)) continue;  // of the step before
            said.try_emplace(change.parameter, steps).first->second[step] = {
                true, tracker.at(change.parameter).level};
            jumps[change.parameter] |= tracker.at(change.parameter).jumps;
        }

    ChasePicture picture;
    picture.level.resize(steps * said.size());
    for (const auto& [parameter, words] : said) {
        const std::size_t column = picture.parameter.size();
        picture.parameter.push_back(parameter);
        picture.jumps.push_back(jumps[parameter]);
        const bool intensity = show.definition(parameter).kind == show::Kind::intensity;
        Level level = std::find_if(words.begin(), words.end(), [](const Said& s) { return s.named; })->level;
        for (std::size_t step = 0; step < steps; ++step) {
            if (words[step].named || intensity) level = words[step].level;
            picture.level[step * said.size() + column] = level;
        }
    }
    return picture;
}

}  // namespace tallow::track
