#include "runtime/output/supervised.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

#include "runtime/monotonic.hpp"
#include "runtime/output/bell.hpp"
#include "tests/support/allocations.hpp"
#include "tests/support/program.hpp"
#include "tests/support/wanting_output.hpp"

using namespace tallow;
using namespace tallow::runtime;
using State = OutputHealth::State;
using test::comes_true;
using test::Wanted;

namespace {

constexpr std::uint64_t ms = 1000000;
const std::vector<Universe> universes{{1, 512}, {2, 512}};

void pause(unsigned milliseconds) {
    std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds));
}

std::unique_ptr<SupervisedOutput> started(const std::shared_ptr<Wanted>& wanted, Supervision how = {}) {
    auto output = SupervisedOutput::start("the wire", test::opener(wanted), universes, how);
    REQUIRE(output.ok());
    return std::move(*output);
}

// The whole frame holds its number's last byte.
void offer(SupervisedOutput& output, std::uint64_t number) {
    std::uint8_t bytes[512];
    std::fill(std::begin(bytes), std::end(bytes), static_cast<std::uint8_t>(number));
    const std::span<const std::uint8_t> slots[2]{bytes, bytes};
    output.offer({number, slots});
}

// How many frames the output has been given.
std::size_t given(const Wanted& wanted) {
    return wanted.levels().size();
}

}  // namespace

TEST_CASE("a thread sends each frame and the three ends, then it is over", "[unit][supervised]") {
    const auto wanted = std::make_shared<Wanted>();
    const auto output = started(wanted);
    CHECK(output->name() == "the wire");
    for (std::uint64_t n = 0; n < 50; ++n) {
        offer(*output, n);
        REQUIRE(comes_true([&] { return given(*wanted) == n + 1; }));
    }
    for (const std::uint64_t n : {50, 51, 52}) output->end(n);
    CHECK(output->finish().ok());
    const std::vector<std::string> told = wanted->told();
    REQUIRE(told.size() == 1 + 50 + 3 + 2);
    CHECK(std::vector<std::string>(told.end() - 5, told.end()) ==
          std::vector<std::string>{"end 50", "end 51", "end 52", "finish", "close"});
    CHECK(output->health().state == State::finished);
    CHECK(output->health().sent == 50);
}

TEST_CASE("an output that cannot be reached at the start is there later", "[unit][supervised]") {
    const auto wanted = std::make_shared<Wanted>();
    wanted->opens = false;
    const auto output = started(wanted, {.first_pause = 5 * ms, .longest_pause = 10 * ms});
    REQUIRE(comes_true([&] { return output->health().tries >= 3; }));
    CHECK(output->health().state == State::down);
    offer(*output, 7);
    wanted->opens = true;
    REQUIRE(comes_true([&] { return output->health().state == State::works; }));
    CHECK(wanted->levels() == std::vector<int>{7});
    CHECK(output->finish().ok());
}

TEST_CASE("an output that does not work at the end says so, by its name, at once", "[unit][supervised]") {
    const auto wanted = std::make_shared<Wanted>();
    wanted->opens = false;
    const auto output = started(wanted);
    REQUIRE(comes_true([&] { return output->health().state == State::down; }));
    const std::uint64_t before = monotonic_now();
    CHECK(output->finish(10000 * ms).why() == "the wire did not work at the end: nobody is there");
    CHECK(monotonic_now() - before < 5000 * ms);
}

TEST_CASE("one of three outputs hangs, and the others get every frame", "[unit][supervised]") {
    const std::shared_ptr<Wanted> wanted[3]{std::make_shared<Wanted>(), std::make_shared<Wanted>(),
                                            std::make_shared<Wanted>()};
    std::vector<std::unique_ptr<SupervisedOutput>> outputs;
    for (const auto& w : wanted) outputs.push_back(started(w));
    wanted[1]->hangs = true;
    constexpr std::uint64_t frames = 200;
    for (std::uint64_t n = 0; n < frames; ++n) {
        for (const auto& output : outputs) offer(*output, n);
        for (const unsigned well : {0, 2}) REQUIRE(comes_true([&] { return given(*wanted[well]) == n + 1; }));
        // A thread that has not run yet would take the newest frame of those that wait.
        REQUIRE(comes_true([&] { return outputs[1]->health().busy_since.has_value(); }));
    }
    CHECK(given(*wanted[1]) == 0);
    const OutputHealth hung = outputs[1]->health();
    CHECK(hung.busy_since);
    CHECK(hung.dropped == frames - FrameRing::frames);
    for (const unsigned well : {0, 2}) {
        CHECK(outputs[well]->health().sent == frames);
        CHECK(outputs[well]->health().dropped == 0);
        CHECK(outputs[well]->finish().ok());
    }
    // It comes back: the frame in hand is through, what waited behind it is old.
    wanted[1]->let_go();
    REQUIRE(comes_true([&] { return outputs[1]->health().dropped == frames - 2; }));
    offer(*outputs[1], 99);
    REQUIRE(comes_true([&] { return given(*wanted[1]) == 2; }));
    CHECK(wanted[1]->levels() == std::vector<int>{0, 99});
    CHECK(outputs[1]->finish().ok());
}

