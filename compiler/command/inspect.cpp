#include "runtime/inspect.hpp"

#include <cstdio>
#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"
#include "runtime/duration.hpp"
#include "runtime/files.hpp"
#include "runtime/limits.hpp"
#include "runtime/roll/roll_io.hpp"
#include "runtime/session/file_kind.hpp"

namespace tallow::command {
namespace {

runtime::Status print(std::string_view text) {
    if (std::fwrite(text.data(), 1, text.size(), stdout) == text.size()) return {};
    return runtime::Status::failure("cannot write to standard output");
}

int inspect_roll(const InspectOptions& options) {
    const auto text = runtime::read_file(options.file, runtime::limits::file_bytes);
    if (!text.ok()) return complain(text.why());
    const auto roll = runtime::read_roll(*text);
    if (!roll.ok()) {
        const runtime::FileKind kind = runtime::file_kind(options.file, *text);
        return complain(
            kind == runtime::FileKind::roll
                ? fmt::format("cannot read `{}`: {}", options.file, roll.why())
                : fmt::format("`{}` is {}, and neither a roll nor a frames file; give one of these",
                              options.file, runtime::name(kind)));
    }
    if (options.csv || !options.at.empty())
        return complain("a roll has no frames to list; render the show to a frames file first");
    const auto status = print(runtime::summary(*roll));
    return status.ok() ? done : complain(status.why());
}

int inspect_frames(const InspectOptions& options) {
    auto reader = runtime::FramesReader::open(options.file);
    if (!reader.ok()) return complain(reader.why());
    std::optional<std::uint64_t> only;
    if (!options.at.empty()) {
        const auto at = runtime::parse_duration(options.at);
        if (!at.ok()) return complain("--at: " + at.why());
        only = *at * reader->info().refresh / 1000;
        if (*only >= reader->frames())
            return complain(fmt::format("--at: the file ends before {}; give an earlier time", options.at));
    }
    const bool table = options.csv || only;
    const auto status = table ? runtime::write_csv(*reader, only, print) : print(runtime::summary(*reader));
    return status.ok() ? done : complain(status.why());
}

}  // namespace

int inspect(const InspectOptions& options) {
    const auto frames = runtime::holds_frames(options.file);
    if (!frames.ok()) return complain(frames.why());
    return *frames ? inspect_frames(options) : inspect_roll(options);
}

}  // namespace tallow::command
