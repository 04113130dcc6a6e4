// A listener that writes down what it hears.
#pragma once

#include <string>
#include <vector>

#include "runtime/control/trigger.hpp"

namespace tallow::test {

struct Heard : runtime::Listener {
    void words(std::uint64_t ns, std::string_view from, std::string_view said) override {
        all.emplace_back(said);
        last_ns = ns;
        last_from = from;
    }
    void timecode(std::uint64_t ns, const runtime::TimecodeFrame& frame) override {
        last_ns = ns;
        frames.push_back(frame);
    }
    void complaint(std::string_view from, std::string_view why) override {
        last_from = from;
        complaints.emplace_back(why);
    }

    std::vector<std::string> all, complaints;
    std::vector<runtime::TimecodeFrame> frames;
    std::uint64_t last_ns = 0;
    std::string last_from;
};

}  // namespace tallow::test
