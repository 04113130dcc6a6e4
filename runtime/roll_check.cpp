#include "runtime/roll_check.hpp"

#include <fmt/format.h>
#include <initializer_list>
#include <unordered_set>

#include "runtime/limits.hpp"
#include "runtime/roll_io.hpp"
#include "runtime/wave_row.hpp"

namespace tallow::runtime {
namespace {

template <class... Args>
Status refuse(fmt::format_string<Args...> why, Args&&... args) {
    return Status::failure(fmt::format(why, std::forward<Args>(args)...));
}

constexpr int deepest_chain = 8;  // intensities above one parameter: a cell's, a fixture's, and room

bool too_long(const std::string& text) {
    return text.size() > limits::text_bytes;
}

Status check_timing(const Timing& timing, std::string_view key) {
    for (const std::uint64_t time : {timing.delay, timing.up, timing.down})
        if (time > limits::time_ms)
            return refuse("`{}` has a time of {} ms; at most {}", key, time, limits::time_ms);
    if (timing.curve > Curve::visual) return refuse("`{}` has an unknown curve", key);
    return {};
}

}  // namespace

Status RollCheck::head() {
    if (too_long(roll_.title) || too_long(roll_.by))
        return refuse("`title` or `by` is longer than {} bytes", limits::text_bytes);
    if (roll_.refresh < limits::refresh_min || roll_.refresh > limits::refresh_max)
        return refuse("`refresh` is {}; it may be {} to {}", roll_.refresh, limits::refresh_min,
                      limits::refresh_max);
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
    for (std::size_t i = 0; i < n; ++i) {
        if (wave.parameter[i] >= roll_.parameters.size() ||
            (i > 0 && wave.parameter[i] <= wave.parameter[i - 1]))
            return refuse("`waves` {} row {}: parameters grow and are there", index, i);
        const Kind kind = roll_.parameters.kind[wave.parameter[i]];
        const int lowest = kind == Kind::position ? -int{full} : 0;
        for (const std::int32_t end : {wave.low[i], wave.high[i]})
            if (end < lowest || end > int{full})
                return refuse("`waves` {} row {} has an end at {}; it may be {} to {}", index, i, end, lowest,
                              full);
    }
    return {};
}

bool RollCheck::moves(std::uint32_t wave, std::uint32_t parameter) const {
    return wave == none || (wave < roll_.waves.size() && row_of(roll_.waves[wave], parameter) != none);
}

Status RollCheck::cue(std::size_t index) {
    const Cue& cue = roll_.cues[index];
    if (roll_.cues.size() > limits::cues) return refuse("`cues` has over {} entries", limits::cues);
    if (index > 0 && cue.number <= roll_.cues[index - 1].number)
        return refuse("`cues` {}: numbers grow", index);
    for (const std::string* text : {&cue.label, &cue.on, &cue.note, &cue.page})
        if (too_long(*text))
            return refuse("`cues` {} has a text of over {} bytes", index, limits::text_bytes);
    if (cue.next > Next::next_at) return refuse("`cues` {} has an unknown `next`", index);
    // A cue is complete after a delay and a time.
    if (cue.next_ms > limits::time_ms || cue.complete_ms > 2 * limits::time_ms)
        return refuse("`cues` {}: `next_ms` may be up to {}, `complete_ms` twice that", index,
                      limits::time_ms);
    for (const Timing* timing : {&cue.intensity, &cue.colour, &cue.position, &cue.beam})
        if (auto s = check_timing(*timing, fmt::format("cues {}", index)); !s.ok()) return s;
    for (const std::uint32_t wave : cue.starts)
        if (wave >= roll_.waves.size())
            return refuse("`cues` {} starts wave {}, which is not there", index, wave);
    stated_by_.resize(roll_.parameters.size());
    for (const Set& set : cue.sets) {
        if (auto s = check_timing(set.timing, fmt::format("cues {} sets", index)); !s.ok()) return s;
        for (const Run& run : set.runs)
            if (auto s = run_of(run, index); !s.ok()) return s;
    }
    return {};
}

Status RollCheck::run_of(const Run& run, std::size_t cue) {
    const std::size_t n = roll_.parameters.size();
    if (run.level.empty() || run.parameter >= n || run.level.size() > n - run.parameter)
        return refuse("`cues` {} has a run of {} from parameter {}; there are {}", cue, run.level.size(),
                      run.parameter, n);
    if (!run.wave.empty() && run.wave.size() != run.level.size())
        return refuse("`cues` {} has a run of {} levels and {} waves", cue, run.level.size(),
                      run.wave.size());
    for (std::uint32_t i = 0; i < run.level.size(); ++i) {
        const std::uint32_t p = run.parameter + i;
        if (stated_by_[p] == cue + 1) return refuse("`cues` {} sets parameter {} twice", cue, p);
        stated_by_[p] = static_cast<std::uint32_t>(cue + 1);
        if (!run.wave.empty() && !moves(run.wave[i], p))
            return refuse("`cues` {} puts wave {} on parameter {}, which it does not move", cue, run.wave[i],
                          p);
    }
    return {};
}

Status RollCheck::picture(std::size_t index) {
    const Picture& picture = roll_.pictures[index];
    if (picture.cue != picture_every * (index + 1) - 1 || picture.cue >= roll_.cues.size())
        return refuse("`pictures` {} is of cue {}; it would be of {}, if that is there", index, picture.cue,
                      picture_every * (index + 1) - 1);
    if (picture.level.size() != roll_.parameters.size() || picture.wave.size() != roll_.parameters.size())
        return refuse("`pictures` {} has columns of {} and {}; there are {} parameters", index,
                      picture.level.size(), picture.wave.size(), roll_.parameters.size());
    for (std::uint32_t p = 0; p < picture.wave.size(); ++p)
        if (!moves(picture.wave[p], p))
            return refuse("`pictures` {} puts wave {} on parameter {}, which it does not move", index,
                          picture.wave[p], p);
    return {};
}

Status RollCheck::whole() {
    for (std::size_t i = 0; i < roll_.waves.size(); ++i)
        if (const auto before = roll_.waves[i].continues; before != none && before >= roll_.waves.size())
            return refuse("`waves` {} continues wave {}, which is not there", i, before);
    if (roll_.pictures.size() != roll_.cues.size() / picture_every)
        return refuse("`pictures` has {} entries; there is one for each {}th of {} cues",
                      roll_.pictures.size(), picture_every, roll_.cues.size());
    return {};
}

Status validate(const Roll& roll) {
    RollCheck check(roll);
    const auto each = [](std::size_t count, auto&& one) {
        Status status;
        for (std::size_t i = 0; i < count && status.ok(); ++i) status = one(i);
        return status;
    };
    if (auto s = check.head(); !s.ok()) return s;
    if (auto s = check.universes(); !s.ok()) return s;
    if (auto s = check.parameters(); !s.ok()) return s;
    if (auto s = each(roll.waveforms.size(), [&](std::size_t i) { return check.waveform(i); }); !s.ok())
        return s;
    if (auto s = each(roll.waves.size(), [&](std::size_t i) { return check.wave(i); }); !s.ok()) return s;
    if (auto s = each(roll.cues.size(), [&](std::size_t i) { return check.cue(i); }); !s.ok()) return s;
    if (auto s = each(roll.pictures.size(), [&](std::size_t i) { return check.picture(i); }); !s.ok())
        return s;
    return check.whole();
}

}  // namespace tallow::runtime
