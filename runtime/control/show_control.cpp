#include "runtime/control/show_control.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <optional>
#include <string_view>

#include "runtime/bytes.hpp"
#include "runtime/cue_number.hpp"

namespace tallow::runtime {
namespace {

constexpr std::size_t head = 6;  // before the data: F0 7F device 02 format command
constexpr std::uint8_t universal = 0x7f, show_control = 0x02, lighting = 0x01;
enum Command : std::uint8_t { go = 1, stop = 2, resume = 3, all_off = 8, restore = 9 };

Status failure(std::string_view why) {
    return Status::failure(fmt::format("a MIDI show control message is not obeyed: {}", why));
}

// Digits and points alone.
bool is_number(std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789.") == std::string_view::npos;
}

// The cue's number, the list's and a path, with zero bytes between them.
Result<std::string> go_words(std::string_view data, const std::vector<std::string>& lists) {
    if (data.empty()) return std::string("go");
    const std::size_t end = std::min(data.find('\0'), data.size());
    const std::string_view number = data.substr(0, end);
    std::string_view list = data.substr(std::min(end + 1, data.size()));
    list = list.substr(0, list.find('\0'));
    const auto cue = is_number(number) ? parse_cue_number(number) : std::nullopt;
    if (!cue) return failure("its cue is no number like `5` or `12.5`");
    if (list.empty()) return fmt::format("cue {}", cue_number(*cue));
    std::size_t n = 0;
    const auto [stop, error] = std::from_chars(list.data(), list.data() + list.size(), n);
    if (error != std::errc() || stop != list.data() + list.size() || n == 0 || n > lists.size())
        return failure(
            fmt::format("its cue list is not among the show's, which count from 1 to {}", lists.size()));
    return fmt::format("cue {} {}", cue_number(*cue), lists[n - 1]);
}

}  // namespace

bool is_show_control(std::span<const std::uint8_t> m, std::uint8_t device) {
    return m.size() > head && m[0] == 0xf0 && m[1] == universal &&
           (m[2] == device || m[2] == show_control_all) && m[3] == show_control &&
           (m[4] == lighting || m[4] == show_control_all);
}

Result<std::string> show_control_words(std::span<const std::uint8_t> message,
                                       const std::vector<std::string>& lists) {
    const std::string_view data = as_text(message.subspan(head, message.size() - head - 1));
    const auto whole = [&](std::string_view words) -> Result<std::string> {
        if (data.empty()) return std::string(words);
        return failure("STOP, RESUME, ALL_OFF and RESTORE are for the whole show; send them without a cue");
    };
    switch (message[head - 1]) {
        case go:
            return go_words(data, lists);
        case stop:
            return whole("pause");
        case resume:
            return whole("resume");
        case all_off:
            return whole("blackout on");
        case restore:
            return whole("blackout off");
        default:
            return failure(
                fmt::format("command {:02X} is none of GO (01), STOP (02), RESUME (03), ALL_OFF (08) "
                            "and RESTORE (09)",
                            message[head - 1]));
    }
}

}  // namespace tallow::runtime
