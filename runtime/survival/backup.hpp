// Whether somebody stands by at one place that is told how a show stands, and for what, for people.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace tallow::runtime {

// What a player that stands by answers to one that tells: for what it does.
enum class StandsBy : std::uint8_t {
    for_this_show,
    another_version,  // of the show
    another_show,
    for_another_player,  // not for the one that tells
};

// Without an answer for so long nobody stands by. Answers come twice a second.
inline constexpr std::uint64_t no_answer_ns = 3000000000;

// Times are nanoseconds of one clock. Nothing but what people read comes of an answer.
class Backup {
  public:
    // `place`: "10.0.0.7 port 7701"; `listens`: what the other player's `--standby` is given, "0.0.0.0:7701".
    Backup(std::string place, std::string listens) : place_(std::move(place)), listens_(std::move(listens)) {}

    // It is told; answers are waited for from the first time on.
    void told(std::uint64_t ns);
    // From a machine. While one answers, others are passed over.
    void answers(std::string_view machine, StandsBy how, std::uint64_t ns);

    // What has changed since the last call, once and with what to do; "" for nothing. A line a second at
    // most.
    std::string news(std::uint64_t ns);
    // How it is, in short; "" while that is not known.
    std::string line(std::uint64_t ns) const;
    // Whether it is as it should be.
    bool well(std::uint64_t ns) const { return is(ns) == Is::there && how_ == StandsBy::for_this_show; }
    const std::string& place() const { return place_; }

  private:
    enum class Is : std::uint8_t { unknown, there, away };
    Is is(std::uint64_t ns) const;

    std::string place_, listens_, machine_;
    std::optional<std::uint64_t> told_ns_, answered_ns_;  // the first time, the last time
    StandsBy how_ = StandsBy::for_this_show;
    // What was said last.
    Is said_ = Is::unknown;
    StandsBy said_how_ = StandsBy::for_this_show;
    std::uint64_t said_ns_ = 0;
    bool was_there_ = false;
};

}  // namespace tallow::runtime
