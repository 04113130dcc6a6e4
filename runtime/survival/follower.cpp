#include "runtime/survival/follower.hpp"

#include <algorithm>
#include <numeric>

namespace tallow::runtime {

using What = Command::What;

void Follower::obey(What what, std::uint32_t index, Tick t, Command command) {
    command.what = what;
    command.index = index;
    performance_->obey(command, t);
}

void Follower::follow(const State& state) {
    const bool may_play = performance_ && performance_->standing().now <= state.show.now;
    if (may_play) play_to(state);
    if (may_play && performance_->paused() == state.paused &&
        same_but_for_time(performance_->standing(), state.show))
        return;
    if (performance_) ++set_anew_;
    put(state);
}

void Follower::put(const State& state) {
    performance_ = std::make_unique<Performance>(roll_, Script{});
    performance_->restore(state.show, state.paused, state.show.now);
    performance_->advance(state.show.now);
}

// From where the last state left it, each GO at its own tick.
void Follower::play_to(const State& state) {
    const Standing& to = state.show;
    if (performance_->paused() && !state.paused) obey(What::resume, none, performance_->standing().now);
    std::vector<std::uint32_t> order(to.lists.size());
    std::iota(order.begin(), order.end(), 0u);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return to.lists[a].begun < to.lists[b].begun; });
    for (const std::uint32_t list : order) play_list(list, to.lists[list]);
    performance_->advance(to.now);
    take_masters(to);
    if (state.paused && !performance_->paused()) obey(What::pause, none, to.now);
    performance_->advance(to.now);
}

void Follower::play_list(std::uint32_t list, const Standing::List& to) {
    Standing::List own = standing_of(list);
    if (to.current != none && (to.begun != own.begun || to.current != own.current) && !to.stopped) {
        if (to.begun > performance_->standing().now) performance_->advance(to.begun);
        own = standing_of(list);  // it may have begun by itself
        Command jump;
        jump.cue = to.current;
        if (own.begun == to.begun && own.current == to.current) return;
        if (to.current == own.next && to.before() == own.current)
            obey(What::go, list, to.begun);
        else
            obey(What::go_to, list, to.begun, jump);
    }
}

void Follower::take_masters(const Standing& to) {
    const Standing own = performance_->standing();
    for (std::uint32_t list = 0; list < to.lists.size(); ++list) {
        Command stop;
        const Tick left = std::max(to.lists[list].complete_at, to.now) - to.now;
        stop.ms = left / roll_.refresh;
        if (to.lists[list].stopped && !own.lists[list].stopped) obey(What::stop, list, to.now, stop);
        if (!to.lists[list].pending && own.lists[list].pending) obey(What::hold, list, to.now);
    }
    Command command;
    for (std::uint32_t i = 0; i < to.submasters.size(); ++i) {
        command.level = to.submasters[i];
        if (own.submasters[i] != to.submasters[i]) obey(What::submaster, i, to.now, command);
    }
    command.level = to.master;
    if (own.master != to.master) obey(What::grand, none, to.now, command);
    const auto set = [&](What what, bool before, bool on) {
        command.to = on ? Command::Switch::on : Command::Switch::off;
        if (before != on) obey(what, none, to.now, command);
    };
    set(What::blackout, own.blackout, to.blackout);
    set(What::panic, own.panic, to.panic);
    command.code = to.timecode.value_or(0);
    if (to.timecode && to.timecode != own.timecode) obey(What::timecode, none, to.now, command);
    if (!to.timecode && own.timecode) obey(What::timecode_lost, none, to.now);
}

}  // namespace tallow::runtime
