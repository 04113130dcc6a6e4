#include "runtime/session/file_kind.hpp"

#include <algorithm>
#include <array>

#include "runtime/bytes.hpp"
#include "runtime/frames/frames.hpp"
#include "runtime/roll/roll_io.hpp"
#include "runtime/survival/state.hpp"

namespace tallow::runtime {
namespace {

using namespace std::string_view_literals;

// Classic captures in either order of bytes, in micro- and nanoseconds, and those in blocks. From memory of
// their formats.
constexpr std::array captures{"\xd4\xc3\xb2\xa1"sv, "\xa1\xb2\xc3\xd4"sv, "\x4d\x3c\xb2\xa1"sv,
                              "\xa1\xb2\x3c\x4d"sv, "\x0a\x0d\x0d\x0a"sv};

bool is_capture(std::string_view bytes) {
    return std::any_of(captures.begin(), captures.end(),
                       [&](std::string_view begin) { return bytes.starts_with(begin); });
}

// The line that names a show, near the beginning.
bool names_show(std::string_view bytes) {
    const std::string_view head = bytes.substr(0, 4096);
    return head.starts_with("show \"") || head.find("\nshow \"") != std::string_view::npos;
}

}  // namespace

FileKind file_kind(std::string_view path, std::string_view bytes) {
    if (bytes.empty()) return FileKind::empty;
    if (is_frames_file(as_bytes(bytes))) return FileKind::frames;
    if (is_state(bytes)) return FileKind::state;
    if (is_capture(bytes)) return FileKind::capture;
    if (is_roll(bytes)) return FileKind::roll;
    return path.ends_with(".tallow") || names_show(bytes) ? FileKind::show : FileKind::other;
}

std::string_view name(FileKind kind) {
    constexpr std::array names{"an empty file"sv,
                               "a show's text"sv,
                               "a roll"sv,
                               "a frames file"sv,
                               "the state of a show that was played"sv,
                               "a capture of packets"sv,
                               "a file of another kind"sv};
    return names[static_cast<std::size_t>(kind)];
}

}  // namespace tallow::runtime
