#include "runtime/session/stand_by.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <optional>
#include <poll.h>

#include "runtime/play/performance.hpp"
#include "runtime/survival/follower.hpp"
#include "runtime/survival/state_link.hpp"

namespace tallow::runtime {
namespace {

constexpr int round_ms = 20;
constexpr std::uint64_t complaint_pause_ns = 1000000000;  // anybody may send anything

class StandBy {
  public:
    StandBy(Played& played, StateHearer hearer, Clock& clock,
            const std::function<void(std::string_view)>& say)
        : played_(played), hearer_(std::move(hearer)), clock_(clock), say_(say), follower_(*played.roll) {}

    // Until the other machine is gone (true) or this one is to quit.
    bool wait(const std::function<bool()>& asked_to_quit);
    void take_over(PlayOptions& options);

  private:
    void hear();
    void follow(const HeardState& heard);
    void tell_once(const std::string& line) {
        if (line != told_) say_(line);
        told_ = line;
    }

    Played& played_;
    StateHearer hearer_;
    Clock& clock_;
    const std::function<void(std::string_view)>& say_;
    Follower follower_;
    std::optional<State> state_;  // the last, and when it came
    std::uint64_t heard_ns_ = 0;
    std::uint64_t stood_ns_ = 0;  // when the show stood so, by this clock
    std::string told_;
    std::uint64_t complained_ns_ = 0;
};

bool StandBy::wait(const std::function<bool()>& asked_to_quit) {
    say_(fmt::format(
        "stands by on {}: nothing is sent until the player that is heard there disappears; control C ends it",
        hearer_.address()));
    while (!asked_to_quit()) {
        pollfd poll{hearer_.descriptor(), POLLIN, 0};
        if (::poll(&poll, 1, round_ms) > 0) hear();
        if (state_ && clock_.now() - heard_ns_ > gone_after_ns) return true;
    }
    return false;
}

void StandBy::hear() {
    const HeardState heard = hearer_.read();
    if (!heard.complaint.empty() && clock_.now() - complained_ns_ > complaint_pause_ns) {
        complained_ns_ = clock_.now();
        say_(heard.complaint);
    }
    if (heard.ended) {
        state_.reset();
        tell_once(
            "the other player has ended its show in order: nothing is taken over; its next start is waited "
            "for");
    }
    if (heard.text) follow(heard);
}

void StandBy::follow(const HeardState& heard) {
    auto state = read_state(*heard.text, *played_.roll, played_.roll_hash);
    if (!state.ok()) return tell_once(fmt::format("{}: a state that cannot be read", heard.from));
    if (state->roll != played_.roll_hash)
        tell_once(fmt::format("{}: plays another version of the show; cues are followed by their numbers",
                              heard.from));
    else
        tell_once(fmt::format("follows {}", heard.from.substr(0, heard.from.rfind(':'))));
    follower_.follow(*state);
    state_ = std::move(*state);
    heard_ns_ = clock_.now();
    stood_ns_ = heard_ns_ - std::min(heard_ns_, heard.age_ns);
}

void StandBy::take_over(PlayOptions& options) {
    const std::uint64_t now = clock_.now();
    const Tick stood = state_->show.now;
    options.from = (stood + ticks_per_frame - 1) / ticks_per_frame;
    options.start_ns = state_->paused ? now
                                      : stood_ns_ + (options.from * ticks_per_frame - stood) * 1000000 /
                                                        played_.roll->refresh;
    played_.source = roll_source(follower_.take());
    say_(fmt::format("takes over in {}: nothing was heard for {} ms",
                     present_cues(played_.source->performance()->standing(), *played_.roll),
                     (now - heard_ns_) / 1000000));
}

}  // namespace

Result<bool> stand_by(const PlaySettings& settings, Played& played, Clock& clock,
                      const std::function<bool()>& asked_to_quit,
                      const std::function<void(std::string_view)>& say, PlayOptions& options) {
    const auto address = parse_osc_address(settings.stand_by);
    if (!address.ok()) return Status::failure("--stand-by: " + address.why());
    auto socket = OscSocket::open(*address, settings.triggers.osc_secret);
    if (!socket.ok()) return Status::failure("--stand-by: " + socket.why());
    StandBy other(played, StateHearer(std::move(*socket)), clock, say);
    if (!other.wait(asked_to_quit)) return false;
    other.take_over(options);
    return true;
}

}  // namespace tallow::runtime
