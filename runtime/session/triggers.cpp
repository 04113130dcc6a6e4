#include "runtime/session/triggers.hpp"

#include "runtime/control/midi.hpp"
#include "runtime/control/osc.hpp"

namespace tallow::runtime {
namespace {

Status add_osc(const PlaySettings& settings, Clock& clock, Hears& hears) {
    if (settings.osc.empty()) {
        if (settings.osc_secret.empty() || !settings.tell.empty() || !settings.stand_by.empty()) return {};
        return Status::failure(
            "`--osc-secret` is for `--osc`, `--tell` and `--stand-by`; give one of them, or leave it away");
    }
    for (const std::string& text : settings.osc) {
        const auto address = parse_osc_address(text);
        if (!address.ok()) return Status::failure("--osc: " + address.why());
        auto trigger = open_osc({*address, settings.osc_secret}, clock);
        if (!trigger.ok()) return Status::failure("--osc: " + trigger.why());
        hears.triggers.push_back(std::move(*trigger));
    }
    return {};
}

Status add_midi(const PlaySettings& settings, const Played& played, Clock& clock, Hears& hears) {
    if (settings.midi.empty()) return {};
    MidiOptions options;
    for (const std::string& text : settings.midi_notes) {
        auto note = parse_midi_note(text);
        if (!note.ok()) return Status::failure("--midi-go: " + note.why());
        options.notes.push_back(std::move(*note));
    }
    if (settings.midi_channel != 0) options.channel = static_cast<std::uint8_t>(settings.midi_channel);
    options.device = static_cast<std::uint8_t>(settings.midi_device);
    if (played.roll)
        for (const CueList& list : played.roll->lists) options.lists.push_back(list.name);
    for (const std::string& port : settings.midi) {
        options.port = port;
        auto trigger = open_midi(options, clock);
        if (!trigger.ok()) return Status::failure("--midi: " + trigger.why());
        hears.triggers.push_back(std::move(*trigger));
    }
    return {};
}

}  // namespace

Result<Hears> open_triggers(const PlaySettings& settings, const Played& played, Clock& clock) {
    Hears hears;
    if (auto s = add_osc(settings, clock, hears); !s.ok()) return s;
    if (auto s = add_midi(settings, played, clock, hears); !s.ok()) return s;
    if (played.roll) hears.chase.emplace(*played.roll, settings.timecode_loss == "run");
    return hears;
}

}  // namespace tallow::runtime
