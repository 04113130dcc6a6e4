// Hosts that are not found at first.
#include "runtime/survival/host_search.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <condition_variable>
#include <mutex>

#include "runtime/monotonic.hpp"
#include "tests/support/program.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace std::chrono_literals;

namespace {

const Host host{"lantern.invalid", 7701};

SocketAddress somewhere() {
    auto at = find_host({"127.0.0.1", 7701}, {true, true});
    REQUIRE(at.ok());
    return *at;
}

}  // namespace

TEST_CASE("a host is looked up until it is found, with growing pauses", "[unit][state]") {
    struct Seen {
        std::mutex mutex;
        std::vector<std::uint64_t> tries;
        std::vector<std::string> names;
    };
    const auto seen = std::make_shared<Seen>();
    const auto find = [seen, there = somewhere(),
                       begun = monotonic_now()](const Host& of) -> Result<SocketAddress> {
        const std::lock_guard lock(seen->mutex);
        seen->names.push_back(of.name);
        seen->tries.push_back(monotonic_now() - begun);
        if (seen->tries.size() < 6) return Status::failure("it is not there");
        return there;
    };
    const auto search = HostSearch::start(host, find, {10ms, 40ms});
    REQUIRE(search.ok());
    REQUIRE(test::comes_true([&] { return (*search)->found().has_value(); }));
    CHECK(readable(*(*search)->found()) == "127.0.0.1");
    const std::lock_guard lock(seen->mutex);
    CHECK(seen->names == std::vector<std::string>(6, host.name));
    const std::vector<std::uint64_t>& tries = seen->tries;
    REQUIRE(tries.size() == 6);
    const std::uint64_t pauses[] = {10, 20, 40, 40, 40, 40};
    std::uint64_t at = 0;
    for (std::size_t i = 0; i < 6; ++i) {
        CHECK(tries[i] - at >= pauses[i] * 1000000);
        at = tries[i];
    }
}

TEST_CASE("a look-up that takes its time is waited for by nobody", "[unit][state]") {
    struct Gate {
        std::mutex mutex;
        std::condition_variable opens;
        bool open = false, reached = false, passed = false;
    };
    const auto gate = std::make_shared<Gate>();
    const auto find = [gate](const Host&) -> Result<SocketAddress> {
        std::unique_lock lock(gate->mutex);
        gate->reached = true;
        gate->opens.wait(lock, [&] { return gate->open; });
        gate->passed = true;
        return Status::failure("too late");
    };
    const auto is = [&](const bool& what) {
        const std::lock_guard lock(gate->mutex);
        return what;
    };
    {
        const auto search = HostSearch::start(host, find, {1ms, 1ms});
        REQUIRE(search.ok());
        REQUIRE(test::comes_true([&] { return is(gate->reached); }));
        CHECK_FALSE((*search)->found());
    }
    CHECK_FALSE(is(gate->passed));
    {
        const std::lock_guard lock(gate->mutex);
        gate->open = true;
    }
    gate->opens.notify_all();
    CHECK(test::comes_true([&] { return is(gate->passed); }));
}
