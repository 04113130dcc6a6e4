#include "runtime/session/played.hpp"

#include <fmt/format.h>

#include "runtime/files.hpp"
#include "runtime/hash.hpp"
#include "runtime/limits.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::runtime {
namespace {

Result<Played> open_frames(const std::string& path, const ScriptText& script) {
    if (!script.empty())
        return Status::failure(
            "`--go`, `--do` and `--timecode` are for a roll: a frames file plays by its own times; leave "
            "them away");
    auto reader = FramesReader::open(path);
    if (!reader.ok()) return reader.status();
    Played played;
    played.path = played.title = path;
    played.frames = std::make_unique<FramesReader>(std::move(*reader));
    played.source = frames_source(*played.frames);
    return played;
}

}  // namespace

Result<Played> played_roll(std::string path, std::unique_ptr<Roll> roll, std::uint64_t roll_hash,
                           const ScriptText& text) {
    auto script = read_script(text, *roll);
    if (!script.ok()) return script.status();
    Played played;
    played.title = roll->title.empty() ? path : roll->title;
    played.path = std::move(path);
    played.roll = std::move(roll);
    played.roll_hash = roll_hash;
    played.source = roll_source(*played.roll, std::move(*script));
    return played;
}

Result<Played> open_played(const std::string& path, const ScriptText& script) {
    const auto frames = holds_frames(path);
    if (!frames.ok()) return frames.status();
    if (*frames) return open_frames(path, script);
    const auto text = read_file(path, limits::file_bytes);
    if (!text.ok()) return text.status();
    auto roll = read_roll(*text);
    if (!roll.ok()) return Status::failure(fmt::format("cannot play `{}`: {}", path, roll.why()));
    return played_roll(path, std::make_unique<Roll>(std::move(*roll)), hash(*text), script);
}

}  // namespace tallow::runtime
