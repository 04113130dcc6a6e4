// From settings to what the operator's thread hears besides the operator.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "runtime/control/timecode_chase.hpp"
#include "runtime/control/trigger.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/session/played.hpp"
#include "runtime/session/settings.hpp"

namespace tallow::runtime {

struct Hears {
    std::vector<std::unique_ptr<Trigger>> triggers;
    std::optional<TimecodeChase> chase;  // where a roll plays
};

// Opens all that the settings ask for.
Result<Hears> open_triggers(const PlaySettings& settings, const Played& played, Clock& clock);

}  // namespace tallow::runtime
