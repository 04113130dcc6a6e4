#include "runtime/session/reload.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "runtime/roll/cue_places.hpp"
#include "runtime/survival/gone_cues.hpp"

namespace tallow::runtime {
namespace {

std::string sentence(const std::vector<std::uint32_t>& universes, std::string_view one,
                     std::string_view several) {
    if (universes.empty()) return "";
    return fmt::format("universe{} {} {}", universes.size() == 1 ? "" : "s", fmt::join(universes, ", "),
                       universes.size() == 1 ? one : several);
}

bool has_submaster(const Roll& roll, std::uint32_t number) {
    return std::any_of(roll.submasters.begin(), roll.submasters.end(),
                       [&](const Submaster& s) { return s.number == number; });
}

// What is up and not in the show that comes, a line each.
std::vector<std::string> lost_light(const Standing& before, const Roll& from, const Standing& after,
                                    const Roll& to) {
    std::vector<std::string> lines;
    if (before.panic && !after.panic)
        lines.emplace_back("it has no panic look: what that lit goes over to the cues");
    for (std::size_t i = 0; i < from.submasters.size(); ++i)
        if (before.submasters[i] > 0 && !has_submaster(to, from.submasters[i].number))
            lines.push_back(fmt::format("it has no more {}: what that lit goes over to the cues",
                                        submaster_at(from.submasters[i], before.submasters[i])));
    for (std::size_t i = 0; i < from.lists.size(); ++i)
        if (before.lists[i].current != none && !before.lists[i].stopped &&
            list_named(to, from.lists[i].name) == to.lists.size())
            lines.push_back(
                fmt::format("it has no more list {}: what that lit goes out", from.lists[i].name));
    return lines;
}

}  // namespace

std::string differing_universes(std::span<const Universe> sent, const Roll& roll) {
    std::vector<std::uint32_t> grown, gone;
    const auto find = [](std::span<const Universe> in, const Universe& u) {
        return std::find_if(in.begin(), in.end(), [&](const Universe& v) { return v.number == u.number; });
    };
    for (const Universe& universe : roll.universes) {
        const auto known = find(sent, universe);
        if (known == sent.end() || known->slots < universe.slots) grown.push_back(universe.number);
    }
    for (const Universe& universe : sent)
        if (find(roll.universes, universe) == std::span(roll.universes).end())
            gone.push_back(universe.number);
    const std::string more = sentence(grown, "has addresses that were not there when the player began",
                                      "have addresses that were not there when the player began"),
                      less = sentence(gone, "is no longer in the show: it is sent as 0",
                                      "are no longer in the show: they are sent as 0");
    return more + (more.empty() ? "" : ", which are not sent; start the player again to send them") +
           (more.empty() || less.empty() ? "" : "; ") + less;
}

bool Reload::poll(const Progress& progress, Played& played, Operator& op) {
    if (exchange_) return settle(progress.paused, played, op);
    if (auto revision = revisions_.poll([&](std::string_view line) { op.say(line); }))
        take(std::move(*revision), *played.roll, op);
    if (next_ && progress.counts.frames > 0) offer(progress, *played.roll, op);
    return false;
}

// One that cannot be played is passed over: the one before it stays, or what is on its way already.
void Reload::take(Revisions::Revision revision, const Roll& playing, Operator& op) {
    // As a file that is saved in steps, or on a full disk, reads for a while.
    if (revision.roll->cues.empty() && !playing.cues.empty())
        return op.say("there are no cues in what was saved: the show plays on as it was");
    if (revision.roll->refresh != playing.refresh)
        return op.say(fmt::format(
            "the changed show has another refresh, {} in place of {}: start the player again to play it",
            revision.roll->refresh, playing.refresh));
    auto script = read_script(script_text_, *revision.roll);
    if (!script.ok())
        return op.say(fmt::format(
            "{}: in the changed show this cannot be done, and the show plays on as it was", script.why()));
    script_ = std::move(*script);
    next_ = std::move(revision);
    translation_ = std::make_unique<Translation>(playing, *next_->roll);
}

// Makes the new show stand as the old one stood at the last frame, and sends it to the clock's thread, which
// refuses it if the old one has moved on.
void Reload::offer(const Progress& progress, const Roll& playing, Operator& op) {
    Handover handover;
    handover.before = progress.show;
    handover.after = (*translation_)(progress.show);
    handover.paused = progress.paused;
    handover.at = progress.frame * ticks_per_frame;
    handover.place = translation_->parameters();
    handover.script = script_;
    const std::string before = present_cues(handover.before, playing),
                      after = present_cues(handover.after, *next_->roll);
    moved_ = before == after ? "" : " " + after;
    moved_ += gone_behind(gone_cues(handover.before, playing, *next_->roll), *next_->roll);
    lost_ = lost_light(handover.before, playing, handover.after, *next_->roll);
    Progress first = progress;
    first.show = handover.after;
    exchange_ = std::make_unique<Exchange>();
    exchange_->line = std::make_unique<Line>(first);
    exchange_->source = roll_source(*next_->roll, universes_, std::move(handover));
    offered_ = exchange_->source.get();
    if (!op.send(*exchange_)) exchange_.reset();
}

bool Reload::settle(bool paused, Played& played, Operator& op) {
    const auto state = exchange_->state.load(std::memory_order_acquire);
    if (state == Exchange::State::waits) return false;
    if (state == Exchange::State::refused) {
        op.refused();
        exchange_.reset();
        return false;  // and again, in the next round
    }
    op.came(*offered_, *next_->roll, *exchange_->line);
    std::swap(line_, exchange_->line);
    // What played before goes with the exchange, before its roll.
    exchange_.reset();
    played.title = next_->roll->title.empty() ? played.path : next_->roll->title;
    played.roll_hash = next_->roll_hash;
    played.roll = std::move(next_->roll);
    next_.reset();
    op.say(paused ? fmt::format("the changed show is in place{}; what differs goes over when the pause ends",
                                moved_)
                  : fmt::format("the changed show plays{}", moved_));
    for (const std::string& line : lost_) op.say(line);
    const std::string universes = differing_universes(universes_, *played.roll);
    if (universes != std::exchange(told_, universes) && !universes.empty()) op.say(universes);
    return true;
}

}  // namespace tallow::runtime
