#include "compiler/command/rendering.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/engine.hpp"
#include "runtime/limits.hpp"

namespace tallow::command {
namespace {

using runtime::Status;
using runtime::Tick;

class Renderer {
  public:
    Renderer(const runtime::Roll& roll, const RenderPlan& plan, const FrameSink& sink)
        : roll_(roll), plan_(plan), sink_(sink), engine_(roll) {
        for (const runtime::Universe& u : roll.universes) frame_.resize(frame_.size() + u.slots);
        for (const std::uint64_t ms : plan.go) go_.push_back(ms * roll.refresh);
    }

    Status run() {
        for (Tick t = 0; !ended(t); t += runtime::ticks_per_frame) {
            if (t > runtime::limits::time_ms * roll_.refresh)
                return Status::failure("the show goes on for more than a week; give `--until` a time");
            start_cues(t);
            engine_.advance(t);
            copy_slots();
            mark_cues();
            if (auto s = sink_.frame(frame_); !s.ok()) return s;
        }
        return {};
    }

  private:
    // Every GO that is due by t, each at its exact time.
    void start_cues(Tick t) {
        if (!plan_.by_hold) {
            for (; next_go_ < go_.size() && go_[next_go_] <= t; ++next_go_) engine_.go(go_[next_go_]);
            return;
        }
        for (;;) {
            if (!engine_.next()) return;
            const Tick due = engine_.current() ? engine_.complete_at() + plan_.hold * roll_.refresh : 0;
            const auto automatic = engine_.next_start();
            if (automatic) {
                if (*automatic > t) return;
                engine_.advance(*automatic);
            } else {
                if (due > t) return;
                engine_.go(due);
            }
        }
    }

    bool ended(Tick t) const {
        if (plan_.until) return t >= *plan_.until * roll_.refresh;
        if (engine_.next_start()) return false;
        const bool more = plan_.by_hold ? engine_.next().has_value() : next_go_ < go_.size();
        return !more && t > engine_.complete_at() + plan_.hold * roll_.refresh;
    }

    void mark_cues() {
        const auto current = engine_.current();
        if (!current) return;
        const std::uint32_t from = marked_ ? *marked_ + 1 : 0;
        for (std::uint32_t cue = from; cue <= *current; ++cue) sink_.mark(roll_.cues[cue].number);
        marked_ = current;
    }

    void copy_slots() {
        std::size_t at = 0;
        for (std::size_t u = 0; u < roll_.universes.size(); ++u) {
            const auto slots = engine_.slots(u);
            if (engine_.changed(u) || first_)
                std::copy(slots.begin(), slots.end(), frame_.begin() + static_cast<std::ptrdiff_t>(at));
            at += slots.size();
        }
        first_ = false;
    }

    const runtime::Roll& roll_;
    const RenderPlan& plan_;
    const FrameSink& sink_;
    runtime::Engine engine_;
    std::vector<std::uint8_t> frame_;
    std::vector<Tick> go_;
    std::size_t next_go_ = 0;
    std::optional<std::uint32_t> marked_;
    bool first_ = true;
};

}  // namespace

Status render(const runtime::Roll& roll, const RenderPlan& plan, const FrameSink& sink) {
    return Renderer(roll, plan, sink).run();
}

}  // namespace tallow::command
