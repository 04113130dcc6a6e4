// Drop-frame counting against the published counts of SMPTE ST 12-1: frame 1799 is 00:00:59;29, 1800 is
// 00:01:00;02, 17982 is 00:10:00;00, 107892 is 01:00:00;00, 2589407 is 23:59:59;29.
#include "runtime/timecode.hpp"

#include <catch2/catch.hpp>

namespace tallow {
namespace {

using runtime::TimecodeRate;

std::uint64_t frame(std::string_view label, TimecodeRate rate) {
    const auto read = runtime::parse_timecode(label, rate);
    INFO(label << ": " << (read.ok() ? "" : read.why()));
    REQUIRE(read.ok());
    return *read;
}

TEST_CASE("drop-frame timecode agrees with the published counts", "[reference][timecode]") {
    const std::pair<std::uint64_t, const char*> published[] = {
        {0, "00:00:00;00"},     {1799, "00:00:59;29"},   {1800, "00:01:00;02"},
        {17982, "00:10:00;00"}, {107892, "01:00:00;00"}, {2589407, "23:59:59;29"}};
    for (const auto& [count, label] : published) {
        CHECK(frame(label, TimecodeRate::drop) == count);
        CHECK(runtime::format_timecode(count, TimecodeRate::drop) == label);
    }
}

TEST_CASE("every label of a day is one frame, in order", "[reference][timecode]") {
    for (const TimecodeRate rate :
         {TimecodeRate::f24, TimecodeRate::f25, TimecodeRate::drop, TimecodeRate::f30}) {
        const bool drop = rate == TimecodeRate::drop;
        std::uint64_t next = 0;
        std::string label = drop ? "00:00:00;00" : "00:00:00:00";
        bool agree = true;
        for (std::uint64_t second = 0; second < 24 * 3600; ++second)
            for (std::uint32_t f = 0; f < runtime::labels_per_second(rate); ++f) {
                const auto set = [&](std::size_t at, std::uint64_t value) {
                    label[at] = static_cast<char>('0' + value / 10);
                    label[at + 1] = static_cast<char>('0' + value % 10);
                };
                set(0, second / 3600);
                set(3, second / 60 % 60);
                set(6, second % 60);
                set(9, f);
                const auto read = runtime::parse_timecode(label, rate);
                const bool left_out = drop && second % 60 == 0 && f < 2 && second / 60 % 10 != 0;
                agree = agree && read.ok() != left_out;
                if (left_out) continue;
                agree = agree && *read == next && runtime::format_timecode(next, rate) == label;
                ++next;
            }
        CHECK(agree);
        CHECK(next == (drop ? 2589408u : 86400u * runtime::labels_per_second(rate)));
    }
}

// By hand: an hour of drop-frame labels is 107892 · 1001/30000 s = 3599.9964 s, 143999856 ticks at 40 Hz.
TEST_CASE("a frame of timecode begins at its nearest tick", "[reference][timecode]") {
    CHECK(runtime::timecode_tick(107892, TimecodeRate::drop, 40) == 143999856);
    CHECK(runtime::timecode_tick(25, TimecodeRate::f25, 40) == 40000);
    CHECK(runtime::timecode_tick(1, TimecodeRate::f24, 40) == 1667);  // 1666 2/3
    CHECK(runtime::timecode_tick(1, TimecodeRate::f30, 30) == 1000);
}

TEST_CASE("what is no timecode is refused with the reason", "[reference][timecode]") {
    const auto why = [](std::string_view text, TimecodeRate rate) {
        const auto read = runtime::parse_timecode(text, rate);
        return read.ok() ? std::string() : read.why();
    };
    CHECK(why("1:00:00:00", TimecodeRate::f25).find("HH:MM:SS:FF") != std::string::npos);
    CHECK(why("00:00:00:0x", TimecodeRate::f25).find("HH:MM:SS:FF") != std::string::npos);
    CHECK(why("00;00:00:00", TimecodeRate::f25).find("HH:MM:SS:FF") != std::string::npos);
    CHECK(why("24:00:00:00", TimecodeRate::f25).find("hours") != std::string::npos);
    CHECK(why("00:60:00:00", TimecodeRate::f25).find("minutes") != std::string::npos);
    CHECK(why("00:00:00:25", TimecodeRate::f25).find("00 to 24") != std::string::npos);
    CHECK(why("00:00:00;24", TimecodeRate::f25).find("drop-frame") != std::string::npos);
    CHECK(why("00:01:00;01", TimecodeRate::drop).find("leaves out") != std::string::npos);
    CHECK(why("00:01:00:02", TimecodeRate::drop).empty());
}

TEST_CASE("the frame that begins nearest to a tick is the one that the tick is of", "[reference][timecode]") {
    for (const TimecodeRate rate :
         {TimecodeRate::f24, TimecodeRate::f25, TimecodeRate::drop, TimecodeRate::f30})
        for (const std::uint32_t refresh : {1u, 30u, 40u, 44u})
            for (std::uint64_t frame = 0; frame < runtime::frames_per_day(rate); frame += 97) {
                const runtime::Tick tick = runtime::timecode_tick(frame, rate, refresh);
                REQUIRE(runtime::timecode_frame(tick, rate, refresh) == frame);
                REQUIRE(runtime::timecode_frame(tick + 10, rate, refresh) == frame);
            }
}

}  // namespace
}  // namespace tallow
