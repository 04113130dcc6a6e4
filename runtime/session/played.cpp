#include "runtime/session/played.hpp"

#include <fmt/format.h>

#include "runtime/duration.hpp"
#include "runtime/files.hpp"
#include "runtime/hash.hpp"
#include "runtime/limits.hpp"
#include "runtime/roll/roll_io.hpp"
#include "runtime/session/file_kind.hpp"

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

// What to do with a file that is neither a roll nor frames.
std::string cure(FileKind kind, const std::string& path) {
    if (kind == FileKind::show)
        return fmt::format("play it with `tallow play {0}`, or compile it with `tallow build {0}`", path);
    if (kind == FileKind::state)
        return "play the roll that it lies beside, and add `--resume` to go on from there";
    if (kind == FileKind::capture) return "play the roll or the frames file that it was made from";
    return "give a roll, from `tallow build`, or a frames file, from `tallow render`";
}

Status not_playable(const std::string& path, std::string_view bytes, const std::string& why) {
    const FileKind kind = file_kind(path, bytes);
    if (kind == FileKind::roll) return Status::failure(fmt::format("cannot play `{}`: {}", path, why));
    return Status::failure(fmt::format("cannot play `{}`: it is {}; {}", path, name(kind), cure(kind, path)));
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
    if (!roll.ok()) return not_playable(path, *text, roll.why());
    return played_roll(path, std::make_unique<Roll>(std::move(*roll)), hash(*text), script);
}

Status check_beginning(const Played& played, std::string_view text, std::uint64_t frame) {
    if (!played.frames || frame == 0 || frame < played.frames->frames()) return {};
    const std::uint64_t ms = played.frames->frames() * 1000 / played.source->refresh();
    return Status::failure(
        fmt::format("`--from {}` is not before the end of `{}`, which lasts {}; begin earlier", text,
                    played.path, format_duration(ms)));
}

}  // namespace tallow::runtime
