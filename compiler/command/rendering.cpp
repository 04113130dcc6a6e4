#include "compiler/command/rendering.hpp"

#include <algorithm>

#include "runtime/duration.hpp"
#include "runtime/limits.hpp"
#include "runtime/play/performance.hpp"

namespace tallow::command {
namespace {

using runtime::Command;
using runtime::Status;
using runtime::Tick;

class Renderer {
  public:
    Renderer(const runtime::Roll& roll, const RenderPlan& plan, const FrameSink& sink)
        : roll_(roll), plan_(plan), sink_(sink), performance_(roll, plan.script) {
        for (const runtime::Universe& u : roll.universes) frame_.resize(frame_.size() + u.slots);
    }

    Status run(std::vector<std::string>& said) {
        for (Tick t = 0; !ended(t); t += runtime::ticks_per_frame) {
            if (t > runtime::limits::time_ms * roll_.refresh)
                return Status::failure("the show goes on for more than a week; give `--until` a time");
            performance_.advance(t);
            copy_slots();
            tell(said);
            if (auto s = sink_.frame(frame_); !s.ok()) return s;
        }
        return {};
    }

  private:
    bool ended(Tick t) const {
        if (plan_.until) return t >= *plan_.until * roll_.refresh;
        const Tick hold = plan_.hold * roll_.refresh;
        return t > hold && performance_.at_rest(t - hold - 1);
    }

    void tell(std::vector<std::string>& said) {
        const auto& main = roll_.lists.front();
        for (const runtime::Event& event : performance_.events()) {
            if (event.what == runtime::Event::What::answer) {
                if (const std::string line = runtime::describe(event, roll_); !line.empty())
                    said.push_back("at " + runtime::format_duration(event.at / roll_.refresh) + ": " + line);
            } else if (event.cue - main.first < main.count) {
                sink_.mark(roll_.cues[event.cue].number);
            }
        }
    }

    void copy_slots() {
        std::size_t at = 0;
        for (std::size_t u = 0; u < roll_.universes.size(); ++u) {
            const auto slots = performance_.engine().slots(u);
            if (performance_.engine().changed(u) || first_)
                std::copy(slots.begin(), slots.end(), frame_.begin() + static_cast<std::ptrdiff_t>(at));
            at += slots.size();
        }
        first_ = false;
    }

    const runtime::Roll& roll_;
    const RenderPlan& plan_;
    const FrameSink& sink_;
    runtime::Performance performance_;
    std::vector<std::uint8_t> frame_;
    bool first_ = true;
};

}  // namespace

bool plays_main(const runtime::Script& script, const runtime::Roll& roll) {
    const auto cues = roll.cues.begin();
    const auto& main = roll.lists.front();
    const bool by_code =
        script.timecode && std::any_of(cues + main.first, cues + main.first + main.count,
                                       [](const auto& cue) { return cue.timecode != runtime::no_timecode; });
    return by_code || std::any_of(script.commands.begin(), script.commands.end(), [](const auto& timed) {
               const Command& command = timed.command;
               using What = Command::What;
               const bool plays = command.what == What::go || command.what == What::back ||
                                  command.what == What::go_to || command.what == What::hold ||
                                  command.what == What::stop;
               return plays && (command.index == 0 || command.index == runtime::none);
           });
}

std::vector<runtime::TimedCommand> go_by_hold(const runtime::Roll& roll, std::uint64_t hold) {
    std::vector<runtime::TimedCommand> commands;
    const auto& main = roll.lists.front();
    std::uint64_t at = 0;
    bool by_itself = false;
    for (std::uint32_t i = main.first; i < main.first + main.count; ++i) {
        const runtime::Cue& cue = roll.cues[i];
        if (!by_itself) commands.push_back({at, {}});
        by_itself = cue.next != runtime::Next::go;
        at += cue.next == runtime::Next::next_at ? cue.next_ms
              : by_itself                        ? cue.complete_ms + cue.next_ms
                                                 : cue.complete_ms + hold;
    }
    return commands;
}

Status render(const runtime::Roll& roll, const RenderPlan& plan, const FrameSink& sink,
              std::vector<std::string>& said) {
    return Renderer(roll, plan, sink).run(said);
}

}  // namespace tallow::command
