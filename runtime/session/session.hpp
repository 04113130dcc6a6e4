// A whole evening: a show, its outputs, its operator, and what is to be done when something fails.
#pragma once

#include <memory>
#include <optional>
#include <string_view>

#include "runtime/session/played.hpp"
#include "runtime/session/settings.hpp"

namespace tallow::runtime {

// Where a show that is changed while it plays comes from.
class Revisions {
  public:
    struct Revision {
        std::unique_ptr<Roll> roll;
        std::uint64_t roll_hash = 0;
    };
    virtual ~Revisions() = default;
    // A new one since the last call, if there is; what people are to know of it goes to `say`, a line each.
    // Never waits.
    virtual std::optional<Revision> poll(const std::function<void(std::string_view)>& say) = 0;
};

// Plays to the end. `program` begins what goes to standard error. The exit code: 0, or 2 where something of
// the surroundings failed.
int play_session(std::string_view program, const PlaySettings& settings, Played played,
                 Revisions* revisions = nullptr);

}  // namespace tallow::runtime
