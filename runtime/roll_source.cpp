#include <algorithm>
#include <fmt/format.h>

#include "runtime/cue_number.hpp"
#include "runtime/engine.hpp"
#include "runtime/source.hpp"

namespace tallow::runtime {
namespace {

std::string named(const Cue& cue) {
    return cue.label.empty() ? cue_number(cue.number)
                             : fmt::format("{} \"{}\"", cue_number(cue.number), cue.label);
}

class RollSource : public Source {
  public:
    RollSource(const Roll& roll, std::vector<std::uint64_t> go_ms)
        : roll_(roll), engine_(roll), go_ms_(std::move(go_ms)), slots_(roll.universes.size()) {
        std::sort(go_ms_.begin(), go_ms_.end());
    }

    std::uint32_t refresh() const override { return roll_.refresh; }
    std::span<const Universe> universes() const override { return roll_.universes; }
    void prepare(std::uint64_t) override {}  // a GO may still come before the frame

    bool frame(std::uint64_t n) override {
        const Tick t = n * ticks_per_frame;
        for (; given_ < go_ms_.size() && go_ms_[given_] * roll_.refresh <= t; ++given_)
            obey(Command::go, go_ms_[given_] * roll_.refresh);
        advance(t);
        for (std::size_t i = 0; i < slots_.size(); ++i) slots_[i] = engine_.slots(i);
        return true;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }

    std::string obey(Command command, Tick t) override;
    std::vector<std::string> news() override { return std::exchange(news_, {}); }
    bool at_rest() const override {
        return given_ == go_ms_.size() && !engine_.next_start() && engine_.complete_at() <= now_;
    }
    std::string damage() const override {
        return overrun_ ? "more cues follow each other at one instant than may; give one of them a time" : "";
    }

  private:
    // What is due before t starts at its own time.
    void advance(Tick t) {
        now_ = std::max(now_, t);
        engine_.advance(now_);
        overrun_ = overrun_ || engine_.overrun();
        const auto current = engine_.current();
        for (std::uint32_t i = said_; current && i <= *current; ++i) say(i);
    }
    void say(std::uint32_t cue);

    const Roll& roll_;
    Engine engine_;
    std::vector<std::uint64_t> go_ms_;
    std::size_t given_ = 0;  // of these
    Tick now_ = 0;
    bool overrun_ = false;
    std::vector<std::span<const std::uint8_t>> slots_;
    std::uint32_t said_ = 0;  // the cue after the one that was said last
    std::vector<std::string> news_;
};

std::string RollSource::obey(Command command, Tick t) {
    advance(t);
    switch (command) {
        case Command::go:
            if (!engine_.go(now_)) return "that was the last cue; `back` or `quit`";
            advance(now_);
            return "";
        case Command::back:
            if (!engine_.back(now_)) return "this is the first cue";
            if (const auto current = engine_.current()) say(*current);
            return "";
        case Command::stop:
            break;
    }
    engine_.hold();
    return "stopped: nothing starts by itself; `go` goes on";
}

void RollSource::say(std::uint32_t cue) {
    std::string line = fmt::format("cue {}", named(roll_.cues[cue]));
    said_ = cue + 1;
    if (said_ == roll_.cues.size()) {
        line += "; the last one";
    } else {
        const Cue& next = roll_.cues[said_];
        line += fmt::format("; next {}", named(next));
        if (!next.on.empty()) line += fmt::format(" on \"{}\"", next.on);
        if (roll_.cues[cue].next != Next::go) line += ", by itself";
    }
    news_.push_back(std::move(line));
}

}  // namespace

std::unique_ptr<Source> roll_source(const Roll& roll, std::vector<std::uint64_t> go_ms) {
    return std::make_unique<RollSource>(roll, std::move(go_ms));
}

}  // namespace tallow::runtime
