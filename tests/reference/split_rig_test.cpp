// A rig that outgrows one machine: two players of one show, each with half of its universes, begin at one
// time of day and have receivers wait for synchronization packets. On loopback, in a network of its own.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fmt/format.h>
#include <map>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/program.hpp"
#include "tests/support/recorder.hpp"
#include "tests/support/stage_network.hpp"
#include "tests/support/time_of_day.hpp"

using namespace tallow;
using namespace tallow::test;

namespace {

constexpr std::uint16_t sync_universe = 63999;

std::string made_roll(unsigned universes) {
    std::string text = "show \"A large rig\"  tallow 1\n\n";
    for (unsigned u = 1; u <= universes; ++u) text += fmt::format("patch {}/1\n    mover {}  head\n\n", u, u);
    text +=
        "wave hand \"A clock's hand\"  rise  period 60s\n    pan        0% .. full\n\n"
        "cue 1 \"It runs\"  cut\n    mover  wave hand\n";
    const std::string source = scratch("split.tallow"), roll = scratch("split.roll");
    REQUIRE(runtime::write_file(source, text).ok());
    const auto built = run(quoted(TALLOW_COMMAND) + " build " + quoted(source) + " -o " + quoted(roll));
    INFO(built.out);
    REQUIRE(built.code == 0);
    return roll;
}

// The second after the next: both have started by then.
std::string soon() {
    return time_of_day(std::time(nullptr) + 2);
}

struct Instant {
    std::int64_t first = 0, last = 0;  // when the first and the last universe came
    unsigned universes = 0;
};
// By what the clock's hand shows, and by half of the rig.
using Instants = std::map<unsigned, std::array<Instant, 2>>;

Instants instants_of(const std::vector<Recorded>& heard, unsigned universes) {
    Instants instants;
    for (const Recorded& p : heard) {
        if (p.synchronization || p.terminated) continue;
        const unsigned hand = p.slots[0] * 256u + p.slots[1];
        Instant& one = instants[hand][p.universe > universes / 2];
        if (one.universes++ == 0) one.first = p.ns;
        one.last = p.ns;
    }
    return instants;
}

}  // namespace

TEST_CASE("two players of one show, split by universes, run as one", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    const unsigned universes = 2000;
    const std::string roll = made_roll(universes), begins = soon();
    StageNetwork network(1);
    Recorder recorder(network.machine(1), "lo", {}, 2);
    const auto play = [&](unsigned from, unsigned to, const std::string& log) {
        return std::make_unique<Program>(
            std::vector<std::string>{TALLOW_PLAY_COMMAND, roll, "--sacn", "127.0.0.1", "--universes",
                                     fmt::format("{}..{}", from, to), "--sync", std::to_string(sync_universe),
                                     "--begin-at", begins, "--go", "0s", "--until", "2s", "--no-state"},
            scratch(log), network.machine(1));
    };
    const auto low = play(1, universes / 2, "low.log"), high = play(universes / 2 + 1, universes, "high.log");
    CHECK(low->wait(20) == 0);
    CHECK(high->wait(20) == 0);
    INFO(low->said() << high->said());
    const auto heard = recorder.heard();
    const Instants instants = instants_of(heard, universes);
    const auto syncs = std::count_if(heard.begin(), heard.end(), [](const Recorded& p) {
        return p.synchronization && p.universe == sync_universe;
    });
    std::vector<std::int64_t> skew, span;
    for (const auto& [hand, halves] : instants) {
        if (halves[0].universes != universes / 2 || halves[1].universes != universes / 2) continue;
        skew.push_back(std::abs(halves[0].first - halves[1].first) / 1000);
        span.push_back(
            (std::max(halves[0].last, halves[1].last) - std::min(halves[0].first, halves[1].first)) / 1000);
    }
    // Of 80 frames a busy machine may leave some out.
    REQUIRE(skew.size() >= 60);
    CHECK(syncs >= 120);
    std::sort(skew.begin(), skew.end());
    std::sort(span.begin(), span.end());
    CAPTURE(skew, span);
    CHECK(skew[skew.size() / 2] < 5000);
    if (std::getenv("TALLOW_MEASURED") != nullptr)
        std::printf(
            "%u universes of 2 players: %zu packets, %zu whole frames of 80, skew %lld us (median), %lld "
            "us (worst); a frame takes %lld us (median), %lld us (worst)\n",
            universes, heard.size(), skew.size(), static_cast<long long>(skew[skew.size() / 2]),
            static_cast<long long>(skew.back()), static_cast<long long>(span[span.size() / 2]),
            static_cast<long long>(span.back()));
}
