// Times of day by the system's clock, for players that wait for one.
#pragma once

#include <ctime>
#include <fmt/format.h>
#include <string>

namespace tallow::test {

inline std::string time_of_day(std::time_t then) {
    std::tm day{};
    ::localtime_r(&then, &day);
    return fmt::format("{:02}:{:02}:{:02}", day.tm_hour, day.tm_min, day.tm_sec);
}

}  // namespace tallow::test
