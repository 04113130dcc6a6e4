// The ways in that the options of the command line open.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "runtime/control/trigger.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// Options as they were written (TRIGGERS.md); empty ones were not.
struct TriggerText {
    std::vector<std::string> osc;           // --osc, may be given again
    std::string osc_secret;                 // --osc-secret
    std::string midi;                       // --midi
    std::vector<std::string> midi_go;       // --midi-go, may be given again
    std::string midi_channel, midi_device;  // --midi-channel, --midi-device
    std::string timecode_lost;              // --timecode-lost
};

// Opens all of them. Fails, and opens none, where an option is wrong, misses another one or names a cue list
// that the show has not, and where one cannot be opened. A failure names the option. `clock` must live as
// long as what is opened.
Result<std::vector<std::unique_ptr<Trigger>>> open_triggers(const TriggerText& text, const Roll& roll,
                                                            Clock& clock);

// Whether the show runs on when timecode is lost (TimecodeChase): `run-on`, which nothing means too, or
// `hold`.
Result<bool> runs_on(const TriggerText& text);

}  // namespace tallow::runtime
