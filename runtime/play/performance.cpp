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
    Command in_time = command;
    if (command.what == What::tape) in_time.code += now_ - t;  // it has run on since
    note({Event::What::answer, now_, none, command, answer(in_time, now_)});
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

Answer Performance::pause(Tick clock) {
    if (paused_) return Answer::nothing;
    stands_at_ = show_time(clock);
    paused_ = true;
    return Answer::done;
}

// False where there is none.
bool Performance::end_pause(Tick clock) {
    if (!paused_) return false;
    behind_ = clock - stands_at_;
    paused_ = false;
    return true;
}

// The lists go where the tape has come to meanwhile; one that was just moved by hand stays until its next
// code.
void Performance::rejoin_tape(Tick clock, std::uint32_t but) {
    if (!tape_ || !goes_by_tape()) return;
    const Tick t = show_time(clock);
    engine_.timecode(t, code_at(clock), but);
    if (tape_->runs) return;
    engine_.timecode_stop(t);
    tape_.reset();
}

Answer Performance::stop(const Command& command, Tick t) {
    if (command.index != none) {
        engine_.stop(command.index, command.ms, t);
        return Answer::done;
    }
    for (std::uint32_t list = 0; list < roll_.lists.size(); ++list) engine_.stop(list, command.ms, t);
    hold_tape(t);
    return Answer::done;
}

Answer Performance::hold(const Command& command, Tick t) {
    if (command.index != none) {
        engine_.hold(command.index, t);
        return Answer::done;
    }
    for (std::uint32_t list = 0; list < roll_.lists.size(); ++list) engine_.hold(list, t);
    hold_tape(t);
    return Answer::done;
}

void Performance::hold_tape(Tick t) {
    engine_.timecode_stop(t);
    if (tape_use_ == TapeUse::followed) tape_use_ = TapeUse::held;
}

// Who asks for a GO, a jump or a stop wants to see it: a pause ends, and so does a hold of the tape.
Answer Performance::move(const Command& command, Tick clock) {
    const bool held = tape_use_ == TapeUse::held;
    if (held) tape_use_ = TapeUse::followed;
    const bool rejoins = end_pause(clock) || held;
    const Tick t = show_time(clock);
    const std::uint32_t list = command.index == none ? 0 : command.index;
    Answer came = Answer::done;
    if (command.what == What::go)
        came = engine_.go(list, t) ? Answer::done : Answer::last_cue;
    else if (command.what == What::back)
        came = engine_.back(list, t) ? Answer::done : Answer::first_cue;
    else if (command.what == What::go_to)
        engine_.go_to(list, command.cue, t);
    else
        came = stop(command, t);
    if (rejoins) rejoin_tape(clock, came == Answer::done ? list : none);
    return came;
}

Answer Performance::take(const Command& command, Tick clock) {
    const bool runs = command.what == What::tape;
    const Tick t = show_time(clock);
    if (runs) {
        tape_ = {clock, command.code, true};
        if (goes_by_tape()) engine_.timecode(t, command.code);
    } else if (goes_by_tape()) {
        tape_.reset();
        engine_.timecode_stop(t);
    } else if (tape_) {
        tape_ = {clock, code_at(clock), false};
    }
    return Answer::done;
}

// Of timecode that is said in words.
Answer Performance::set_timecode(const Command& command, Tick clock) {
    const Tick t = show_time(clock);
    tape_use_ = command.what == What::timecode_on ? TapeUse::followed : TapeUse::refused;
    if (command.what == What::timecode_on)
        rejoin_tape(clock, none);
    else if (command.what == What::timecode_off)
        engine_.timecode_stop(t);
    else
        engine_.timecode(t, command.code);
    return command.what == What::timecode && paused_ ? Answer::waits : Answer::done;
}

Answer Performance::answer(const Command& command, Tick clock) {
    const Tick t = show_time(clock);
    switch (command.what) {
        case What::go:
        case What::back:
        case What::go_to:
        case What::stop:
            return move(command, clock);
        case What::hold:
            return hold(command, t);
        case What::pause:
            return pause(clock);
        case What::resume:
            if (!end_pause(clock)) return Answer::nothing;
            rejoin_tape(clock, none);
            return Answer::done;
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
        case What::timecode_off:
        case What::timecode_on:
            return set_timecode(command, clock);
        case What::tape:
        case What::tape_lost:
            return take(command, clock);
    }
    return Answer::nothing;
}

void Performance::dissolve(const Performance& from, const std::vector<std::uint32_t>& place, Tick t,
                           std::uint64_t ms) {
    engine_.dissolve(from.engine_, place, show_time(t), ms * roll_.refresh);
    tape_ = from.tape_;
    tape_use_ = from.tape_use_;
}

void Performance::restore(const Standing& standing, bool paused, TapeUse tape, Tick t) {
    engine_.restore(standing);
    behind_ = t - standing.now;
    stands_at_ = standing.now;
    paused_ = paused;
    tape_use_ = tape;
    now_ = t;
    const auto& commands = script_.commands;
    const auto later = std::find_if(commands.begin(), commands.end(), [&](const TimedCommand& command) {
        return command.ms * roll_.refresh > t;
    });
    given_ = static_cast<std::size_t>(later - commands.begin());
    code_given_ = true;
}

}  // namespace tallow::runtime
