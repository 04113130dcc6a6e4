#include "compiler/command/watch.hpp"

#include <set>

namespace tallow::command {
namespace {

using runtime::Result;
using Happened = Changes::Happened;

// All changes up to the first quiet moment.
Result<Happened> next_changes(Changes& changes, runtime::Clock& clock, int quiet) {
    Result<Happened> happened = changes.wait(std::nullopt);
    std::set<std::string> paths;
    const std::uint64_t latest = clock.now() + std::uint64_t{longest_ms} * 1'000'000;
    while (happened.ok() && !happened->stop && !happened->paths.empty()) {
        paths.insert(happened->paths.begin(), happened->paths.end());
        if (clock.now() >= latest) break;
        happened = changes.wait(quiet);
    }
    if (!happened.ok() || happened->stop) return happened;
    return Happened{false, {paths.begin(), paths.end()}};
}

}  // namespace

runtime::Status watch(Changes& changes, runtime::Clock& clock, const show::ReadFile& read, const Round& round,
                      int quiet) {
    std::vector<std::string> changed;
    for (;;) {
        runtime::Status trouble;
        changes.begin();
        round(changed, [&](const std::string& path) {
            if (trouble.ok()) trouble = changes.follow(path);
            return read(path);
        });
        changes.end();
        if (!trouble.ok()) return trouble;
        auto happened = next_changes(changes, clock, quiet);
        if (!happened.ok()) return happened.status();
        if (happened->stop) return {};
        changed = std::move(happened->paths);
    }
}

}  // namespace tallow::command
