// The clock's thread in a show with all that goes on at once: what it asks of memory, locks and the system.
#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <mutex>
#include <thread>
#include <unistd.h>

#include "runtime/output/e131_output.hpp"
#include "runtime/play/clock_thread.hpp"
#include "runtime/session/ways_out.hpp"
#include "tests/support/loopback.hpp"
#include "tests/support/played.hpp"
#include "tests/support/random.hpp"
#include "tests/support/tick_watch.hpp"
#include "tests/support/wanting_output.hpp"

using namespace tallow;
using namespace tallow::runtime;
using What = Command::What;

namespace {

const char* const show_text = R"(patch 1/1
    row 1..8  dimmer
    glow 1..2 par-rgb dimmed
    house     dimmer
wave swell  sine  period 4s
    intensity  20% .. full
chase knock  every 500ms  fade 200ms  loop
    step 1    row 5, 7  full
    step 2    row 6, 8  50%
look safe
    row       50%
submaster 1 "Blue"
    glow      emitter blue full  80%
safety
    keep      house  above 10%
    panic     look safe
cue 1  fade 2s
    row       80%  wave swell
    glow      emitter red full  50%
cue 2  fade 4s  follow 1s
    row 1..4  60%
cue 3  cut  timecode 00:00:08:00
    glow      full
cue 4  fade 3s
    row       wave swell
list effects
cue 1  fade 1s
    chase knock
cue 2  fade 2s
    chase knock off
)";

// Runs a hundred times as fast, and watches the thread that waits by it, from its first wait on.
class WatchedClock : public Clock {
  public:
    std::uint64_t now() override { return now_; }
    void wait(std::uint64_t until) override {
        if (!guarded) {
            guarded = test::guard_this_thread();
            before_ = test::asked();
        }
        const test::Asked now = test::asked();
        asked = {now.allocations - before_.allocations, now.locks - before_.locks, now.calls, now.last_call};
        const timespec nap{0, 250000};
        ::clock_nanosleep(CLOCK_MONOTONIC, 0, &nap, nullptr);
        now_ = until;
    }

    // To be read once the thread is over.
    std::optional<bool> guarded;
    test::Asked asked;

  private:
    std::atomic<std::uint64_t> now_{1000000000};
    test::Asked before_;
};

std::unique_ptr<Output> on_thread(NamedOutput output, const Roll& roll) {
    auto made = on_own_thread({std::move(output), {}}, roll.universes);
    REQUIRE(made.ok());
    return std::move(made->output);
}

std::unique_ptr<Exchange> same_show_again(const Roll& roll, const Progress& progress) {
    Handover handover;
    handover.before = handover.after = progress.show;
    handover.paused = progress.paused;
    handover.at = progress.frame * ticks_per_frame;
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p) handover.place.push_back(p);
    auto exchange = std::make_unique<Exchange>();
    exchange->source = roll_source(roll, roll.universes, std::move(handover));
    exchange->line = std::make_unique<Line>(progress);
    return exchange;
}

Command any_command(test::Random& random, const Roll& roll) {
    constexpr What kinds[] = {What::go,     What::go,        What::go,           What::back,
                              What::go_to,  What::hold,      What::stop,         What::pause,
                              What::resume, What::submaster, What::grand,        What::blackout,
                              What::panic,  What::timecode,  What::timecode_off, What::timecode_on,
                              What::tape,   What::tape,      What::tape_lost};
    Command command;
    command.what = random.one_of(kinds);
    command.index = command.what == What::submaster ? 0 : random.below(2u);
    command.cue = command.what == What::go_to ? roll.lists[command.index].first : none;
    command.level = static_cast<Level>(random.below(65536u));
    command.ms = 2000;
    command.code = random.below(Tick{400000});
    return command;
}

}  // namespace

TEST_CASE("the watch sees an allocation, a lock and a call of the system", "[unit][clock]") {
    test::Asked before, after;
    bool guarded = false, written = true;
    std::thread([&] {
        std::mutex mutex;
        guarded = test::guard_this_thread();
        before = test::asked();
        { const std::lock_guard lock(mutex); }
        written = ::write(STDOUT_FILENO, "", 0) == 0;
        const std::vector<int> column(1000);
        after = test::asked();
        after.allocations += column.empty();
    }).join();
    CHECK(after.allocations == before.allocations + 1);
    CHECK(after.locks == before.locks + 1);
    if (guarded) {
        CHECK_FALSE(written);
        CHECK(after.calls == before.calls + 1);
    } else {
        WARN("calls of the system cannot be watched here");
    }
}

TEST_CASE(
    "a tick allocates nothing, takes no lock, and asks the system for the time and to wake others alone",
    "[unit][clock]") {
    const test::Played show(show_text);
    const Roll& roll = show.roll();
    const test::Receiver receiver;
    E131Options network;
    network.hosts = {{"127.0.0.1", receiver.port()}};
    auto e131 = e131_outputs(network, roll.universes, roll.refresh);
    REQUIRE(e131.ok());
    const auto wanted = std::make_shared<test::Wanted>();
    wanted->hangs = true;  // so that frames are dropped, too

    WatchedClock clock;
    Piece piece;
    piece.source = roll_source(roll, {});
    piece.outputs.push_back(on_thread((*e131)[0], roll));
    piece.outputs.push_back(on_thread({"the wire", test::opener(wanted)}, roll));
    Progress first;
    first.show = show.engine().standing();
    Intercom intercom(first);
    ClockThread thread(piece, clock, intercom, {});

    test::Random random(5);
    std::unique_ptr<Exchange> exchange;
    Line* line = &intercom;                    // of the source that plays
    std::vector<std::unique_ptr<Line>> lines;  // of those that came
    std::size_t heard = 0, came = 0;
    for (int round = 0; round < 1500; ++round) {
        if (!exchange && random.one_in(3))
            line->orders.put({clock.now(), any_command(random, roll), nullptr});
        if (exchange && exchange->state != Exchange::State::waits) {
            if (exchange->state == Exchange::State::came) {
                ++came;
                lines.push_back(std::move(exchange->line));
                line = lines.back().get();
            }
            exchange.reset();
        }
        if (!exchange && round % 20 == 0) {
            exchange = same_show_again(roll, line->progress.read());
            REQUIRE(line->orders.put({clock.now(), {}, exchange.get()}));
        }
        while (line->heard.take()) ++heard;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    wanted->let_go();
    intercom.quit = true;
    const auto counts = thread.finish();
    REQUIRE(counts.ok());
    CHECK(counts->frames > 500);
    CHECK(heard > 100);
    CHECK(came > 3);
    CHECK(clock.asked.allocations == 0);
    CHECK(clock.asked.locks == 0);
    if (!clock.guarded.value_or(false)) WARN("calls of the system cannot be watched here");
    CAPTURE(clock.asked.last_call);
    CHECK(clock.asked.calls == 0);
}
