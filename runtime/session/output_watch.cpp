#include "runtime/session/output_watch.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

namespace tallow::runtime {
namespace {

using State = OutputHealth::State;

}  // namespace

void OutputWatch::tell(const std::function<void(std::string_view)>& say) {
    for (auto& [output, told] : watched_) {
        const OutputHealth health = output->health();
        const State before = std::exchange(told, health.state);
        if (health.state == before) continue;
        if (health.state == State::down || health.state == State::failed)
            say(fmt::format("{}: fails: {}{}", output->name(), health.why,
                            health.state == State::down ? "; it is tried again" : ""));
        if (health.state == State::works && before != State::opening)
            say(fmt::format("{}: works again", output->name()));
    }
}

void OutputWatch::show(std::uint64_t now, View& view) const {
    for (const Watched& watched : watched_) {
        const OutputHealth health = watched.output->health();
        OutputView out;
        out.name = watched.output->name();
        out.works = health.state == State::works || health.state == State::opening;
        out.why = health.why;
        if (health.next_try) out.next_try_ms = (std::max(*health.next_try, now) - now) / 1000000;
        out.dropped = health.dropped;
        view.outputs.push_back(std::move(out));
    }
}

}  // namespace tallow::runtime
