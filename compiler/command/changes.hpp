// What tells that files changed; tests put their own in.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "runtime/status.hpp"

namespace tallow::command {

class Changes {
  public:
    struct Happened {
        bool stop = false;               // the user asked to end
        std::vector<std::string> paths;  // as they were followed, each once
    };

    virtual ~Changes() = default;

    // Between begin() and end() every file that matters is followed, whether it is there yet or not, each
    // before it is read: so no change after the reading is missed. end() lets go of all other files.
    virtual void begin() = 0;
    virtual runtime::Status follow(const std::string& path) = 0;
    virtual void end() = 0;

    // Comes back when followed files changed, were made, replaced or deleted, when the user asks to end, or
    // after so many milliseconds with nothing; without a number it waits as long as it takes.
    virtual runtime::Result<Happened> wait(std::optional<int> milliseconds) = 0;
};

// The system's own (inotify). With `by_signals`, SIGINT and SIGTERM ask it to end as long as it lives, and do
// nothing else; without, nobody does.
runtime::Result<std::unique_ptr<Changes>> system_changes(bool by_signals = true);

}  // namespace tallow::command
