// What the console shows, put together once for each drawing.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "runtime/play/intercom.hpp"

namespace tallow::runtime {

// An output, as people are told of it.
struct OutputView {
    std::string name;  // "E1.31 multicast through eth0"
    bool works = true;
    std::string why;                // it does not
    std::uint64_t next_try_ms = 0;  // from now, where it is tried again
    std::uint64_t dropped = 0;      // frames that it had no time for
};

// Whether somebody stands by, as people are told of it.
struct BackupView {
    std::string line;  // "10.0.0.7 stands by"
    bool well = true;
};

struct View {
    const Roll* roll = nullptr;  // null: a frames file plays
    std::string title;           // of the show, or the name of the file
    Progress progress;
    std::uint32_t refresh = 40;
    std::optional<std::uint64_t> begins_in_ms;  // while the show waits for its time
    std::vector<OutputView> outputs;
    std::vector<BackupView> backups;
    std::vector<std::string> ways_in;  // "OSC on 127.0.0.1:7700", "timecode 01:02:03:04"
    std::vector<std::string> notices;  // the latest last; whole sentences

    // What the keys are at (Keys::show sets these).
    std::string typed;               // a question, or what is being typed: "cue 12.5_"; "" without
    std::uint32_t list = 0;          // that the keys act on
    std::uint32_t submaster = none;  // that the arrows move, an index
    bool grand = false;              // they move the grand master
    bool help = false;               // all keys are told
};

}  // namespace tallow::runtime
