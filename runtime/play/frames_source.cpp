#include <fmt/format.h>

#include "runtime/cue_number.hpp"
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
        played_ = n + 1;
        return true;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }

    std::string obey(std::string_view, Tick) override {
        return "a frames file plays by its own times; `quit` ends it, `--from` begins elsewhere";
    }
    std::vector<std::string> news() override {
        std::vector<std::string> lines;
        const auto& marks = reader_.marks();
        for (; said_ < marks.size() && marks[said_].frame < played_; ++said_)
            lines.push_back(fmt::format("cue {}", cue_number(marks[said_].cue)));
        return lines;
    }
    bool at_rest() const override { return false; }  // it ends with its last frame
    std::string damage() const override { return reader_.damage(); }

  private:
    FramesReader& reader_;
    std::vector<std::span<const std::uint8_t>> slots_;
    std::uint64_t played_ = 0;  // all frames before this one have their marks said
    std::size_t said_ = 0;      // marks
};

}  // namespace

std::unique_ptr<Source> frames_source(FramesReader& reader) {
    return std::make_unique<FramesSource>(reader);
}

}  // namespace tallow::runtime
