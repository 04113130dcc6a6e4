#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

#include "runtime/play/source.hpp"
#include "tests/support/tick_watch.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

// What the test and the source both look at.
struct Gate {
    std::atomic<std::uint64_t> asked_for{0};  // the frame that was asked for last
    std::atomic<std::uint64_t> shut_at{
        ~std::uint64_t{0}};  // it hangs in this frame until that is another one
};

// Two slots that count frames; each seventh frame begins a cue of its number.
class SlowSource : public Source {
  public:
    static constexpr std::uint64_t length = 1000;

    explicit SlowSource(Gate& gate) : gate_(gate) {}
    std::uint32_t refresh() const override { return 40; }
    std::span<const Universe> universes() const override { return universes_; }
    void prepare(std::uint64_t) override {}
    bool frame(std::uint64_t n) override {
        gate_.asked_for = n;
        gate_.shut_at.wait(n);
        levels_[0] = static_cast<std::uint8_t>(n / 256);
        levels_[1] = static_cast<std::uint8_t>(n);
        event_.cue = static_cast<std::uint32_t>(n);
        ended_ = n >= length;
        return !ended_;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }
    void obey(const Command&, Tick) override {}
    std::span<const Event> events() const override { return {&event_, event_.cue % 7 == 0 ? 1u : 0u}; }
    bool at_rest() const override { return false; }
    std::string damage() const override { return ended_ ? "it is cut" : ""; }
    Result<Command> read_command(std::string_view) const override { return Status::failure("no"); }
    std::string describe(const Event&) const override { return "a cue"; }

  private:
    Gate& gate_;
    const std::vector<Universe> universes_{{1, 1}, {2, 1}};
    std::uint8_t levels_[2]{};
    const std::vector<std::span<const std::uint8_t>> slots_{std::span(levels_, 1), std::span(levels_ + 1, 1)};
    Event event_;
    bool ended_ = false;
};

std::uint64_t shown(const Source& source) {
    return 256u * source.slots()[0][0] + source.slots()[1][0];
}

// Waits until frame n lies ready, which is so when a later one is asked for.
void wait_for(const Gate& gate, std::uint64_t n) {
    for (int i = 0; i < 10000 && gate.asked_for <= n; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    REQUIRE(gate.asked_for > n);
}

}  // namespace

TEST_CASE("a source that is read ahead shows each frame, and tells each cue once", "[unit][player][ahead]") {
    Gate gate;
    const auto source = read_ahead(std::make_unique<SlowSource>(gate), 10);
    CHECK(source->universes().size() == 2);
    for (std::uint64_t n = 10; n < SlowSource::length; ++n) {
        wait_for(gate, n);
        REQUIRE(source->frame(n));
        REQUIRE(shown(*source) == n);
        REQUIRE(source->events().size() == (n % 7 == 0 ? 1 : 0));
        if (n == 500) CHECK(source->damage().empty());
    }
    CHECK_FALSE(source->frame(SlowSource::length));
    CHECK(source->damage() == "it is cut");
}

TEST_CASE("while a source hangs its last frame stands, and what was missed is told later",
          "[unit][player][ahead]") {
    Gate gate;
    gate.shut_at = 20;
    const auto source = read_ahead(std::make_unique<SlowSource>(gate), 0);
    for (std::uint64_t n = 0; n < 20; ++n) {
        wait_for(gate, n);
        source->frame(n);
    }
    for (std::uint64_t n = 20; n < 30; ++n) {
        REQUIRE(source->frame(n));
        REQUIRE(shown(*source) == 19);
        REQUIRE(source->events().empty());
    }
    gate.shut_at = ~std::uint64_t{0};
    gate.shut_at.notify_all();
    wait_for(gate, 30);
    REQUIRE(source->frame(30));
    CHECK(shown(*source) == 30);
    REQUIRE(source->events().size() == 2);
    CHECK(source->events()[0].cue == 21);
    CHECK(source->events()[1].cue == 28);
}

TEST_CASE("frames that lie ready are taken without memory, locks or the system", "[unit][player][ahead]") {
    Gate gate;
    const auto source = read_ahead(std::make_unique<SlowSource>(gate), 0);
    wait_for(gate, 30);
    test::Asked before, after;
    std::uint64_t last = 0;
    std::thread([&] {
        test::guard_this_thread();
        before = test::asked();
        for (std::uint64_t n = 0; n < 30; ++n) source->frame(n);
        after = test::asked();
        last = shown(*source);
    }).join();
    CHECK(last == 29);
    CHECK(after.allocations == before.allocations);
    CHECK(after.locks == before.locks);
    CHECK(after.calls == before.calls);
}

TEST_CASE("a source that has nothing from there on is at its end at once", "[unit][player][ahead]") {
    Gate gate;
    const auto source = read_ahead(std::make_unique<SlowSource>(gate), SlowSource::length);
    CHECK_FALSE(source->frame(SlowSource::length));
}
