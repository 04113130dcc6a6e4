#include "runtime/inspect.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

constexpr std::size_t gathered_bytes = std::size_t{1} << 16;

std::string csv_head() {
    std::string line = "frame,time,universe";
    for (std::uint32_t slot = 1; slot <= limits::slots; ++slot) line += fmt::format(",{}", slot);
    return line + "\n";
}

// The end of a line: its slots. Made anew only when they change, since most frames repeat most universes.
class SlotColumns {
  public:
    const std::string& of(std::span<const std::uint8_t> slots) {
        if (text_.empty() || !std::equal(slots.begin(), slots.end(), last_.begin(), last_.end())) {
            last_.assign(slots.begin(), slots.end());
            text_.clear();
            for (const std::uint8_t level : slots) fmt::format_to(std::back_inserter(text_), ",{}", level);
            text_.append(limits::slots - slots.size(), ',');
            text_ += '\n';
        }
        return text_;
    }

  private:
    Bytes last_;
    std::string text_;
};

std::string length_of(std::uint64_t frames, std::uint32_t refresh) {
    const std::string text = format_duration(frames * 1000 / refresh), exact = frame_seconds(frames, refresh);
    return text == exact + "s" ? text : fmt::format("{} ({} s)", text, exact);
}

}  // namespace

std::string universe_list(std::span<const Universe> universes) {
    std::string text;
    for (const Universe& u : universes)
        text += fmt::format("{}{} ({} slots)", text.empty() ? "" : ", ", u.number, u.slots);
    return text;
}

std::string frame_seconds(std::uint64_t frame, std::uint32_t refresh) {
    constexpr std::uint64_t billion = 1000000000;
    const std::uint64_t ninths = (frame % refresh * billion * 2 + refresh) / (2 * std::uint64_t{refresh});
    std::string text = fmt::format("{}.{:09}", frame / refresh, ninths);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

Status write_csv(FramesReader& reader, std::optional<std::uint64_t> only, const TextSink& sink) {
    const FramesInfo& info = reader.info();
    if (only && *only >= reader.frames())
        return Status::failure(
            fmt::format("there is no frame {}; the file has {}, from 0 on", *only, reader.frames()));
    std::vector<SlotColumns> columns(info.universes.size());
    std::string text = csv_head();
    for (std::uint64_t n = only.value_or(0); n < (only ? *only + 1 : reader.frames()); ++n) {
        const auto frame = reader.frame(n);
        if (frame.empty()) break;
        const std::string time = frame_seconds(n, info.refresh);
        std::size_t at = 0;
        for (std::size_t u = 0; u < info.universes.size(); ++u) {
            fmt::format_to(std::back_inserter(text), "{},{},{}", n, time, info.universes[u].number);
            text += columns[u].of(frame.subspan(at, info.universes[u].slots));
            at += info.universes[u].slots;
        }
        if (text.size() < gathered_bytes) continue;
        if (auto s = sink(text); !s.ok()) return s;
        text.clear();
    }
    if (auto s = sink(text); !s.ok()) return s;
    return reader.damage().empty() ? Status() : Status::failure(reader.damage());
}

std::string summary(FramesReader& reader) {
    for (std::uint64_t n = 0; n < reader.frames(); ++n) reader.frame(n);
    const FramesInfo& info = reader.info();
    std::string text = fmt::format(
        "frames file\nrefresh    {} Hz\nuniverses  {}\nframes     {}\nlength     {}\n", info.refresh,
        universe_list(info.universes), reader.frames(), length_of(reader.frames(), info.refresh));
    for (const CueMark& m : reader.marks())
        text += fmt::format("cue {:<8} at {} s, frame {}\n", cue_number(m.cue),
                            frame_seconds(m.frame, info.refresh), m.frame);
    if (!reader.damage().empty()) text += fmt::format("damage     {}\n", reader.damage());
    return text;
}

}  // namespace tallow::runtime
