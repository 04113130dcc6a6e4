#include "runtime/play/performance.hpp"

#include <algorithm>
#include <utility>

#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

using What = Command::What;

// Room for what one advance may tell: more cues than may start at one instant, and what was asked for.
constexpr std::size_t events_kept = 256;

bool switched(Command::Switch to, bool now) {
    return to == Command::Switch::over ? !now : to == Command::Switch::on;
}

}  // namespace

Performance::Performance(const Roll& roll, Script script)
    : roll_(roll), engine_(roll), script_(std::move(script)) {
    events_.reserve(events_kept);
}

void Performance::note(const Event& event) {
    if (std::exchange(told_, false)) events_.clear();
    if (events_.size() < events_.capacity()) events_.push_back(event);
}

void Performance::obey(const Command& command, Tick t) {
    now_ = std::max(now_, t);
    prompt(now_);
    const Answer came = answer(command, now_);
    note({Event::What::answer, now_, none, command, came});
}

// All of the script that is due by t and was not given yet, each at its time.
void Performance::prompt(Tick t) {
    if (!std::exchange(code_given_, true) && script_.timecode)
        engine_.timecode(0, timecode_tick(*script_.timecode, roll_.timecode_rate, roll_.refresh));
    for (; given_ < script_.commands.size(); ++given_) {
        const auto& [ms, command] = script_.commands[given_];
        if (ms * roll_.refresh > t) return;
        const Tick at = ms * roll_.refresh;
        note({Event::What::answer, at, none, command, answer(command, at)});
    }
}

void Performance::advance(Tick t) {
    const bool again = advanced_ == t;
    now_ = std::max(now_, t);
    prompt(now_);
    engine_.advance(show_time(now_));
    overrun_ = overrun_ || engine_.overrun();
    for (const std::uint32_t cue : engine_.begun())
        note({Event::What::cue, now_, cue, {}, Answer::done, starts_next(cue)});
    if (std::exchange(told_, true) && !again) events_.clear();
    advanced_ = t;
}

// Whether what comes behind a cue that has begun starts by itself, or has begun already.
bool Performance::starts_next(std::uint32_t cue) const {
    std::uint32_t list = 0;
    while (cue - roll_.lists[list].first >= roll_.lists[list].count) ++list;
    return engine_.next_start(list).has_value() || engine_.current(list) != cue;
}

bool Performance::at_rest(Tick t) const {
    const auto& commands = script_.commands;
    const bool given =
        given_ == commands.size() && (commands.empty() || commands.back().ms * roll_.refresh <= t);
    return given && (paused_ || engine_.at_rest(show_time(t)));
}

Answer Performance::set_paused(bool paused, Tick t) {
    if (paused == paused_) return Answer::nothing;
    if (paused)
        stands_at_ = show_time(t);
    else
        behind_ = t - stands_at_;
    paused_ = paused;
    return Answer::done;
}

Answer Performance::stop(const Command& command, Tick t) {
    if (command.index != none) {
        engine_.stop(command.index, command.ms, t);
        return Answer::done;
    }
    for (std::uint32_t list = 0; list < roll_.lists.size(); ++list) engine_.stop(list, command.ms, t);
    engine_.timecode_stop(t);
    return Answer::done;
}

Answer Performance::hold(const Command& command, Tick t) {
    if (command.index != none) {
        engine_.hold(command.index, t);
        return Answer::done;
    }
    for (std::uint32_t list = 0; list < roll_.lists.size(); ++list) engine_.hold(list, t);
    engine_.timecode_stop(t);
    return Answer::done;
}

// A GO, a jump and a stop end a pause: who asks for them wants to see them.
Answer Performance::answer(const Command& command, Tick clock) {
    const std::uint32_t list = command.index == none ? 0 : command.index;
    const bool moves = command.what == What::go || command.what == What::back ||
                       command.what == What::go_to || command.what == What::stop;
    if (moves) set_paused(false, clock);
    const Tick t = show_time(clock);
    switch (command.what) {
        case What::go:
            return engine_.go(list, t) ? Answer::done : Answer::last_cue;
        case What::back:
            return engine_.back(list, t) ? Answer::done : Answer::first_cue;
        case What::go_to:
            engine_.go_to(list, command.cue, t);
            return Answer::done;
        case What::hold:
            return hold(command, t);
        case What::stop:
            return stop(command, t);
        case What::pause:
            return set_paused(true, clock);
        case What::resume:
            return set_paused(false, clock);
        case What::submaster:
            engine_.set_submaster(command.index, command.level, t);
            return Answer::done;
        case What::grand:
            engine_.set_master(command.level, t);
            return Answer::done;
        case What::blackout:
            engine_.set_blackout(switched(command.to, engine_.blackout()), t);
            return engine_.blackout() ? Answer::on : Answer::off;
        case What::panic:
            if (roll_.panic.empty()) return Answer::no_panic_look;
            engine_.set_panic(switched(command.to, engine_.panic()), t);
            return engine_.panic() ? Answer::on : Answer::off;
        case What::timecode:
            if (!paused_) engine_.timecode(t, command.code);
            return Answer::done;
        case What::timecode_lost:
            engine_.timecode_stop(t);
            return Answer::done;
    }
    return Answer::nothing;
}

void Performance::dissolve(const Performance& from, const std::vector<std::uint32_t>& place, Tick t,
                           std::uint64_t ms) {
    engine_.dissolve(from.engine_, place, show_time(t), ms * roll_.refresh);
}

void Performance::restore(const Standing& standing, bool paused, Tick t) {
    engine_.restore(standing);
    behind_ = t - standing.now;
    stands_at_ = standing.now;
    paused_ = paused;
    now_ = t;
    const auto& commands = script_.commands;
    const auto later = std::find_if(commands.begin(), commands.end(), [&](const TimedCommand& command) {
        return command.ms * roll_.refresh > t;
    });
    given_ = static_cast<std::size_t>(later - commands.begin());
    code_given_ = true;
}

}  // namespace tallow::runtime
