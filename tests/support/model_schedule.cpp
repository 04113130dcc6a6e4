// Which cue starts when.
#include "tests/support/model.hpp"

namespace tallow::test {

using runtime::none;
using runtime::Tick;

namespace {

// To the nearest tick, by exact fractions.
Tick tick_of(std::uint64_t frame, const runtime::Roll& roll) {
    using runtime::TimecodeRate;
    const auto ticks = static_cast<std::int64_t>(frame * 1000 * roll.refresh);
    const Rational at = roll.timecode_rate == TimecodeRate::f24    ? Rational(ticks, 24)
                        : roll.timecode_rate == TimecodeRate::f25  ? Rational(ticks, 25)
                        : roll.timecode_rate == TimecodeRate::drop ? Rational(ticks * 1001, 30000)
                                                                   : Rational(ticks, 30);
    return static_cast<Tick>((at + Rational(1, 2)).floor());
}

}  // namespace

// At one instant lists come in their order; in a list, timecode comes before what was pending.
std::optional<Model::Event> Model::next_event() const {
    std::optional<Event> first;
    const auto offer = [&](const Event& event) {
        if (!first || event.at < first->at) first = event;
    };
    for (std::uint32_t l = 0; l < lists_.size(); ++l) {
        for (std::uint32_t k = 0; code_ && k < roll_.lists[l].count; ++k) {
            const std::uint32_t cue = roll_.lists[l].first + k;
            if (roll_.cues[cue].timecode == runtime::no_timecode || code_->passed[cue]) continue;
            const Tick at = tick_of(roll_.cues[cue].timecode, roll_);
            if (at >= code_->base) offer({code_->at + (at - code_->base), l, cue, true});
        }
        if (lists_[l].pending) offer({*lists_[l].pending, l, lists_[l].current + 1, false});
    }
    return first;
}

void Model::start(const Event& event) {
    const std::uint32_t current = lists_[event.list].current;
    const std::uint32_t next = current == none ? roll_.lists[event.list].first : current + 1;
    if (event.by_code) code_->passed[event.cue] = true;
    if (event.cue == next) return start_cue(event.list, event.cue, event.at);
    jump_to(event.list, event.cue, event.at, true);
    arm(event.list, event.at);
}

void Model::arm(std::uint32_t list, Tick g) {
    List& on = lists_[list];
    const auto& cue = roll_.cues[on.current];
    if (on.current + 1 == roll_.lists[list].first + roll_.lists[list].count) return;
    if (cue.next == runtime::Next::follow) on.pending = g + (cue.complete_ms + cue.next_ms) * roll_.refresh;
    if (cue.next == runtime::Next::next_at) on.pending = g + cue.next_ms * roll_.refresh;
}

void Model::advance(Tick t) {
    for (auto event = next_event(); event && event->at <= t; event = next_event()) start(*event);
}

bool Model::go(std::uint32_t list, Tick t) {
    if (t > 0) advance(t - 1);
    const std::uint32_t current = lists_[list].current;
    const std::uint32_t next = current == none ? roll_.lists[list].first : current + 1;
    if (next >= roll_.lists[list].first + roll_.lists[list].count) return false;
    start_cue(list, next, t);
    return true;
}

bool Model::back(std::uint32_t list, Tick t) {
    if (t > 0) advance(t - 1);
    const std::uint32_t current = lists_[list].current;
    if (current == none || current == roll_.lists[list].first) return false;
    jump_to(list, current - 1, t, false);
    return true;
}

void Model::set_submaster(std::uint32_t index, runtime::Level position, Tick t) {
    if (t > 0) advance(t - 1);
    const auto& submaster = roll_.submasters[index];
    if (positions_[index] == 0 && position > 0) {
        for (const std::uint32_t source : submaster.starts) begin(source, t);
        for (const auto& run : submaster.runs)
            for (const std::uint32_t source : run.wave)
                if (source != none && begun_[source].empty()) begin(source, t);
    }
    positions_[index] = position;
}

void Model::set_master(runtime::Level position, Tick t) {
    if (t > 0) advance(t - 1);
    master_ = position;
}

void Model::set_panic(bool on, Tick t) {
    if (t > 0) advance(t - 1);
    panic_ = on;
}

void Model::timecode(Tick t, Tick code) {
    if (t > 0) advance(t - 1);
    code_ = Code{t, code, std::vector<bool>(roll_.cues.size())};
}

}  // namespace tallow::test
