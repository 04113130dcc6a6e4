#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "runtime/cue_number.hpp"
#include "runtime/engine/engine.hpp"
#include "runtime/play/source.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

std::string named(const Cue& cue) {
    return cue.label.empty() ? cue_number(cue.number)
                             : fmt::format("{} \"{}\"", cue_number(cue.number), cue.label);
}

// What the operator is told when a cue (an index) begins: it, what comes next, and on what.
std::string line_for(std::uint32_t index, const Roll& roll) {
    const auto in = std::find_if(roll.lists.begin(), roll.lists.end(),
                                 [&](const CueList& list) { return index - list.first < list.count; });
    const Cue& cue = roll.cues[index];
    std::string line = roll.lists.size() > 1 ? fmt::format("{} cue {}", in->name, named(cue))
                                             : fmt::format("cue {}", named(cue));
    if (index + 1 == in->first + in->count) return line + "; the last one";
    const Cue& next = roll.cues[index + 1];
    line += fmt::format("; next {}", named(next));
    if (!next.on.empty()) line += fmt::format(" on \"{}\"", next.on);
    if (next.timecode != no_timecode)
        line += fmt::format(" at {}", format_timecode(next.timecode, roll.timecode_rate));
    if (cue.next != Next::go) line += ", by itself";
    return line;
}

class RollSource : public Source {
  public:
    RollSource(const Roll& roll, Script script)
        : roll_(roll), engine_(roll), prompter_(roll, std::move(script)), slots_(roll.universes.size()) {}

    std::uint32_t refresh() const override { return roll_.refresh; }
    std::span<const Universe> universes() const override { return roll_.universes; }
    void prepare(std::uint64_t) override {}  // a GO may still come before the frame

    bool frame(std::uint64_t n) override {
        now_ = std::max(now_, n * ticks_per_frame);
        prompter_.prompt(engine_, now_, news_);
        engine_.advance(now_);
        overrun_ = overrun_ || engine_.overrun();
        for (const std::uint32_t cue : engine_.begun()) news_.push_back(line_for(cue, roll_));
        for (std::size_t i = 0; i < slots_.size(); ++i) slots_[i] = engine_.slots(i);
        return true;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }

    std::string obey(std::string_view text, Tick t) override {
        const auto command = parse_command(text, roll_);
        if (!command.ok()) return command.why();
        now_ = std::max(now_, t);
        prompter_.prompt(engine_, now_, news_);
        return runtime::obey(*command, engine_, roll_, now_);
    }
    std::vector<std::string> news() override { return std::exchange(news_, {}); }
    bool at_rest() const override { return prompter_.done(now_) && engine_.at_rest(now_); }
    std::string damage() const override {
        return overrun_ ? "more cues follow each other at one instant than may; give one of them a time" : "";
    }

  private:
    const Roll& roll_;
    Engine engine_;
    Prompter prompter_;
    Tick now_ = 0;
    bool overrun_ = false;
    std::vector<std::span<const std::uint8_t>> slots_;
    std::vector<std::string> news_;
};

}  // namespace

std::unique_ptr<Source> roll_source(const Roll& roll, Script script) {
    return std::make_unique<RollSource>(roll, std::move(script));
}

}  // namespace tallow::runtime
