#include "tests/support/stage_network.hpp"

#include <catch2/catch.hpp>
#include <fcntl.h>
#include <fmt/format.h>
#include <sched.h>
#include <unistd.h>

#include "tests/support/command.hpp"

namespace tallow::test {
namespace {

void ip(const std::string& words) {
    const auto ran = run("ip " + words);
    INFO("ip " << words << ": " << ran.out);
    REQUIRE(ran.code == 0);
}

}  // namespace

bool StageNetwork::allowed() {
    const std::string probe = fmt::format("tallow-{}-probe", ::getpid());
    const bool may = run("ip netns add " + probe + " && ip -n " + probe +
                         " link add br0 type bridge && ip netns del " + probe)
                         .code == 0;
    if (!may) {
        run("ip netns del " + probe);
        WARN("networks cannot be made here (`ip netns add` and bridges, as root): nothing is tried on one");
    }
    return may;
}

std::string StageNetwork::name(const std::string& part) const {
    return fmt::format("tallow-{}-{}", ::getpid(), part);
}

std::string StageNetwork::port(int machine, int interface) const {
    return fmt::format("port{}-{}", machine, interface);
}

std::string StageNetwork::address(int machine, int interface) {
    return fmt::format("10.77.{}.{}", interface, 10 + machine);
}

StageNetwork::StageNetwork(int machines) : machines_(machines) {
    ip("netns add " + hall());
    // Without snooping, which would have the switch wait for queries before it forwards multicast.
    ip("-n " + hall() + " link add br0 type bridge mcast_snooping 0");
    ip("-n " + hall() + " link set br0 up");
    ip("-n " + hall() + " link set lo up");
    for (int interface = 0; interface < 2; ++interface)
        ip(fmt::format("-n {} addr add 10.77.{}.1/24 dev br0", hall(), interface));
    for (int i = 1; i <= machines; ++i) {
        ip("netns add " + machine(i));
        ip("-n " + machine(i) + " link set lo up");
        add_interface(i, 0);
    }
}

StageNetwork::~StageNetwork() {
    for (int i = 1; i <= machines_; ++i) run("ip netns del " + machine(i));
    run("ip netns del " + hall());
}

void StageNetwork::add_interface(int machine, int interface) {
    const std::string at_switch = port(machine, interface), there = this->machine(machine);
    ip(fmt::format("-n {} link add {} type veth peer name eth{} netns {}", hall(), at_switch, interface,
                   there));
    ip(fmt::format("-n {} link set {} master br0 up", hall(), at_switch));
    ip(fmt::format("-n {} addr add {}/24 dev eth{}", there, address(machine, interface), interface));
    ip(fmt::format("-n {} link set eth{} up", there, interface));
}

void StageNetwork::remove_interface(int machine, int interface) {
    ip(fmt::format("-n {} link del eth{}", this->machine(machine), interface));
}

void StageNetwork::cut_cable(int machine) {
    ip("-n " + hall() + " link set " + port(machine, 0) + " down");
}

void StageNetwork::mend_cable(int machine) {
    ip("-n " + hall() + " link set " + port(machine, 0) + " up");
}

void StageNetwork::interface_down(int machine, int interface) {
    ip(fmt::format("-n {} link set eth{} down", this->machine(machine), interface));
}

void StageNetwork::interface_up(int machine, int interface) {
    ip(fmt::format("-n {} link set eth{} up", this->machine(machine), interface));
}

InNetwork::InNetwork(const std::string& name) {
    if (name.empty()) return;
    before_ = ::open("/proc/thread-self/ns/net", O_RDONLY | O_CLOEXEC);
    const int fd = ::open(("/var/run/netns/" + name).c_str(), O_RDONLY | O_CLOEXEC);
    const bool in = ::setns(fd, CLONE_NEWNET) == 0;
    ::close(fd);
    REQUIRE(in);
}

InNetwork::~InNetwork() {
    if (before_ < 0) return;
    // A thread that cannot go back would do the rest of the tests elsewhere.
    if (::setns(before_, CLONE_NEWNET) != 0) std::abort();
    ::close(before_);
}

}  // namespace tallow::test