TEST_CASE("an output that hangs does not keep the end waiting for long", "[unit][supervised]") {
    const auto wanted = std::make_shared<Wanted>();
    wanted->hangs = true;
    {
        const auto output = started(wanted);
        offer(*output, 1);
        REQUIRE(comes_true([&] { return output->health().busy_since.has_value(); }));
        const std::uint64_t before = monotonic_now();
        CHECK(output->finish(50 * ms).why() ==
              "the wire did not come back within 50ms, and was left behind; check what it is connected to");
        CHECK(monotonic_now() - before >= 50 * ms);
        CHECK(monotonic_now() - before < 5000 * ms);
    }
    // The thread that was left behind ends well when it comes back after all.
    CHECK(given(*wanted) == 0);
    wanted->let_go();
    REQUIRE(comes_true([&] { return wanted->told().back() == "close"; }));
    CHECK(wanted->told() == std::vector<std::string>{"open", "1", "finish", "close"});
}

TEST_CASE("an output that nobody finished is finished", "[unit][supervised]") {
    const auto wanted = std::make_shared<Wanted>();
    {
        const auto output = started(wanted);
        offer(*output, 1);
    }
    CHECK(wanted->told() == std::vector<std::string>{"open", "1", "finish", "close"});
}

TEST_CASE("offering a frame allocates nothing, whether it finds room or not", "[unit][supervised]") {
    const auto wanted = std::make_shared<Wanted>();
    wanted->hangs = true;
    const auto output = started(wanted);
    const std::size_t before = test::allocations();
    for (std::uint64_t n = 0; n < 100; ++n) offer(*output, n);
    for (std::uint64_t n = 100; n < 104; ++n) output->end(n);
    const std::size_t after = test::allocations();
    CHECK(after == before);
    wanted->let_go();
    CHECK(output->finish(10000 * ms).ok());
    CHECK(output->health().sent + output->health().dropped == 100);
    CHECK(output->health().dropped >= 100 - FrameRing::frames);
}

TEST_CASE("frames that come in a rush are sent in order or counted as dropped", "[unit][supervised]") {
    const auto wanted = std::make_shared<Wanted>();
    const auto output = started(wanted);
    constexpr std::uint64_t frames = 3000;
    for (std::uint64_t n = 0; n < frames; ++n) {
        offer(*output, n);
        // More at once than there is room for, and now and then one by one: of the former all may be dropped.
        if (n % (FrameRing::frames + 1) == 0 || n % 100 < 10) pause(1);
    }
    REQUIRE(comes_true([&] { return output->health().sent + output->health().dropped >= frames - 1; }));
    for (const std::uint64_t n : {frames, frames + 1, frames + 2}) output->end(n);
    CHECK(output->finish(10000 * ms).ok());
    std::vector<std::string> told = wanted->told();
    REQUIRE(told.size() > 20);
    std::vector<std::uint64_t> numbers;
    for (std::size_t i = 1; i + 5 < told.size(); ++i) numbers.push_back(std::stoull(told[i]));
    CHECK(std::is_sorted(numbers.begin(), numbers.end()));
    CHECK(std::adjacent_find(numbers.begin(), numbers.end()) == numbers.end());
    CHECK(output->health().sent == numbers.size());
    const std::vector<int> levels = wanted->levels();
    for (std::size_t i = 0; i < numbers.size(); ++i)
        REQUIRE(levels[i] == static_cast<int>(numbers[i] & 0xff));
}

TEST_CASE("an output hangs in a call that takes over a second", "[unit][supervised]") {
    constexpr std::uint64_t s = 1000 * ms, now = 100 * s;
    CHECK(hangs_for({.state = State::works}, now) == 0);
    CHECK(hangs_for({.state = State::works, .busy_since = now - s}, now) == 0);
    CHECK(hangs_for({.state = State::works, .busy_since = now - 3 * s}, now) == 3 * s);
    CHECK(hangs_for({.state = State::opening, .busy_since = now + s}, now) == 0);
}
