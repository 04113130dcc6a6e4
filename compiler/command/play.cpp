#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"
#include "compiler/command/revisions.hpp"
#include "runtime/hash.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::command {

int play(const PlayOptions& options) {
    int exit = done;
    const auto compiled = compile_or_complain(options.show, exit);
    if (!compiled) return exit;
    auto roll = std::make_unique<runtime::Roll>(make_roll(*compiled));
    if (const auto status = runtime::validate(*roll); !status.ok()) return complain(status.why());
    const std::uint64_t hash = runtime::hash(runtime::write_roll(*roll));
    auto played = runtime::played_roll(options.show, std::move(roll), hash, options.settings.script);
    if (!played.ok()) return complain(played.why());
    FindingsNews told;
    told.take(compiled->sink, compiled->sources);
    ShowRevisions revisions(options.show, hash, std::move(told));
    return runtime::play_session("tallow", options.settings, std::move(*played), &revisions);
}

}  // namespace tallow::command
