#include "runtime/output/keeper.hpp"

#include <algorithm>
#include <utility>

#include "runtime/monotonic.hpp"
#include "runtime/output/bell.hpp"

namespace tallow::runtime {

using State = OutputHealth::State;

std::function<std::uint64_t()> Keeper::monotonic_clock() {
    return monotonic_now;
}

Keeper::Keeper(OpenOutput open, const Supervision& how, FrameRing& ring, std::function<std::uint64_t()> now)
    : open_(std::move(open)), how_(how), ring_(ring), now_(std::move(now)), pause_(how.first_pause) {
    health_.since = now_();
}

// Calls the output, while health() shows that it is at it.
template <class Call>
auto Keeper::busy(Call call) {
    {
        const std::lock_guard lock(mutex_);
        health_.busy_since = now_();
    }
    auto result = call();
    const std::lock_guard lock(mutex_);
    health_.busy_since.reset();
    return result;
}

std::uint64_t Keeper::step() {
    if (!output_) return step_closed();
    if (pick() || now_() >= repeats_at()) return send();
    return repeats_at();
}

std::uint64_t Keeper::step_closed() {
    if (failed_before()) skip_to_latest();
    if (now_() >= next_try_ && open()) return at_once;
    return next_try_;
}

bool Keeper::open() {
    auto opened = busy(open_);
    if (!opened.ok()) return fail(opened.status()), false;
    output_ = std::move(*opened);
    again_ = failed_before();
    sent_at_ = now_();
    return true;
}

void Keeper::skip_to_latest() {
    while (ring_.size() > 1) let_go();
}

// Lets go of the ring's first.
void Keeper::let_go() {
    if (!done_ && !ring_.first().end) {
        const std::lock_guard lock(mutex_);
        ++health_.dropped;
    }
    done_ = false;
    ring_.pop();
}

// Goes on to the frame that is to go out now; false when there is none.
bool Keeper::pick() {
    const bool latest_only = again_ || !how_.every_frame;
    const auto outdated = [&](const FrameRing::Entry& first) {
        return done_ || ring_.stale(first) || (latest_only && !first.end);
    };
    while (ring_.size() > 1 && outdated(ring_.first())) let_go();
    if (ring_.size() == 0) return false;
    const bool resend = std::exchange(again_, false);
    // The only one left, and others after it were dropped: the next that comes is better.
    if (ring_.stale(ring_.first())) return false;
    return !done_ || resend;
}

// Sends the ring's first.
std::uint64_t Keeper::send() {
    const FrameRing::Entry& first = ring_.first();
    const Status sent =
        busy([&] { return first.end ? output_->end(first.frame.number) : output_->frame(first.frame); });
    if (!sent.ok()) return fail(sent), next_try_;
    sent_at_ = now_();
    pause_ = how_.first_pause;
    const std::lock_guard lock(mutex_);
    if (!done_ && !first.end) ++health_.sent;
    done_ = true;
    if (health_.state != State::works) {
        health_.state = State::works;
        health_.since = sent_at_;
        health_.why.clear();
        health_.tries = 0;
        health_.next_try.reset();
    }
    return at_once;
}

std::uint64_t Keeper::repeats_at() const {
    const bool repeats = how_.repeat_after != 0 && ring_.size() > 0;
    return repeats ? sent_at_ + how_.repeat_after : never;
}

void Keeper::close() {
    busy([&] { return output_.reset(), true; });
}

void Keeper::fail(const Status& status) {
    close();
    const std::uint64_t time = now_();
    next_try_ = how_.retry ? time + pause_ : never;
    pause_ = std::min(2 * pause_, how_.longest_pause);
    const State state = how_.retry ? State::down : State::failed;
    const std::lock_guard lock(mutex_);
    if (health_.state != state) health_.since = time;
    health_.state = state;
    health_.why = status.why();
    ++health_.tries;
    if (how_.retry) health_.next_try = next_try_;
}

Status Keeper::finish() {
    if (output_) {
        const Status finished = busy([&] { return output_->finish(); });
        if (!finished.ok()) fail(finished);
    }
    close();
    const std::lock_guard lock(mutex_);
    const State state = health_.why.empty() ? State::finished : State::failed;
    if (health_.state != state) health_.since = now_();
    health_.state = state;
    health_.next_try.reset();
    return state == State::finished ? Status() : Status::failure(health_.why);
}

OutputHealth Keeper::health() const {
    const std::lock_guard lock(mutex_);
    OutputHealth now = health_;
    now.dropped += ring_.dropped();
    return now;
}

}  // namespace tallow::runtime
