// What a user may say on the command line of a player, as it stands there.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "runtime/control/triggers.hpp"
#include "runtime/output/e131.hpp"
#include "runtime/output/serial.hpp"
#include "runtime/play/script.hpp"

namespace CLI {
class App;
}

namespace tallow::runtime {

// All as it was written; play_session() gives a source that was given no identifier one.
struct PlaySettings {
    ScriptText script;
    std::string from = "0s", until, begin_at;
    bool fast = false, lines = false;

    std::vector<std::string> sacn, interfaces, serial;
    std::string ip = "4", universes, capture, source_name, cid;
    std::optional<unsigned> priority;
    unsigned hops = 1, synchronization = 0, serial_break = dmx_break_us;
    bool preview = false, force_synchronization = false, no_discovery = false, null = false;

    TriggerText triggers;

    std::string state;  // "": beside the file that is played
    bool no_state = false, resume = false;

    std::vector<std::string> tell;  // players that stand by for this one
    std::string stand_by;           // where this one listens, if it stands by
};

// Adds the options to a program or a command, by groups, and puts the commands that a player takes before the
// foot of its help. `settings` must live as long as `app`.
void add_play_options(CLI::App& app, PlaySettings& settings);

}  // namespace tallow::runtime
