#include <array>
#include <fmt/format.h>

#include "runtime/cue_number.hpp"
#include "runtime/limits.hpp"
#include "runtime/play/source.hpp"

namespace tallow::runtime {
namespace {

class FramesSource : public Source {
  public:
    explicit FramesSource(FramesReader& reader) : reader_(reader), slots_(reader.info().universes.size()) {}

    std::uint32_t refresh() const override { return reader_.info().refresh; }
    std::span<const Universe> universes() const override { return reader_.info().universes; }
    // The reader keeps what it read, so frame() finds it ready.
    void prepare(std::uint64_t n) override { reader_.frame(n); }

    bool frame(std::uint64_t n) override {
        const auto all = reader_.frame(n);
        if (all.empty()) return false;
        std::size_t at = 0;
        for (std::size_t i = 0; i < slots_.size(); ++i) {
            slots_[i] = all.subspan(at, universes()[i].slots);
            at += universes()[i].slots;
        }
        take_marks(n);
        return true;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }

    void obey(const Command&, Tick) override {}
    // An event's cue is its number here, in thousandths.
    std::span<const Event> events() const override { return std::span(events_).first(fresh_); }
    Result<Command> read_command(std::string_view) const override {
        return Status::failure(
            "a frames file plays by its own times; `quit` ends it, `--from` begins elsewhere");
    }
    std::string describe(const Event& event) const override {
        return fmt::format("cue {}", cue_number(event.cue));
    }
    bool at_rest() const override { return false; }  // it ends with its last frame
    std::string damage() const override { return reader_.damage(); }

  private:
    // The cues that are marked up to frame n, the first few of them if they are many.
    void take_marks(std::uint64_t n) {
        const auto& marks = reader_.marks();
        for (fresh_ = 0; said_ < marks.size() && marks[said_].frame <= n; ++said_)
            if (fresh_ < events_.size())
                events_[fresh_++] = {Event::What::cue, n * ticks_per_frame, marks[said_].cue, {}, {}};
    }

    FramesReader& reader_;
    std::vector<std::span<const std::uint8_t>> slots_;
    std::array<Event, limits::cues_at_once> events_;
    std::size_t fresh_ = 0;  // of these
    std::size_t said_ = 0;   // marks
};

}  // namespace

std::unique_ptr<Source> frames_source(FramesReader& reader) {
    return std::make_unique<FramesSource>(reader);
}

}  // namespace tallow::runtime
