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

Answer Performance::pause(Tick clock) {
    if (paused_) return Answer::nothing;
    stands_at_ = show_time(clock);
    paused_ = true;
    return Answer::done;
}

// Ends a pause, and that the tape is set aside; false where nothing goes on by that.
bool Performance::go_on(Tick clock) {
    const bool was_paused = std::exchange(paused_, false);
    if (was_paused) behind_ = clock - stands_at_;
    return (std::exchange(tape_aside_, false) && tape_) || was_paused;
}

// The tape has run on meanwhile. A list that was just moved by hand stays until its next code.
void Performance::rejoin_tape(Tick clock, std::uint32_t but) {
    if (tape_ && !tape_aside_) engine_.timecode(show_time(clock), tape_->code + (clock - tape_->at), but);
}

Answer Performance::stop(const Command& command, Tick t) {
    if (command.index != none) {
        engine_.stop(command.index, command.ms, t);
        return Answer::done;
    }
    for (std::uint32_t list = 0; list < roll_.lists.size(); ++list) engine_.stop(list, command.ms, t);
    timecode_off(t);
    return Answer::done;
}

Answer Performance::hold(const Command& command, Tick t) {
    if (command.index != none) {
        engine_.hold(command.index, t);
        return Answer::done;
    }
    for (std::uint32_t list = 0; list < roll_.lists.size(); ++list) engine_.hold(list, t);
    timecode_off(t);
    return Answer::done;
}

void Performance::timecode_off(Tick t) {
    engine_.timecode_stop(t);
    tape_aside_ = true;
}

// Who asks for a GO, a jump or a stop wants to see it: a pause ends, and a tape that was set aside counts.
Answer Performance::move(const Command& command, Tick clock) {
    const bool went_on = go_on(clock);
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
    if (went_on) rejoin_tape(clock, list);
    return came;
}

// What a tape says; in a pause or set aside, it only counts later.
Answer Performance::take(const Command& command, Tick clock) {
    const bool runs = command.what == What::tape;
    tape_ = runs ? std::optional(Tape{clock, command.code}) : std::nullopt;
    if (tape_aside_) return Answer::done;
    if (!runs)
        engine_.timecode_stop(show_time(clock));
    else if (!paused_)
        engine_.timecode(show_time(clock), command.code);
    return Answer::done;
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
            if (!go_on(clock)) return Answer::nothing;
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
            engine_.timecode(t, command.code);
            return Answer::done;
        case What::timecode_off:
            timecode_off(t);
            return Answer::done;
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
    tape_aside_ = from.tape_aside_;
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
