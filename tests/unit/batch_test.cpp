#include "runtime/output/batch.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cerrno>
#include <map>
#include <vector>

using namespace tallow::runtime;

namespace {

// A system that takes a few messages at a time, and says of some what it is told to, so often.
class MadePort : public PacketPort {
  public:
    struct Refusal {
        int error;
        int times;
    };
    std::map<std::size_t, Refusal> refusals;  // by the message's number
    std::size_t at_once = 1024;               // as Linux takes them
    int patience = 3;
    std::vector<std::size_t> sent;
    int waits = 0;

    explicit MadePort(std::span<const mmsghdr> all) : all_(all) {}
    int send(std::span<mmsghdr> messages) override {
        int count = 0;
        for (const mmsghdr& m : messages.first(std::min(at_once, messages.size()))) {
            const auto number = static_cast<std::size_t>(&m - all_.data());
            const auto refusal = refusals.find(number);
            if (refusal != refusals.end() && refusal->second.times > 0) {
                if (count > 0) return count;
                --refusal->second.times;
                errno = refusal->second.error;
                return -1;
            }
            sent.push_back(number);
            ++count;
        }
        return count;
    }
    bool wait_for_room() override { return waits++ < patience; }
    void begin() override { waits = 0; }

  private:
    std::span<const mmsghdr> all_;
};

std::vector<std::size_t> numbers(std::size_t count, std::initializer_list<std::size_t> without = {}) {
    std::vector<std::size_t> all;
    for (std::size_t i = 0; i < count; ++i)
        if (std::find(without.begin(), without.end(), i) == without.end()) all.push_back(i);
    return all;
}

constexpr int always = 1000000;

}  // namespace

TEST_CASE("a batch goes out in order, however few the system takes at once", "[unit][output]") {
    std::vector<mmsghdr> messages(2500);
    for (const std::size_t at_once : {std::size_t{1}, std::size_t{7}, std::size_t{1024}}) {
        MadePort port(messages);
        port.at_once = at_once;
        CHECK(send_batch(port, messages).count == 0);
        CHECK(port.sent == numbers(2500));
    }
}

TEST_CASE("a message that is refused keeps none of the others back", "[unit][output]") {
    std::vector<mmsghdr> messages(10);
    MadePort port(messages);
    port.refusals = {{3, {EHOSTUNREACH, always}}, {4, {ENETDOWN, always}}, {9, {EPERM, always}}};
    const Unsent unsent = send_batch(port, messages);
    CHECK(port.sent == numbers(10, {3, 4, 9}));
    CHECK(unsent.count == 3);
    CHECK(unsent.first == 3);
    CHECK(unsent.error == EHOSTUNREACH);
}

TEST_CASE("a batch waits for room, and is not cut short by a signal", "[unit][output]") {
    std::vector<mmsghdr> messages(10);
    MadePort port(messages);
    port.refusals = {{0, {EINTR, 5}}, {2, {ENOBUFS, 2}}, {7, {EAGAIN, 1}}};
    CHECK(send_batch(port, messages).count == 0);
    CHECK(port.sent == numbers(10));
    CHECK(port.waits == 3);
}

TEST_CASE("a batch gives up where there is no room for too long", "[unit][output]") {
    std::vector<mmsghdr> messages(10);
    MadePort port(messages);
    port.refusals = {{6, {ENOBUFS, always}}};
    const Unsent unsent = send_batch(port, messages);
    CHECK(port.sent == numbers(6));
    CHECK(unsent.count == 4);
    CHECK(unsent.first == 6);
    CHECK(unsent.error == ENOBUFS);
    port.refusals.clear();
    port.sent.clear();
    CHECK(send_batch(port, messages).count == 0);  // the next batch has its patience again
    CHECK(port.sent == numbers(10));
}
