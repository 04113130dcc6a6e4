#include "runtime/survival/follower.hpp"

#include <algorithm>

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
    if (may_play && performance_->paused() == state.paused && performance_->tape_use() == state.tape &&
        same_but_for_time(performance_->standing(), state.show))
        return;
    put(state);
}

void Follower::put(const State& state) {
    performance_ = std::make_unique<Performance>(roll_, Script{});
    performance_->restore(state.show, state.paused, state.tape, state.show.now);
    performance_->advance(state.show.now);
}

// From where the last state left it, each GO at its own tick.
void Follower::play_to(const State& state) {
    const Standing& to = state.show;
    if (performance_->paused() && !state.paused) obey(What::resume, none, performance_->standing().now);
    for (const Told& told : news(to)) do_told(told);
    performance_->advance(to.now);
    take_masters(to);
    performance_->set_tape_use(state.tape);
    if (state.paused && !performance_->paused()) obey(What::pause, none, to.now);
    performance_->advance(to.now);
}

// What the lists were told there and not here, in its order.
std::vector<Follower::Told> Follower::news(const Standing& to) const {
    const Standing own = performance_->standing();
    std::vector<Told> all;
    for (std::uint32_t list = 0; list < to.lists.size(); ++list) {
        const Standing::List &on = to.lists[list], &had = own.lists[list];
        if (on.stopped && on.stopped != had.stopped)
            all.push_back(
                {What::stop, *on.stopped, list, none, none, (on.complete_at - *on.stopped) / roll_.refresh});
        Standing::Given given{on.current, on.begun};
        for (const Standing::Given& before : on.earlier) {
            if (given.cue == none || given.at < own.now || given == Standing::Given{had.current, had.begun} ||
                std::count(had.earlier.begin(), had.earlier.end(), given) > 0)
                break;
            all.push_back({What::go, given.at, list, given.cue, before.cue, 0});
            given = before;
        }
    }
    std::reverse(all.begin(), all.end());
    std::stable_sort(all.begin(), all.end(), [](const Told& a, const Told& b) { return a.at < b.at; });
    return all;
}

void Follower::do_told(const Told& told) {
    if (told.at > performance_->standing().now) performance_->advance(told.at);
    const Standing::List own = standing_of(told.list);
    Command command;
    command.cue = told.cue;
    command.ms = told.ms;
    if (told.what == What::stop) return obey(What::stop, told.list, told.at, command);
    if (told.cue == own.current && told.at == own.begun) return;  // it has begun by itself
    const bool in_turn = told.cue == own.next && told.before == own.current;
    obey(in_turn ? What::go : What::go_to, told.list, told.at, command);
}

void Follower::take_masters(const Standing& to) {
    const Standing own = performance_->standing();
    for (std::uint32_t list = 0; list < to.lists.size(); ++list) {
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
    if (!to.timecode && own.timecode) obey(What::timecode_off, none, to.now);
}

}  // namespace tallow::runtime
