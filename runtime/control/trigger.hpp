// Ways in for what other machines say: each is a descriptor that the operator's thread waits on.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// A frame of timecode, as it came in. Times are nanoseconds of the monotonic clock (Clock::now).
struct TimecodeFrame {
    std::uint64_t ns = 0;     // when the timecode stood at it: no later than it was read
    std::uint64_t frame = 0;  // counted from 00:00:00:00 in its own rate
    TimecodeRate rate = TimecodeRate::f25;
    bool located = false;  // a place that was gone to, from where nothing runs yet (a full frame of MTC)
    bool operator==(const TimecodeFrame&) const = default;
};

// Who is told what came in, and when.
class Listener {
  public:
    virtual ~Listener() = default;
    // A command in words, as an operator types it (command.hpp), and who said so: "OSC 192.0.2.7:9000".
    virtual void words(std::uint64_t ns, std::string_view from, std::string_view words) = 0;
    virtual void timecode(std::uint64_t ns, const TimecodeFrame& frame) = 0;
    // Something that was not understood, or not allowed: one sentence.
    virtual void complaint(std::string_view from, std::string_view why) = 0;
};

class Trigger {
  public:
    virtual ~Trigger() = default;
    virtual std::string name() const = 0;  // for people: "OSC on 127.0.0.1:7700"
    virtual int descriptor() const = 0;    // readable when there is something
    // What is there, or a good part of it when it is much; never waits.
    virtual void read(Listener& listener) = 0;
};

}  // namespace tallow::runtime
