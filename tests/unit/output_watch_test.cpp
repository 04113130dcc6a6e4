#include "runtime/session/output_watch.hpp"

#include <catch2/catch.hpp>

#include "runtime/monotonic.hpp"
#include "tests/support/program.hpp"
#include "tests/support/wanting_output.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

using Lines = std::vector<std::string>;

// One output that does what the test wants.
struct Watch {
    explicit Watch(bool opens = true) {
        wanted->opens = opens;
        const std::vector<Universe> universes{{1, 4}};
        auto started = SupervisedOutput::start("the wire", test::opener(wanted), universes);
        REQUIRE(started.ok());
        output = std::move(*started);
        watch.add(*output);
    }
    Lines tell(std::uint64_t now) {
        Lines lines;
        watch.tell(now, [&](std::string_view line) { lines.emplace_back(line); });
        return lines;
    }
    OutputView shown(std::uint64_t now) const {
        View view;
        watch.show(now, view);
        REQUIRE(view.outputs.size() == 1);
        return view.outputs[0];
    }
    std::shared_ptr<test::Wanted> wanted = std::make_shared<test::Wanted>();
    std::unique_ptr<SupervisedOutput> output;
    OutputWatch watch;
};

}  // namespace

TEST_CASE("an output that hangs is shown, and told of once", "[unit][supervised]") {
    Watch watch;
    watch.wanted->hangs = true;
    const std::vector<std::uint8_t> slots(4);
    const std::vector<std::span<const std::uint8_t>> universes{slots};
    watch.output->offer({0, universes});
    REQUIRE(test::comes_true([&] { return watch.output->health().busy_since.has_value(); }));
    const std::uint64_t since = *watch.output->health().busy_since;
    CHECK(watch.tell(since + second_ns / 2).empty());
    CHECK(watch.shown(since + second_ns / 2).works);
    CHECK(watch.tell(since + 3 * second_ns) ==
          Lines{"the wire: hangs; it is left alone until it comes back"});
    CHECK(watch.tell(since + 4 * second_ns).empty());
    const OutputView hanging = watch.shown(since + 4 * second_ns);
    CHECK_FALSE(hanging.works);
    CHECK(hanging.why == "it has hung for 4.0s");
    watch.wanted->let_go();
    REQUIRE(test::comes_true([&] { return !watch.output->health().busy_since; }));
    CHECK(watch.tell(since + 5 * second_ns) == Lines{"the wire: works again"});
    CHECK(watch.shown(since + 5 * second_ns).works);
}

TEST_CASE("an output that never worked is not told of again at the end", "[unit][supervised]") {
    Watch watch(false);
    using State = OutputHealth::State;
    REQUIRE(test::comes_true([&] { return watch.output->health().state == State::down; }));
    CHECK(watch.tell(0) == Lines{"the wire: fails: nobody is there; it is tried again"});
    CHECK_FALSE(watch.output->finish().ok());
    REQUIRE(test::comes_true([&] { return watch.output->health().state == State::failed; }));
    CHECK(watch.tell(0).empty());
}
