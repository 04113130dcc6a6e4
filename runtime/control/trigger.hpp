// Ways in for what other machines say: each is a descriptor that the operator's thread waits on.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace tallow::runtime {

// Who is told what came in. Times are nanoseconds of the monotonic clock (Clock::now).
class Listener {
  public:
    virtual ~Listener() = default;
    // A command in words, as an operator types it (command.hpp), and who said so: "OSC 192.0.2.7:9000".
    virtual void words(std::uint64_t ns, std::string_view from, std::string_view words) = 0;
    // Timecode stands at this frame, in its own count, at that time. The rate is as it came in.
    virtual void timecode(std::uint64_t ns, std::uint64_t frame, unsigned labels_per_second, bool drop) = 0;
    // Something that was not understood, or not allowed: one sentence.
    virtual void complaint(std::string_view from, std::string_view why) = 0;
};

class Trigger {
  public:
    virtual ~Trigger() = default;
    virtual std::string name() const = 0;       // for people: "OSC on 127.0.0.1:7700"
    virtual int descriptor() const = 0;         // readable when there is something
    virtual void read(Listener& listener) = 0;  // all that is there; never waits
};

}  // namespace tallow::runtime
