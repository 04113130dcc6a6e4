#include "runtime/session/output_watch.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "runtime/duration.hpp"

namespace tallow::runtime {
namespace {

using State = OutputHealth::State;

}  // namespace

void OutputWatch::tell(std::uint64_t now, const std::function<void(std::string_view)>& say) {
    for (auto& [output, told, hung] : watched_) {
        const OutputHealth health = output->health();
        const bool hangs = hangs_for(health, now) != 0, hung_before = std::exchange(hung, hangs);
        const State before = std::exchange(told, health.state);
        if (hangs && !hung_before)
            say(fmt::format("{}: hangs; it is left alone until it comes back", output->name()));
        if (hangs || (health.state == before && !hung_before)) continue;
        if (health.state == State::failed && before == State::down) continue;  // that is no news
        if (health.state == State::down || health.state == State::failed)
            say(fmt::format("{}: fails: {}{}", output->name(), health.why,
                            health.state == State::down ? "; it is tried again" : ""));
        if (health.state == State::works && (before != State::opening || hung_before))
            say(fmt::format("{}: works again", output->name()));
    }
}

void OutputWatch::show(std::uint64_t now, View& view) const {
    for (const Watched& watched : watched_) {
        const OutputHealth health = watched.output->health();
        const std::uint64_t hangs = hangs_for(health, now);
        OutputView out;
        out.name = watched.output->name();
        out.works = hangs == 0 && (health.state == State::works || health.state == State::opening);
        out.why =
            hangs == 0 ? health.why : fmt::format("it has hung for {}", rough_duration(hangs / 1000000));
        if (health.next_try) out.next_try_ms = (std::max(*health.next_try, now) - now) / 1000000;
        out.dropped = health.dropped;
        view.outputs.push_back(std::move(out));
    }
}

}  // namespace tallow::runtime
