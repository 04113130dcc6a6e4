#include "runtime/control/midi.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>

#include "runtime/control/foreign_text.hpp"

namespace tallow::runtime {

Result<MidiNote> parse_midi_note(std::string_view text) {
    const std::size_t end = std::min(text.find('='), text.size());
    MidiNote note;
    const auto [stop, error] = std::from_chars(text.data(), text.data() + end, note.number);
    note.list = text.substr(std::min(end + 1, text.size()));
    const bool listed = end == text.size() || is_plain_word(note.list);
    if (error != std::errc() || stop != text.data() + end || note.number > 127 || !listed)
        return Status::failure(fmt::format(
            "`{}` is no note; write its number, 0 to 127, alone for the main cue list, or with the "
            "list that it starts, like `60=effects`",
            text));
    return note;
}

void MidiReader::read(std::uint64_t ns, std::span<const std::uint8_t> bytes, std::string_view from,
                      Listener& listener) {
    for (const std::uint8_t byte : bytes)
        if (const auto m = stream_.take(byte); !m.empty()) message(ns, m, from, listener);
}

void MidiReader::message(std::uint64_t ns, std::span<const std::uint8_t> m, std::string_view from,
                         Listener& listener) {
    if ((m[0] & 0xf0) == 0x90) return note(ns, m, from, listener);
    if (const auto frame = mtc_.take(ns, m)) return listener.timecode(ns, *frame);
    if (!is_show_control(m, options_.device)) return;
    const auto words = show_control_words(m, options_.lists);
    if (words.ok())
        listener.words(ns, from, *words);
    else
        complaints_.tell(ns, listener, from, words.why());
}

// A note that begins; with no velocity it ends.
void MidiReader::note(std::uint64_t ns, std::span<const std::uint8_t> m, std::string_view from,
                      Listener& listener) {
    if (m[2] == 0 || (options_.channel && *options_.channel != (m[0] & 0xf) + 1)) return;
    for (const MidiNote& note : options_.notes)
        if (note.number == m[1]) listener.words(ns, from, note.list.empty() ? "go" : "go " + note.list);
}

}  // namespace tallow::runtime
