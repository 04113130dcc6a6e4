#include <algorithm>
#include <array>

#include "runtime/limits.hpp"
#include "runtime/play/performance.hpp"
#include "runtime/play/source.hpp"

namespace tallow::runtime {
namespace {

constexpr std::array<std::uint8_t, limits::slots> nothing{};

class RollSource : public Source {
  public:
    RollSource(std::unique_ptr<Performance> performance, std::span<const Universe> universes);
    RollSource(const Roll& roll, std::span<const Universe> universes, Handover handover)
        : RollSource(std::make_unique<Performance>(roll, std::move(handover.script)), universes) {
        performance_->restore(handover.after, handover.paused, TapeUse::followed, handover.at);
        handover_ = std::move(handover);
        scratch_ = handover_.before;
    }

    std::uint32_t refresh() const override { return performance_->roll().refresh; }
    std::span<const Universe> universes() const override { return universes_; }
    void prepare(std::uint64_t) override {}  // a GO may still come before the frame

    bool frame(std::uint64_t n) override {
        now_ = n * ticks_per_frame;
        performance_->advance(now_);
        for (std::size_t i = 0; i < slots_.size(); ++i)
            if (index_[i] != none)
                slots_[i] = performance_->engine().slots(index_[i]).first(slots_[i].size());
        return true;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }
    void obey(const Command& command, Tick t) override { performance_->obey(command, t); }
    std::span<const Event> events() const override { return performance_->events(); }
    Performance* performance() override { return performance_.get(); }
    bool take_over(Source& before, Tick t) override;
    bool at_rest() const override { return performance_->at_rest(now_); }
    Result<Command> read_command(std::string_view words) const override {
        return parse_command(words, performance_->roll());
    }
    std::string describe(const Event& event) const override {
        return runtime::describe(event, performance_->roll());
    }
    std::string damage() const override {
        return performance_->overrun()
                   ? "more cues follow each other at one instant than may; give one of them a time"
                   : "";
    }

  private:
    const std::unique_ptr<Performance> performance_;
    Tick now_ = 0;
    std::vector<Universe> universes_;
    std::vector<std::uint32_t> index_;  // by universe: which one of the roll it is, or none
    std::vector<std::span<const std::uint8_t>> slots_;
    Handover handover_;
    Standing scratch_;
};

RollSource::RollSource(std::unique_ptr<Performance> performance, std::span<const Universe> universes)
    : performance_(std::move(performance)), universes_(universes.begin(), universes.end()) {
    const Roll& roll = performance_->roll();
    for (Universe& universe : universes_) {
        const auto own = std::find_if(roll.universes.begin(), roll.universes.end(),
                                      [&](const Universe& u) { return u.number == universe.number; });
        const bool known = own != roll.universes.end();
        index_.push_back(known ? static_cast<std::uint32_t>(own - roll.universes.begin()) : none);
        const std::size_t slots = known ? std::min(own->slots, universe.slots) : universe.slots;
        slots_.push_back(std::span(nothing).first(slots));
    }
}

bool RollSource::take_over(Source& before, Tick t) {
    Performance* const old = before.performance();
    if (!old) return false;
    old->advance(t);
    old->stand(scratch_);
    const bool told = old->events().empty();  // what has happened there is for its own roll to describe
    if (!told || !same_but_for_time(scratch_, handover_.before) || old->paused() != handover_.paused)
        return false;
    performance_->advance(t);
    performance_->dissolve(*old, handover_.place, t, handover_ms);
    return true;
}

}  // namespace

std::unique_ptr<Source> roll_source(const Roll& roll, Script script) {
    return roll_source(std::make_unique<Performance>(roll, std::move(script)));
}

std::unique_ptr<Source> roll_source(std::unique_ptr<Performance> performance) {
    const std::span<const Universe> universes = performance->roll().universes;
    return std::make_unique<RollSource>(std::move(performance), universes);
}

std::unique_ptr<Source> roll_source(const Roll& roll, std::span<const Universe> universes,
                                    Handover handover) {
    return std::make_unique<RollSource>(roll, universes, std::move(handover));
}

}  // namespace tallow::runtime
