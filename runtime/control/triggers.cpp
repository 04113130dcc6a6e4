#include "runtime/control/triggers.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <optional>

#include "runtime/control/midi.hpp"
#include "runtime/control/osc.hpp"

namespace tallow::runtime {
namespace {

Status in_option(std::string_view option, std::string_view why) {
    return Status::failure(fmt::format("in `{}`: {}", option, why));
}

Result<std::uint8_t> read_number(std::string_view option, std::string_view text, unsigned low,
                                 unsigned high) {
    unsigned n = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
    if (error != std::errc() || end != text.data() + text.size() || n < low || n > high)
        return in_option(option,
                         fmt::format("`{}` is no number from {} to {}; give one of these", text, low, high));
    return static_cast<std::uint8_t>(n);
}

Result<MidiOptions> midi_options(const TriggerText& text, const Roll& roll) {
    MidiOptions options;
    options.port = text.midi;
    for (const CueList& list : roll.lists) options.lists.push_back(list.name);
    for (const std::string& one : text.midi_go) {
        const auto note = parse_midi_note(one);
        if (!note.ok()) return in_option("--midi-go", note.why());
        const bool known = note->list.empty() || std::find(options.lists.begin(), options.lists.end(),
                                                           note->list) != options.lists.end();
        if (!known)
            return in_option("--midi-go", fmt::format("the show has no cue list `{}`; it has `{}`",
                                                      note->list, fmt::join(options.lists, "`, `")));
        options.notes.push_back(*note);
    }
    if (!text.midi_channel.empty()) {
        const auto channel = read_number("--midi-channel", text.midi_channel, 1, 16);
        if (!channel.ok()) return channel.status();
        options.channel = *channel;
    }
    if (!text.midi_device.empty()) {
        const auto device = read_number("--midi-device", text.midi_device, 0, show_control_devices - 1);
        if (!device.ok()) return device.status();
        options.device = *device;
    }
    return options;
}

// Options that do nothing without the one that they are about.
Status check_alone(const TriggerText& text) {
    if (text.osc.empty() && !text.osc_secret.empty())
        return in_option("--osc-secret",
                         "there is no `--osc` that it could guard; add one, or leave it away");
    if (!text.midi.empty()) return {};
    for (const auto& [option, given] : {std::pair("--midi-go", !text.midi_go.empty()),
                                        std::pair("--midi-channel", !text.midi_channel.empty()),
                                        std::pair("--midi-device", !text.midi_device.empty())})
        if (given)
            return in_option(option, "there is no `--midi` that it is about; add one, or leave it away");
    if (!text.timecode_lost.empty())
        return in_option(
            "--timecode-lost",
            "there is no `--midi`, so that no timecode comes that could be lost; add one, or leave it away");
    return {};
}

}  // namespace

Result<std::vector<std::unique_ptr<Trigger>>> open_triggers(const TriggerText& text, const Roll& roll,
                                                            Clock& clock) {
    if (auto s = check_alone(text); !s.ok()) return s;
    std::vector<std::unique_ptr<Trigger>> all;
    for (const std::string& one : text.osc) {
        const auto address = parse_osc_address(one);
        if (!address.ok()) return in_option("--osc", address.why());
        auto osc = open_osc({*address, text.osc_secret}, clock);
        if (!osc.ok()) return in_option("--osc", osc.why());
        all.push_back(std::move(*osc));
    }
    if (!text.midi.empty()) {
        const auto options = midi_options(text, roll);
        if (!options.ok()) return options.status();
        auto midi = open_midi(*options, clock);
        if (!midi.ok()) return in_option("--midi", midi.why());
        all.push_back(std::move(*midi));
    }
    return all;
}

Result<bool> runs_on(const TriggerText& text) {
    if (text.timecode_lost.empty() || text.timecode_lost == "run-on") return true;
    if (text.timecode_lost == "hold") return false;
    return in_option("--timecode-lost", fmt::format("`{}` is neither `run-on` nor `hold`; write one of them",
                                                    text.timecode_lost));
}

}  // namespace tallow::runtime
