#include "compiler/check/fade_steps.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <utility>

#include "compiler/track/dimming.hpp"
#include "compiler/track/halving.hpp"

namespace tallow::check {
namespace {

using track::last_below;

// A step is seen from about one unit of L* on, where it stands for a quarter of a second (from memory, not
// re-read).
constexpr double seen_lightness = 1, seen_seconds = .25;

double lightness(double light) {
    return 100 * last_below(light, [](double v) { return track::light_at(show::Law::lightness, {}, v); });
}

// When a fade has gone the share c of its way, in shares of its time.
double when(runtime::Curve curve, bool rising, double c) {
    switch (curve) {
        case runtime::Curve::visual:
            return rising ? std::sqrt(c) : 1 - std::sqrt(1 - c);
        case runtime::Curve::ease:
            return last_below(c, [](double p) { return p * p * (3 - 2 * p); });
        default:
            return c;
    }
}

}  // namespace

void FadeSteps::begin_list() {
    before_.resize(show_.parameters.size());
    for (Index p = 0; p < before_.size(); ++p) before_[p] = show_.definition(p).home;
}

// Null where the light is not known, or its slots are finer than 8 bits.
FadeSteps::Kind* FadeSteps::kind_of(Index parameter) {
    const show::Fixture& fixture = show_.fixtures[show_.parameters[parameter].fixture];
    if (fixture.response == show::none) return nullptr;
    const show::Response& response = show_.responses[fixture.response];
    if (response.law == show::Law::unsaid || response.preheat > 0) return nullptr;
    const show::ParameterDef& def = show_.definition(parameter);
    const auto& parameters = show_.mode_of(fixture).parameters;
    const bool fine = def.coarse != 0 ? def.fine != 0
                                      : std::any_of(parameters.begin(), parameters.end(), [](const auto& p) {
                                            return p.kind == show::Kind::colour && p.fine != 0;
                                        });
    if (fine) return nullptr;
    const auto [at, fresh] = kinds_.try_emplace(fixture.response);
    if (fresh) at->second.steps = steps_of(show_.law, response);
    return &at->second;
}

std::vector<FadeSteps::Step> FadeSteps::steps_of(show::Law law, const show::Response& response) {
    const track::Dimming dimming(law, response);
    const double least = static_cast<double>(response.floor) * 1e-8;
    const auto light = [&](int slot) {
        return track::light_at(response.law, response.points,
                               std::max(0.0, (slot / 255.0 - least) / (1 - least)));
    };
    const auto reached = [&](double slot) {
        return last_below(slot / 255, [&](double v) { return dimming.slot(dimming.light(v)); });
    };
    std::vector<Step> steps;
    for (int slot = static_cast<int>(255 * least); slot < 255; ++slot) {
        const double step = lightness(light(slot + 1)) - lightness(light(slot));
        if (step >= seen_lightness) steps.push_back({reached(slot - .5), reached(slot + .5), step});
    }
    return steps;
}

FadeSteps::Seen FadeSteps::coarsest(const std::vector<Step>& steps, double from, double to,
                                    const runtime::Timing& timing) {
    const bool rising = to > from;
    const double seconds = static_cast<double>(rising ? timing.up : timing.down) / 1000;
    Seen seen;
    for (const Step& step : steps) {
        const double low = std::max(step.from, std::min(from, to));
        const double high = std::min(step.to, std::max(from, to));
        if (high <= low || step.lightness <= seen.lightness) continue;
        const double a = (low - from) / (to - from), b = (high - from) / (to - from);
        const double stands =
            seconds * std::fabs(when(timing.curve, rising, b) - when(timing.curve, rising, a));
        if (stands >= seen_seconds) seen = {stands, step.lightness};
    }
    return seen;
}

void FadeSteps::look(const track::Tracker& tracker) {
    if (show_.responses.empty()) return;
    for (const track::Change& change : tracker.changes()) {
        if (change.kind != show::Kind::intensity) continue;
        const track::Standing& standing = tracker.at(change.parameter);
        const runtime::Level from = std::exchange(before_[change.parameter], standing.level);
        if (from == standing.level || change.jumps || standing.wave != show::none) continue;
        Kind* kind = kind_of(change.parameter);
        if (kind == nullptr) continue;
        const Seen seen =
            coarsest(kind->steps, from / 65535.0, standing.level / 65535.0, tracker.timings()[change.timing]);
        if (seen.seconds == 0) continue;
        kind->cues += std::exchange(kind->last, tracker.index()) != tracker.index();
        if (std::pair(seen.lightness, seen.seconds) <= std::pair(kind->worst.lightness, kind->worst.seconds))
            continue;
        kind->worst = seen;
        kind->cue = tracker.index();
        kind->parameter = change.parameter;
    }
}

void FadeSteps::report(source::Sink& sink) const {
    for (const auto& [response, kind] : kinds_) {
        if (kind.cues == 0) continue;
        const Index fixture = show_.parameters[kind.parameter].fixture;
        sink.report(source::Finding::visible_steps, show_.cues[kind.cue].span,
                    fmt::format("`{}` would step visibly in this fade: its 8-bit slot stands at a value for "
                                "{:.1f} s, and the next is {:.1f} L* away{}",
                                show::fixture_text(show_.fixtures[fixture]), kind.worst.seconds,
                                kind.worst.lightness,
                                kind.cues == 1   ? ""
                                : kind.cues == 2 ? "; so it is in another cue"
                                                 : fmt::format("; so it is in {} more cues", kind.cues - 1)))
            .with_hint("a 16-bit mode has finer steps; or fade faster at the dark end, or not down to it");
    }
}

}  // namespace tallow::check
