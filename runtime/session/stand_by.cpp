#include "runtime/session/stand_by.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <optional>
#include <poll.h>

#include "runtime/ascii.hpp"
#include "runtime/control/complaints.hpp"
#include "runtime/duration.hpp"
#include "runtime/monotonic.hpp"
#include "runtime/play/performance.hpp"
#include "runtime/survival/follower.hpp"
#include "runtime/survival/leader.hpp"
#include "runtime/survival/state_link.hpp"

namespace tallow::runtime {
namespace {

constexpr int round_ms = 20;

class StandBy : public Listener {
  public:
    StandBy(Played& played, StateHearer hearer, Clock& clock, const StandByWays& ways)
        : played_(played), hearer_(std::move(hearer)), clock_(clock), ways_(ways), follower_(*played.roll) {}

    // Until the show is to be taken over (true) or this player is to quit.
    bool wait();
    std::string take_over(PlayOptions& options);

    void words(std::uint64_t ns, std::string_view from, std::string_view words) override;
    void timecode(std::uint64_t, const TimecodeFrame&) override {}
    void complaint(std::string_view from, std::string_view why) override;

  private:
    void listen();
    void hear(const HeardState& heard);
    void follow(const HeardState& heard);
    StandsBy stands_by(const State& state, Leader::Heard as) const;
    std::string follows(const std::string& from, const State& state) const;
    void complain(const std::string& from, std::string_view why);
    void say(std::string_view line) { ways_.face.say(line); }
    void tell_once(const std::string& line) {
        if (line != told_) say(line);
        told_ = line;
    }

