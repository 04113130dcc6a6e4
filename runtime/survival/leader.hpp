// Which of the players that tell how their shows stand is followed.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace tallow::runtime {

// So long after the last state a player counts as gone. A receiver of E1.31 waits 2.5 s (6.7.1) before it
// turns to a source of lower priority.
inline constexpr std::uint64_t gone_after_ns = 1000000000;

// The address of a player without its port.
inline std::string_view machine_of(std::string_view from) {
    return from.substr(0, from.rfind(':'));
}

// The first that is heard, until it ends its show in order. One that tells from the same machine after that
// one fell silent is the same one, started again. Players are known by address and port; times are
// nanoseconds of one clock.
class Leader {
  public:
    enum class Heard {
        followed,
        started_again,  // followed from now on
        another,        // not followed, and told of for the first time
        known,          // not followed, and told of before
        passed_over     // not followed, and nothing else is known of it
    };
    // A state that can be read has come.
    Heard tells(std::string_view from, std::uint64_t ns);
    // An end in order has come. True where it is of the one that was followed, and is no more.
    bool ends(std::string_view from);
    // Whether nothing more is heard of the one that is followed.
    bool gone(std::uint64_t ns) const { return followed() && silent(ns) > gone_after_ns; }

    bool followed() const { return !from_.empty(); }
    const std::string& from() const { return from_; }  // who is followed, or ""
    std::uint64_t silent(std::uint64_t ns) const { return ns - heard_ns_; }

  private:
    struct Other {
        std::string from;
        std::uint64_t since;
        bool told;
    };
    Other* other(std::string_view from, std::uint64_t ns);
    Heard follow(std::string_view from, std::uint64_t ns, Heard heard);

    std::string from_;
    std::uint64_t heard_ns_ = 0;
    std::vector<Other> others_;
};

}  // namespace tallow::runtime
