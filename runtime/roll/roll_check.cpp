#include "runtime/roll/roll_check.hpp"

#include <initializer_list>
#include <unordered_set>

#include "runtime/limits.hpp"
#include "runtime/refuse.hpp"

namespace tallow::runtime {
namespace {

constexpr int deepest_chain = 8;  // intensities above one parameter: a cell's, a fixture's, and room

}  // namespace

Status RollCheck::head() {
    if (too_long(roll_.title) || too_long(roll_.by))
        return refuse("`title` or `by` is longer than {} bytes", limits::text_bytes);
    if (roll_.refresh < limits::refresh_min || roll_.refresh > limits::refresh_max)
        return refuse("`refresh` is {}; it may be {} to {}", roll_.refresh, limits::refresh_min,
                      limits::refresh_max);
    if (roll_.timecode_rate > TimecodeRate::f30) return refuse("`timecode_rate` is unknown");
    return {};
}

Status RollCheck::universes() {
    if (roll_.universes.size() > limits::universes)
        return refuse("`universes` has {} entries; at most {}", roll_.universes.size(), limits::universes);
    std::uint32_t before = 0;
    for (const Universe& u : roll_.universes) {
        if (u.number <= before || u.number > limits::universe_max)
            return refuse("`universes` has number {} after {}; numbers grow, from {} to {}", u.number, before,
                          limits::universe_min, limits::universe_max);
        if (u.slots < 1 || u.slots > limits::slots)
            return refuse("`universes` gives universe {} {} slots; it may have 1 to {}", u.number, u.slots,
                          limits::slots);
        before = u.number;
    }
    return {};
}

Status RollCheck::parameters() {
    const Parameters& rig = roll_.parameters;
    const std::size_t n = rig.size();
    if (n > limits::parameters)
        return refuse("`parameters` has {} entries; at most {}", n, limits::parameters);
    for (const std::size_t size : {rig.universe.size(), rig.coarse.size(), rig.fine.size(), rig.home.size(),
                                   rig.kind.size(), rig.under.size()})
        if (size != n)
            return refuse("`parameters` has columns of {} and of {} entries; all are of one length", n, size);
    taken_.assign(roll_.universes.size() * limits::slots, false);
    lands_.assign(n, none);
    std::unordered_set<std::string_view> keys;
    for (std::uint32_t p = 0; p < n; ++p) {
        if (rig.key[p].empty() || too_long(rig.key[p]) || !keys.insert(rig.key[p]).second)
            return refuse("`parameters.key` {} is empty, too long or there twice", p);
        if (rig.kind[p] > Kind::beam) return refuse("`parameters.kind` {} is unknown", p);
        if (auto s = slots_of(p); !s.ok()) return s;
    }
    for (std::uint32_t p = 0; p < n; ++p)
        if (auto s = above(p); !s.ok()) return s;
    return {};
}

Status RollCheck::slots_of(std::uint32_t p) {
    const Parameters& rig = roll_.parameters;
    const std::uint32_t universe = rig.universe[p];
    if (universe == none) {
        if (rig.kind[p] != Kind::intensity || rig.coarse[p] != 0 || rig.fine[p] != 0)
            return refuse("`parameters` {} has no universe; only an intensity without slots may", p);
        return {};
    }
    if (universe >= roll_.universes.size())
        return refuse("`parameters.universe` {} is {}, which is not there", p, universe);
    const auto take = [&](std::uint32_t slot) {
        if (slot < 1 || slot > roll_.universes[universe].slots) return false;
        auto at = taken_[std::size_t{universe} * limits::slots + slot - 1];
        return at ? false : (at = true);
    };
    if (!take(rig.coarse[p]))
        return refuse("`parameters.coarse` {} is slot {}, which is not there or taken", p, rig.coarse[p]);
    if (rig.fine[p] != 0 && !take(rig.fine[p]))
        return refuse("`parameters.fine` {} is slot {}, which is not there or taken", p, rig.fine[p]);
    return {};
}

// What stands above a parameter: intensities in a short chain that ends. One without slots has what
// stands under it in one universe, stands before the colours that it scales, and is under no other such.
Status RollCheck::above(std::uint32_t p) {
    const Parameters& rig = roll_.parameters;
    const std::uint32_t first = rig.under[p];
    int steps = 0;
    for (std::uint32_t q = first; q != none; q = rig.under[q])
        if (q >= rig.size() || rig.kind[q] != Kind::intensity || ++steps > deepest_chain)
            return refuse(
                "`parameters.under` {} leads to {}, which is no intensity, or the chain has over {}", p, q,
                deepest_chain);
    if (first == none || rig.universe[first] != none) return {};
    if (rig.universe[p] == none || (rig.kind[p] == Kind::colour && first >= p))
        return refuse(
            "`parameters.under` {} is {}, which has no slots: it scales only slots, and stands before the "
            "colours that it scales",
            p, first);
    std::uint32_t& lands = lands_[first];
    if (lands == none) lands = rig.universe[p];
    if (lands != rig.universe[p])
        return refuse("`parameters.under` {}: intensity {} scales slots of two universes", p, first);
    return {};
}

Status RollCheck::waveform(std::size_t index) {
    const Waveform& form = roll_.waveforms[index];
    const auto& segments = form.segments;
    if (form.shape > Waveform::Shape::flicker) return refuse("`waveforms` {} has an unknown shape", index);
    if (segments.empty() != (form.shape != Waveform::Shape::segments) ||
        segments.size() > limits::wave_points)
        return refuse("`waveforms` {} has {} segments; a shape of segments has 1 to {}, others none", index,
                      segments.size(), limits::wave_points);
    for (std::size_t i = 0; i < segments.size(); ++i)
        if (i == 0 ? segments[i].start != 0 : segments[i].start <= segments[i - 1].start)
            return refuse("`waveforms` {} segment {}: starts grow from 0", index, i);
    return {};
}

Status RollCheck::wave(std::size_t index) {
    const Wave& wave = roll_.waves[index];
    const std::size_t n = wave.parameter.size();
    if (roll_.waves.size() > limits::waves) return refuse("`waves` has over {} entries", limits::waves);
    if (wave.waveform >= roll_.waveforms.size())
        return refuse("`waves` {} has waveform {}, which is not there", index, wave.waveform);
    if (wave.period < 1 || wave.period > limits::time_ms)
        return refuse("`waves` {} has a period of {} ms; it may be 1 to {}", index, wave.period,
                      limits::time_ms);
    for (const std::size_t size : {wave.low.size(), wave.high.size(), wave.offset.size(), wave.member.size()})
        if (size != n)
            return refuse("`waves` {} has columns of {} and of {} entries; all are of one length", index, n,
                          size);
    wave_rows_ += n;
    if (wave_rows_ > limits::wave_rows) return refuse("`waves` has over {} rows in all", limits::wave_rows);
    if (auto s = rows({"waves", index}, wave.parameter); !s.ok()) return s;
    for (std::size_t i = 0; i < n; ++i) {
        const Kind kind = roll_.parameters.kind[wave.parameter[i]];
        const int lowest = kind == Kind::position ? -int{full} : 0;
        for (const std::int32_t end : {wave.low[i], wave.high[i]})
            if (end < lowest || end > int{full})
                return refuse("`waves` {} row {} has an end at {}; it may be {} to {}", index, i, end, lowest,
                              full);
    }
    return {};
}

Status RollCheck::rows(Part part, const std::vector<std::uint32_t>& parameters) const {
    for (std::size_t i = 0; i < parameters.size(); ++i)
        if (parameters[i] >= roll_.parameters.size() || (i > 0 && parameters[i] <= parameters[i - 1]))
            return refuse("`{}` {} row {}: parameters grow and are there", part.key, part.index, i);
    return {};
}

Status RollCheck::chase(std::size_t index) {
    const Chase& chase = roll_.chases[index];
    const std::size_t steps = chase.steps.size(), n = chase.parameter.size();
    if (roll_.chases.size() > limits::chases) return refuse("`chases` has over {} entries", limits::chases);
    if (steps < 1 || steps > limits::chase_steps)
        return refuse("`chases` {} has {} steps; it may have 1 to {}", index, steps, limits::chase_steps);
    for (const Chase::Step& step : chase.steps)
        if (step.ms < 1 || step.ms > limits::time_ms || step.fade_ms > step.ms)
            return refuse(
                "`chases` {} has a step of {} ms with a fade of {}; it may take 1 to {}, and its "
                "fade no longer",
                index, step.ms, step.fade_ms, limits::time_ms);
    if (auto s = rows({"chases", index}, chase.parameter); !s.ok()) return s;
    if (chase.jumps.size() != n || chase.level.size() != steps * n)
        return refuse("`chases` {} has {} levels and {} jumps for {} steps of {} parameters", index,
                      chase.level.size(), chase.jumps.size(), steps, n);
    chase_levels_ += chase.level.size();
    if (chase_levels_ > limits::chase_levels)
        return refuse("`chases` has over {} levels in all", limits::chase_levels);
    return {};
}

}  // namespace tallow::runtime
