// The parts stand in the order of FORMATS.md, from the innermost out.
#include "runtime/roll/roll_parts.hpp"

#include <fmt/format.h>

#include "runtime/limits.hpp"
#include "runtime/roll/roll_format.hpp"

namespace tallow::runtime {
namespace {

constexpr Range any_u32{0, none - 1}, index_or_none{-1, none - 1}, level_range{0, full},
    slot_range{0, limits::slots};
constexpr Range any_u64{0, ~std::uint64_t{0}};

Place timing(Timing& out) {
    Place element;
    element.integer = [&out](Wide v, std::size_t index) {
        if (index == 3) {
            out.curve = static_cast<Curve>(v);
            return check(v, {0, static_cast<unsigned>(Curve::visual)});
        }
        (index == 0 ? out.delay : index == 1 ? out.up : out.down) = static_cast<std::uint64_t>(v);
        return check(v, {0, limits::time_ms});
    };
    Place place = list(std::move(element), 4);
    place.closed = [](std::size_t count) {
        return count == 4 ? Status{} : Status::failure("a timing has four numbers: delay, up, down, curve");
    };
    return place;
}

// `[parameter, count, level…, parameter, count, level…]`
class RunList {
  public:
    Status take(std::vector<Run>& runs, Wide v) {
        if (levels_ > 0) {
            --levels_;
            runs.back().level.push_back(static_cast<Level>(v));
            return check(v, level_range);
        }
        counting_ = !counting_;
        if (counting_) {
            runs.push_back({static_cast<std::uint32_t>(v), {}, {}});
            return check(v, any_u32);
        }
        levels_ = static_cast<std::uint64_t>(v);
        return check(v, {1, limits::parameters});
    }
    Status close() const {
        return levels_ > 0 || counting_ ? Status::failure("the last run is not whole") : Status{};
    }

  private:
    bool counting_ = false;     // a count comes next
    std::uint64_t levels_ = 0;  // that are still to come
};

// `[run, wave…, run, wave…]`: as many waves as that run has levels.
class RunWaveList {
  public:
    Status take(std::vector<Run>& runs, Wide v) {
        if (waves_ > 0) {
            --waves_;
            runs[run_].wave.push_back(static_cast<std::uint32_t>(v));
            return check(v, index_or_none);
        }
        if (v < next_ || v >= runs.size())
            return Status::failure(
                fmt::format("{} is not one of the {} runs, in order", digits(v), runs.size()));
        run_ = static_cast<std::size_t>(v);
        next_ = v + 1;
        waves_ = runs[run_].level.size();
        return {};
    }
    Status close() const { return waves_ > 0 ? Status::failure("the last run is not whole") : Status{}; }

