#include "runtime/timecode.hpp"

#include <array>
#include <fmt/format.h>

#include "runtime/ascii.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint64_t minutes_per_day = 1440;

// How many labels drop-frame counting has left out up to and with the beginning of a minute of the day.
std::uint64_t left_out(std::uint64_t minute) {
    return 2 * (minute - minute / 10);
}

// Two digits, or none.
bool read_part(std::string_view text, std::size_t at, std::uint64_t& part) {
    if (!is_digit(text[at]) || !is_digit(text[at + 1])) return false;
    const auto value = [&](std::size_t i) { return static_cast<std::uint64_t>(text[i] - '0'); };
    part = 10 * value(at) + value(at + 1);
    return true;
}

}  // namespace

std::uint32_t labels_per_second(TimecodeRate rate) {
    constexpr std::array<std::uint32_t, 4> labels{24, 25, 30, 30};
    return labels[static_cast<std::size_t>(rate)];
}

std::uint64_t frames_per_day(TimecodeRate rate) {
    const bool drop = rate == TimecodeRate::drop;
    return minutes_per_day * 60 * labels_per_second(rate) - (drop ? left_out(minutes_per_day) : 0);
}

Result<std::uint64_t> parse_timecode(std::string_view text, TimecodeRate rate) {
    const bool drop = rate == TimecodeRate::drop;
    const auto failure = [&](std::string_view why) {
        return Status::failure(fmt::format("`{}` is no timecode: {}", text, why));
    };
    std::array<std::uint64_t, 4> part{};
    bool shaped = text.size() == 11;
    for (std::size_t i = 0; shaped && i < 4; ++i) {
        const char before = i == 0 ? ':' : text[3 * i - 1];
        shaped = (before == ':' || (before == ';' && i == 3)) && read_part(text, 3 * i, part[i]);
    }
    if (!shaped) return failure("it has the form HH:MM:SS:FF, two digits each");
    if (text[8] == ';' && !drop) return failure("`;` before the frames says drop-frame, and the rate is not");
    const auto [hour, minute, second, frame] = part;
    if (hour > 23) return failure("hours go from 00 to 23");
    if (minute > 59 || second > 59) return failure("minutes and seconds go from 00 to 59");
    const std::uint64_t labels = labels_per_second(rate);
    if (frame >= labels) return failure(fmt::format("frames go from 00 to {:02}", labels - 1));
    if (drop && second == 0 && frame < 2 && minute % 10 != 0)
        return failure("drop-frame counting leaves out frames 00 and 01 here");
    const std::uint64_t minutes = 60 * hour + minute;
    return (60 * minutes + second) * labels + frame - (drop ? left_out(minutes) : 0);
}

std::string format_timecode(std::uint64_t frame, TimecodeRate rate) {
    const bool drop = rate == TimecodeRate::drop;
    const std::uint64_t labels = labels_per_second(rate);
    const auto begin = [&](std::uint64_t m) { return m * 60 * labels - (drop ? left_out(m) : 0); };
    const auto first = [&](std::uint64_t m) { return begin(m) + (drop && m % 10 != 0 ? 2 : 0); };
    std::uint64_t minute = frame / (60 * labels);  // never too late: drop-frame minutes begin earlier
    while (minute + 1 < minutes_per_day && first(minute + 1) <= frame) ++minute;
    const std::uint64_t label = frame - begin(minute);
    return fmt::format("{:02}:{:02}:{:02}{}{:02}", minute / 60, minute % 60, label / labels, drop ? ';' : ':',
                       label % labels);
}

Tick timecode_tick(std::uint64_t frame, TimecodeRate rate, std::uint32_t refresh) {
    const std::uint64_t per_second = Tick{1000} * refresh;
    if (rate == TimecodeRate::drop) return (frame * 1001 * per_second + 15000) / 30000;
    const std::uint64_t labels = labels_per_second(rate);
    return (frame * per_second + labels / 2) / labels;
}

std::uint64_t timecode_frame(Tick tick, TimecodeRate rate, std::uint32_t refresh) {
    const bool drop = rate == TimecodeRate::drop;
    const std::uint64_t labels = drop ? 30000 : labels_per_second(rate),
                        ticks = Tick{drop ? 1001u : 1u} * 1000 * refresh;  // of so many labels
    return (tick * labels + ticks / 2) / ticks;
}

}  // namespace tallow::runtime
