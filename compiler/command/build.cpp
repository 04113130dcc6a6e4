#include <filesystem>
#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"
#include "compiler/text/counted.hpp"
#include "runtime/files.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::command {

int build(const BuildOptions& options) {
    int exit = done;
    const auto compiled = compile_or_complain(options.show, exit);
    if (!compiled) return exit;
    const std::string path = options.output.empty()
                                 ? std::filesystem::path(options.show).replace_extension(".roll").string()
                                 : options.output;
    if (const auto status = runtime::may_write(path, options.show); !status.ok())
        return complain(status.why());
    const runtime::Roll roll = make_roll(*compiled);
    if (const auto status = runtime::validate(roll); !status.ok()) return complain(status.why());
    const std::string text = runtime::write_roll(roll);
    if (const auto status = runtime::write_file(path, text); !status.ok()) return complain(status.why());
    if (path != "-")
        fmt::print("{}: {}, {}, {} bytes\n", path, text::counted(roll.cues.size(), "cue"),
                   text::counted(roll.parameters.size(), "parameter"), text.size());
    return done;
}

}  // namespace tallow::command
