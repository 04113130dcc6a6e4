#include "tests/fuzz/state_fuzz.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <stdexcept>
#include <string>

#include "runtime/control/osc_packet.hpp"
#include "runtime/hash.hpp"
#include "runtime/limits.hpp"
#include "runtime/survival/follower.hpp"
#include "runtime/survival/state_link.hpp"
#include "tests/fuzz/state_roll.hpp"

namespace tallow::test {
namespace {

using namespace runtime;

constexpr std::size_t longest = 1 << 16;  // bytes of an input

// From where a state says on, with what an operator may do.
void play_on(const Roll& roll, const State& state) {
    Performance show(roll, Script{});
    show.restore(state.show, state.paused, state.tape, state.show.now);
    Tick t = state.show.now;
    for (std::uint32_t step = 0; step < 6; ++step, t += 997 * (step + 1)) {
        show.advance(t);
        Command command;
        constexpr Command::What whats[] = {Command::What::resume, Command::What::go, Command::What::back,
                                           Command::What::stop};
        command.what = whats[step % 4];
        show.obey(command, t);
    }
    Follower follower(roll);
    follower.follow(state);
    State later = state;
    later.show.now += 40 * 50;
    follower.follow(later);
}

}  // namespace

bool fuzz_state(std::span<const std::uint8_t> bytes) {
    static const Roll roll = state_roll();
    if (bytes.size() > longest) return false;
    std::string text(reinterpret_cast<const char*>(bytes.data()), bytes.size());
    text.resize(std::min(text.size(), text.rfind("end ")));
    text += fmt::format("end {:016x}\n", hash(text));
    bool any = false;
    for (const std::uint64_t roll_hash : {std::uint64_t{1}, std::uint64_t{2}}) {
        const auto state = read_state(text, roll, roll_hash);
        if (!state.ok()) {
            if (state.why().empty()) throw std::logic_error("a refusal without a reason");
            continue;
        }
        any = true;
        const auto again = read_state(write_state(*state, roll), roll, roll_hash);
        if (!again.ok())
            throw std::logic_error("a state that was read is refused once written: " + again.why());
        if (state->roll == roll_hash && again->show != state->show)
            throw std::logic_error("a state that was read is read otherwise once written");
        play_on(roll, *state);
    }
    return any;
}

// For each packet, with its length in a byte before it, that is one of OSC.
template <class Take>
void each_packet(std::span<const std::uint8_t> bytes, Take take) {
    while (!bytes.empty()) {
        const std::size_t length = std::min<std::size_t>(bytes[0], bytes.size() - 1);
        const auto messages = read_osc(bytes.subspan(1, length));
        if (messages.ok()) take(*messages, bytes[0]);
        bytes = bytes.subspan(1 + length);
    }
}

void fuzz_state_parts(std::span<const std::uint8_t> bytes) {
    StateParts parts;
    each_packet(bytes, [&](const std::vector<OscMessage>& messages, std::uint8_t) {
        HeardState heard;
        for (const OscMessage& message : messages) parts.take(message, heard);
        if (heard.text && heard.ended) throw std::logic_error("a state of a show that has ended");
        if (heard.text && heard.text->size() > state_parts * osc_packet_bytes)
            throw std::logic_error("a state that is too long");
        constexpr std::int64_t minute_ns = 60000000000, day_ns = 25 * 60 * minute_ns;
        if (heard.age_ns > minute_ns || heard.age_ns < -day_ns)
            throw std::logic_error("a show that stands so at some other time");
    });
}

void fuzz_state_answers(std::span<const std::uint8_t> bytes) {
    Backup backup("10.0.0.7 port 7701", "0.0.0.0:7701");
    std::uint64_t ns = 0, said_ns = 0;
    backup.told(ns);
    each_packet(bytes, [&](const std::vector<OscMessage>& messages, std::uint8_t length) {
        ns += length * std::uint64_t{20000000};
        for (const OscMessage& message : messages)
            if (const auto how = read_standing_by(message))
                backup.answers(length % 2 == 0 ? "10.0.0.7" : "10.0.0.8", *how, ns);
        const std::string line = backup.news(ns);
        if (line.empty()) return;
        if (line.find(" stands by") == std::string::npos || line.size() > 250)
            throw std::logic_error("a line of something else");
        if (said_ns != 0 && ns - said_ns < 1000000000) throw std::logic_error("too many lines");
        said_ns = ns;
    });
}

}  // namespace tallow::test