    Played& played_;
    StateHearer hearer_;
    Clock& clock_;
    const StandByWays ways_;
    Leader leader_;
    Follower follower_;
    std::optional<State> state_;  // the last of the one that is followed, or was
    std::uint64_t stood_ns_ = 0;  // when the show stood so, by this clock
    bool by_hand_ = false;
    std::string told_;
    // A player sends what cannot be taken twenty times a second.
    Complaints complaints_{{.at_once = 1, .while_ns = second_ns, .same_ns = 60 * second_ns}};
};

bool StandBy::wait() {
    say(fmt::format(
        "stands by on {}: nothing is sent until the player that is heard there disappears; `take` "
        "takes over by hand, `quit` ends it",
        hearer_.address()));
    while (!ways_.quit) {
        listen();
        if (by_hand_ || leader_.gone(clock_.now())) return true;
    }
    return false;
}

// To all who may say something, for a while.
void StandBy::listen() {
    std::vector<pollfd> polls{{hearer_.descriptor(), POLLIN, 0}, {ways_.face.descriptor(), POLLIN, 0}};
    for (const auto& trigger : ways_.triggers) polls.push_back({trigger->descriptor(), POLLIN, 0});
    if (::poll(polls.data(), polls.size(), round_ms) <= 0) return;
    if (polls[0].revents != 0)
        for (const HeardState& heard : hearer_.read()) hear(heard);
    if (polls[1].revents != 0 && ways_.face.read(clock_.now(), *this)) ways_.quit = true;
    for (std::size_t i = 0; i < ways_.triggers.size(); ++i)
        if (polls[i + 2].revents != 0) ways_.triggers[i]->read(*this);
}

void StandBy::words(std::uint64_t, std::string_view from, std::string_view words) {
    if (!from.empty()) return;
    if (!is_word(words, "take"))
        return say(
            "this player stands by, and commands are for the first one; here `take` takes over by hand, and "
            "`quit` ends this one");
    by_hand_ = state_.has_value();
    if (!by_hand_) say("there is nothing to take over: no player has told yet how its show stands");
}

void StandBy::complaint(std::string_view from, std::string_view why) {
    if (from.empty()) say(why);
}

void StandBy::hear(const HeardState& heard) {
    if (!heard.complaint.empty()) complain(heard.from, heard.complaint);
    if (heard.ended && leader_.ends(heard.from))
        tell_once(
            "the other player has ended its show in order: nothing is taken over but by `take`; its next "
            "start is waited for");
    if (heard.text) follow(heard);
}

void StandBy::follow(const HeardState& heard) {
    auto state = read_state(*heard.text, *played_.roll, played_.roll_hash);
    if (!state.ok())
        return complain(heard.from, "a state that cannot be read; play with the same version of the program");
    const std::uint64_t now = clock_.now();
    const Leader::Heard as = leader_.tells(heard.from, now);
    if (as == Leader::Heard::passed_over) return;
    hearer_.answer(heard, stands_by(*state, as), now);
    if (as == Leader::Heard::known) return;
    if (as == Leader::Heard::another)
        return say(
            fmt::format("{} tells of a show, too: it is not followed, as {} was heard first; end one, or "
                        "have it tell another player",
                        heard.from, leader_.from()));
    if (as == Leader::Heard::started_again)
        say(fmt::format("the player on {} was started again", machine_of(heard.from)));
    tell_once(follows(heard.from, *state));
    follower_.follow(*state);
    state_ = std::move(*state);
    const auto age = static_cast<std::uint64_t>(std::max(heard.age_ns, std::int64_t{0})),
               ahead = static_cast<std::uint64_t>(std::max(-heard.age_ns, std::int64_t{0}));
    stood_ns_ = now + ahead - std::min(now, age);
}

StandsBy StandBy::stands_by(const State& state, Leader::Heard as) const {
    if (as == Leader::Heard::another || as == Leader::Heard::known) return StandsBy::for_another_player;
    if (state.roll == played_.roll_hash) return StandsBy::for_this_show;
    return is_of_another_show(state, *played_.roll) ? StandsBy::another_show : StandsBy::another_version;
}

std::string StandBy::follows(const std::string& from, const State& state) const {
    if (state.roll == played_.roll_hash) return fmt::format("follows {}", machine_of(from));
    if (is_of_another_show(state, *played_.roll))
        return fmt::format(
            "{}: plays another show: `{}` there, `{}` here; this player would take over by cue numbers", from,
            state.title, title_in_state(*played_.roll));
    return fmt::format("{}: plays another version of the show; cues are followed by their numbers", from);
}

void StandBy::complain(const std::string& from, std::string_view why) {
    if (const auto line = complaints_.pass(clock_.now(), fmt::format("{}: {}", from, why))) say(*line);
}

std::string StandBy::take_over(PlayOptions& options) {
    const std::uint64_t now = clock_.now();
    const Tick stood = state_->show.now;
    options.from = (stood + ticks_per_frame - 1) / ticks_per_frame;
    options.start_ns = state_->paused ? now
                                      : stood_ns_ + (options.from * ticks_per_frame - stood) * 1000000 /
                                                        played_.roll->refresh;
    options.stays = true;
    played_.source = roll_source(follower_.take());
    Performance& show = *played_.source->performance();
    show.advance(options.from * ticks_per_frame +
                 ticks_in(std::max(now, options.start_ns) - options.start_ns, played_.roll->refresh));
    const std::string cues = how_it_stands(show.standing(), *played_.roll);
    std::string line = by_hand_ ? fmt::format("takes over by hand {}", cues)
                                : fmt::format("takes over {}: nothing was heard for {} ms", cues,
                                              leader_.silent(now) / 1000000);
    line += gone_behind(state_->gone, *played_.roll);
    if (options.start_ns > now + second_ns)
        line += fmt::format("; the show begins in {}", rough_duration((options.start_ns - now) / 1000000));
    if (by_hand_ && leader_.followed())
        line +=
            fmt::format("; the player on {} still sends: end it, unless the priority of this one is higher",
                        machine_of(leader_.from()));
    return line;
}

}  // namespace

Result<std::optional<std::string>> stand_by(const PlaySettings& settings, Played& played, Clock& clock,
                                            const StandByWays& ways, PlayOptions& options) {
    const auto address = parse_osc_address(settings.stand_by);
    if (!address.ok()) return Status::failure("--standby: " + address.why());
    auto socket = OscSocket::open(*address, settings.triggers.osc_secret);
    if (!socket.ok()) return Status::failure("--standby: " + socket.why());
    StandBy other(played, StateHearer(std::move(*socket)), clock, ways);
    if (!other.wait()) return std::optional<std::string>();
    return std::optional(other.take_over(options));
}

}  // namespace tallow::runtime