  private:
    std::size_t run_ = 0, waves_ = 0;  // waves_: still to come
    Wide next_ = 0;
};

// `[parameter, count, parameter, count]`
Place stretches(std::vector<Stretch>& out) {
    Place element;
    element.integer = [&out](Wide v, std::size_t index) {
        if (index % 2 == 0) out.emplace_back();
        (index % 2 == 0 ? out.back().parameter : out.back().count) = static_cast<std::uint32_t>(v);
        return check(v, any_u32);
    };
    Place place = list(std::move(element), limits::file_bytes);
    place.closed = [](std::size_t count) {
        return count % 2 == 0 ? Status{} : Status::failure("the last count is missing");
    };
    return place;
}

template <class List>
Place run_list(std::vector<Run>& runs) {
    const auto state = std::make_shared<List>();
    Place element;
    element.integer = [&runs, state](Wide v, std::size_t) { return state->take(runs, v); };
    Place place = list(std::move(element), limits::file_bytes);
    place.closed = [state](std::size_t) { return state->close(); };
    return place;
}

Fields universe_fields(std::vector<Universe>& out) {
    return {{"number", column_of(out, &Universe::number, {0, 65535}, limits::universes, Column::first)},
            {"slots", column_of(out, &Universe::slots, slot_range, limits::universes, Column::further)}};
}

Fields parameter_fields(Parameters& rig) {
    constexpr std::size_t most = limits::parameters;
    return {{"key", texts(rig.key, most)},
            {"universe", column(rig.universe, index_or_none, most)},
            {"coarse", column(rig.coarse, slot_range, most)},
            {"fine", column(rig.fine, slot_range, most)},
            {"home", column(rig.home, level_range, most)},
            {"kind", column(rig.kind, {0, static_cast<unsigned>(Kind::beam)}, most)},
            {"under", column(rig.under, index_or_none, most)}};
}

Fields waveform_fields(Waveform& form) {
    using Segment = Waveform::Segment;
    constexpr std::size_t most = limits::wave_points;
    return {{"shape", code(form.shape, Waveform::Shape::flicker)},
            {"seed", integer(form.seed, any_u64)},
            {"start", column_of(form.segments, &Segment::start, any_u64, most, Column::first)},
            {"from", column_of(form.segments, &Segment::from, level_range, most, Column::further)},
            {"to", column_of(form.segments, &Segment::to, level_range, most, Column::further)}};
}

Fields wave_fields(Wave& wave) {
    constexpr Range end{-Wide{full}, full};
    constexpr std::size_t most = limits::parameters;
    return {{"waveform", integer(wave.waveform, any_u32)},
            {"period", integer(wave.period, any_u64)},
            {"continues", integer(wave.continues, index_or_none)},
            {"parameter", column(wave.parameter, any_u32, most)},
            {"low", column(wave.low, end, most)},
            {"high", column(wave.high, end, most)},
            {"offset", column(wave.offset, any_u64, most)},
            {"member", column(wave.member, any_u32, most)}};
}

Fields chase_fields(Chase& chase) {
    using Step = Chase::Step;
    constexpr std::size_t most = limits::chase_steps;
    return {{"loop", integer(chase.loop, {0, 1})},
            {"ms", column_of(chase.steps, &Step::ms, any_u64, most, Column::first)},
            {"fade_ms", column_of(chase.steps, &Step::fade_ms, any_u64, most, Column::further)},
            {"parameter", column(chase.parameter, any_u32, limits::parameters)},
            {"jumps", column(chase.jumps, {0, 1}, limits::parameters)},
            {"level", column(chase.level, level_range, limits::chase_levels)}};
}

Fields list_fields(CueList& list) {
    return {{"name", text(list.name)},
            {"first", integer(list.first, any_u32)},
            {"count", integer(list.count, any_u32)}};
}

Fields set_fields(Set& set) {
    return {{"timing", timing(set.timing)},
            {"runs", run_list<RunList>(set.runs)},
            {"waves", run_list<RunWaveList>(set.runs)},
            {"releases", stretches(set.releases), true}};
}

Fields cue_fields(Cue& cue) {
    return {{"number", integer(cue.number, any_u32)},
            {"label", text(cue.label)},
            {"on", text(cue.on)},
            {"note", text(cue.note)},
            {"page", text(cue.page)},
            {"next", code(cue.next, Next::next_at)},
            {"next_ms", integer(cue.next_ms, any_u64)},
            {"complete_ms", integer(cue.complete_ms, any_u64)},
            {"intensity", timing(cue.intensity)},
            {"colour", timing(cue.colour)},
            {"position", timing(cue.position)},
            {"beam", timing(cue.beam)},
            {"timecode", integer(cue.timecode, any_u64), true},
            {"starts", column(cue.starts, any_u32, limits::waves)},
            {"sets",
             objects<Set>(cue.sets, limits::parameters, set_fields, [](std::size_t) { return Status{}; })}};
}

Fields picture_fields(Picture& picture) {
    return {{"cue", integer(picture.cue, any_u32)},
            {"stated", stretches(picture.stated)},
            {"level", column(picture.level, level_range, limits::parameters)},
            {"wave", column(picture.wave, index_or_none, limits::parameters)}};
}

Fields submaster_fields(Submaster& submaster) {
    return {{"number", integer(submaster.number, any_u32)},
            {"label", text(submaster.label)},
            {"starts", column(submaster.starts, any_u32, limits::waves)},
            {"runs", run_list<RunList>(submaster.runs)},
            {"waves", run_list<RunWaveList>(submaster.runs)},
            {"jumps", stretches(submaster.jumps)}};
}

// Runs without waves, checked as soon as all are there.
Place still_runs(std::vector<Run>& out, std::function<Status()> check) {
    Place place = run_list<RunList>(out);
    place.closed = [check = std::move(check), whole = place.closed](std::size_t count) {
        if (auto s = whole(count); !s.ok()) return s;
        return check();
    };
    return place;
}

Fields response_fields(Response& response) {
    return {{"level", column(response.level, level_range, limits::response_knots)},
            {"slot", column(response.slot, level_range, limits::response_knots)},
            {"on", stretches(response.on)}};
}

Place version() {
    Place place;
    place.integer = [](Wide v, std::size_t) {
        if (v == roll_version) return Status{};
        return Status::failure(
            fmt::format("this is version {}, and this program reads version {}", digits(v), roll_version));
    };
    return place;
}

Fields roll_fields(Roll& roll, RollCheck& check) {
    return {{"roll", version()},
            {"title", text(roll.title)},
            {"by", text(roll.by)},
            {"refresh", integer(roll.refresh, {limits::refresh_min, limits::refresh_max})},
            {"universes",
             object([&] { return universe_fields(roll.universes); }, [&] { return check.universes(); })},
            {"parameters",
             object([&] { return parameter_fields(roll.parameters); }, [&] { return check.parameters(); })},
            {"waveforms", objects<Waveform>(roll.waveforms, limits::waves, waveform_fields,
                                            [&](std::size_t i) { return check.waveform(i); })},
            {"waves", objects<Wave>(roll.waves, limits::waves, wave_fields,
                                    [&](std::size_t i) { return check.wave(i); })},
            {"chases",
             objects<Chase>(roll.chases, limits::chases, chase_fields,
                            [&](std::size_t i) { return check.chase(i); }),
             true},
            {"timecode_rate", code(roll.timecode_rate, TimecodeRate::f30)},
            {"lists", objects<CueList>(roll.lists, limits::lists, list_fields,
                                       [&](std::size_t i) { return check.list(i); })},
            {"cues",
             objects<Cue>(roll.cues, limits::cues, cue_fields, [&](std::size_t i) { return check.cue(i); })},
            {"pictures", objects<Picture>(roll.pictures, limits::cues / picture_every, picture_fields,
                                          [&](std::size_t i) { return check.picture(i); })},
            {"submasters",
             objects<Submaster>(roll.submasters, limits::submasters, submaster_fields,
                                [&](std::size_t i) { return check.submaster(i); }),
             true},
            {"keeps", still_runs(roll.keeps, [&] { return check.keeps(); }), true},
            {"panic", still_runs(roll.panic, [&] { return check.panic(); }), true},
            {"responses",
             objects<Response>(roll.responses, limits::responses, response_fields,
                               [&](std::size_t i) { return check.response(i); }),
             true}};
}

}  // namespace

Place roll_place(Roll& roll, RollCheck& check) {
    return object([&] { return roll_fields(roll, check); },
                  [&] {
                      if (auto s = check.head(); !s.ok()) return s;
                      return check.whole();
                  });
}

}  // namespace tallow::runtime
