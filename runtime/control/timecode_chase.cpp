#include "runtime/control/timecode_chase.hpp"

#include <algorithm>
#include <cstdlib>
#include <fmt/format.h>
#include <utility>

#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

std::string_view rate_name(TimecodeRate rate) {
    constexpr std::string_view names[] = {"24", "25", "29.97 drop-frame", "30"};
    return names[static_cast<std::size_t>(rate)];
}

constexpr std::int64_t sixteen = 16, average = 16;  // frames that the drift is averaged over

}  // namespace

TimecodeChase::TimecodeChase(const Roll& roll, bool run_on) : run_on_(run_on) {
    set_roll(roll);
}

void TimecodeChase::set_roll(const Roll& roll) {
    refresh_ = roll.refresh;
    rate_ = roll.timecode_rate;
    cues_.clear();
    for (const Cue& cue : roll.cues)
        if (cue.timecode != no_timecode)
            cues_.push_back(static_cast<std::int64_t>(timecode_tick(cue.timecode, rate_, refresh_)));
    std::sort(cues_.begin(), cues_.end());
}

// Where timecode is at `ns` that runs on from a place.
std::int64_t TimecodeChase::at(const Place& place, std::uint64_t ns) const {
    constexpr std::uint64_t ns_per_ms = 1000000;
    return place.code + static_cast<std::int64_t>(((ns - place.ns) * refresh_ + ns_per_ms / 2) / ns_per_ms);
}

bool TimecodeChase::cue_between(std::int64_t a, std::int64_t b) const {
    const auto [from, to] = std::minmax(a, b);
    const auto first = std::lower_bound(cues_.begin(), cues_.end(), from);
    return first != cues_.end() && *first <= to;
}

void TimecodeChase::tell(Found& found, const Place& place) {
    told_ = {place.ns, std::max<std::int64_t>(place.code, 0)};
    seen_.reset();
    drift_ = 0;
    Order order{place.ns, {}};
    order.command.what = Command::What::tape;
    order.command.code = static_cast<Tick>(told_->code);
    found.orders.push_back(order);
}

void TimecodeChase::stop(Found& found, std::uint64_t ns) {
    told_.reset();
    Order order{ns, {}};
    order.command.what = Command::What::tape_lost;
    found.orders.push_back(order);
}

TimecodeChase::Found TimecodeChase::take(std::uint64_t ns, const TimecodeFrame& frame) {
    Found found;
    compare_rate(found, frame.rate);
    const auto ticks = [&](std::uint64_t f) {
        return static_cast<std::int64_t>(timecode_tick(f, frame.rate, refresh_));
    };
    const std::int64_t frame_ticks = ticks(1);
    const Place now{ns, at({frame.ns, ticks(frame.frame)}, ns)};
    const bool there = told_ && std::abs(now.code - at(*told_, ns)) <= tolerance * frame_ticks;
    if (frame.located) {
        if (!there) tell(found, now);
        stop(found, ns);
        lost_ = false;
    } else if (there) {
        follow(found, now, frame_ticks);
    } else {
        seek(found, now, frame_ticks);
    }
    return found;
}

// The timecode is where it was told to be, or nearly.
void TimecodeChase::follow(Found& found, const Place& now, std::int64_t frame_ticks) {
    believed_ns_ = now.ns;
    seen_.reset();
    if (std::exchange(lost_, false)) found.notices.emplace_back("timecode is back");
    const std::int64_t told = at(*told_, now.ns);
    drift_ += ((now.code - told) * sixteen - drift_) / average;
    const std::int64_t off = drift_ / sixteen;
    if (2 * std::abs(off) > frame_ticks && !cue_between(told, told + off)) tell(found, {now.ns, told + off});
}

// The timecode is elsewhere: whether it was so before.
void TimecodeChase::seek(Found& found, const Place& now, std::int64_t frame_ticks) {
    const std::optional<Place> before = std::exchange(seen_, now);
    if (!before) return;
    if (now.code <= before->code) {
        if (!told_) return;
        found.notices.emplace_back("timecode stands still or runs backwards; its cues wait");
        return stop(found, now.ns);
    }
    if (std::abs(now.code - at(*before, now.ns)) > tolerance * frame_ticks) return;
    tell(found, now);
    believed_ns_ = now.ns;
    if (std::exchange(lost_, false)) found.notices.emplace_back("timecode is back");
}

TimecodeChase::Found TimecodeChase::pass(std::uint64_t ns) {
    Found found;
    if (!due() || ns < *due()) return found;
    lost_ = true;
    found.notices.emplace_back(run_on_ ? "timecode is lost; the show runs on by itself"
                                       : "timecode is lost; its cues wait until it is back");
    if (!run_on_) stop(found, ns);
    return found;
}

std::optional<std::uint64_t> TimecodeChase::due() const {
    if (!told_ || lost_) return {};
    return believed_ns_ + lost_ns;
}

void TimecodeChase::compare_rate(Found& found, TimecodeRate rate) {
    if (rate == rate_ || std::exchange(other_rate_, true)) return;
    found.notices.push_back(
        fmt::format("timecode comes at {} frames a second and the show is written for {}; its cues start "
                    "by time",
                    rate_name(rate), rate_name(rate_)));
}

}  // namespace tallow::runtime
