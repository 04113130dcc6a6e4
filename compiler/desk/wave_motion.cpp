#include "compiler/desk/wave_motion.hpp"

#include <algorithm>
#include <numeric>

#include "compiler/desk/wave_level.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/engine/response.hpp"
#include "runtime/limits.hpp"

namespace tallow::desk {
namespace {

using runtime::Kind;
using runtime::Level;
using runtime::Phase;

constexpr std::size_t most_bends = 4096;  // with more, it runs smoothly enough

// What a chase does to a parameter in a round of its own, once it runs: in the first part of a step the level
// goes in a straight line from the step before.
struct Round {
    struct Step {
        std::uint64_t begin, fade;  // microseconds
        Level from, to;
    };
    std::uint64_t period = 0;  // microseconds
    std::vector<Step> steps;

    Level at(Phase phase) const {
        const auto t = static_cast<std::uint64_t>((runtime::UnsignedWide{phase} * period) >> 64);
        const auto next = std::upper_bound(steps.begin(), steps.end(), t,
                                           [](std::uint64_t time, const Step& s) { return time < s.begin; });
        const Step& step = *std::prev(next);
        if (t - step.begin >= step.fade) return step.to;
        const auto way = std::int64_t{step.to} - step.from;
        return static_cast<Level>(step.from + text::rounded(way * static_cast<std::int64_t>(t - step.begin),
                                                            static_cast<std::int64_t>(step.fade)));
    }
};

Round round_of(const show::Chase& chase, const track::ChasePicture& picture, Index parameter) {
    const auto column = static_cast<std::size_t>(
        std::lower_bound(picture.parameter.begin(), picture.parameter.end(), parameter) -
        picture.parameter.begin());
    const auto level = [&](std::size_t step) {
        return picture.level[step * picture.parameter.size() + column];
    };
    Round round;
    for (std::size_t k = 0; k < chase.steps.size(); ++k) {
        const std::uint64_t fade = picture.jumps[column] != 0 ? 0 : chase.steps[k].fade_ms * 1000;
        round.steps.push_back(
            {round.period, fade, level((k + chase.steps.size() - 1) % chase.steps.size()), level(k)});
        round.period += chase.steps[k].ms * 1000;
    }
    return round;
}

// A parameter as waves and chases leave it.
struct Part {
    Kind kind = Kind::beam;
    Level level = 0;                                  // beneath a wave
    std::optional<Round> chase;                       // in place of that level
    const runtime::PreparedWaveform* form = nullptr;  // null: no wave
    std::int32_t low = 0, high = 0;
    Phase offset = 0, rounds = 0;
    std::uint32_t member = 0;
    const runtime::Response* response = nullptr;
    Level floor = 0;

    // As it is sent, or scales what stands under it.
    Level at(Phase phase) const { return std::max(moved(phase), floor); }

    Level moved(Phase phase) const {
        if (chase) return chase->at(phase * rounds);
        Level out = level;
        if (form != nullptr) {
            runtime::Weight w = 0;
            const Phase turned = phase * rounds;  // whole turns fall off
            form->evaluate(turned, &offset, &member, {&w, 1});
            const std::int64_t moved = low + ((std::int64_t{high - low} * w + 32768) >> 16);
            out = kept_level(met(kind, level, moved));
        }
        return out;
    }
};

Level sent(const Part& part, Level level) {
    return part.response == nullptr ? level : respond(*part.response, level);
}

// Places of one turn, in a round that holds `rounds` of them.
void add_bends(std::vector<Phase>& bends, const std::vector<Phase>& places, std::uint64_t rounds) {
    if (rounds * places.size() > most_bends) return;
    for (const Phase place : places)
        for (std::uint64_t turn = 0; turn < rounds; ++turn)
            bends.push_back(static_cast<Phase>(((runtime::UnsignedWide{turn} << 64) + place) / rounds));
}

// Where the segments of a waveform begin.
std::vector<Phase> bends_of(const runtime::Waveform& form, Phase offset) {
    std::vector<Phase> places;
    for (const auto& segment : form.segments) places.push_back(static_cast<Phase>(segment.start - offset));
    return places;
}

// Where a chase begins a step, and where it stands.
std::vector<Phase> bends_of(const Round& round) {
    std::vector<Phase> places;
    for (const Round::Step& step : round.steps)
        for (const std::uint64_t at : {step.begin, step.begin + step.fade})
            places.push_back(static_cast<Phase>((runtime::UnsignedWide{at} << 64) / round.period));
    return places;
}

}  // namespace

// A row of a wave that moves a parameter.
struct WaveMotion::Line {
    const runtime::Wave& wave;
    std::size_t row;
};

WaveMotion::WaveMotion(const show::Show& show, track::Book& book, const track::Tracker& tracker)
    : show_(show), book_(book), tracker_(tracker), sources_(show, book, roll_), responses_(show) {}

Index WaveMotion::chase(Index parameter) const {
    const Index instance = tracker_.at(parameter).wave;
    return tracker_.is_chase(instance) ? tracker_.waves()[instance].chase : show::none;
}

std::optional<WaveMotion::Line> WaveMotion::line(Index parameter) {
    const Index instance = tracker_.at(parameter).wave;
    if (instance == show::none || tracker_.is_chase(instance)) return std::nullopt;
    sources_.add(tracker_.waves());
    const runtime::Wave& wave = roll_.waves[sources_.of(instance, parameter)];
    const auto row = std::lower_bound(wave.parameter.begin(), wave.parameter.end(), parameter);
    return Line{wave, static_cast<std::size_t>(row - wave.parameter.begin())};
}

std::optional<Motion> WaveMotion::motion(const Channel& channel) {
    Motion motion;
    for (const Index p : {channel.parameter, show_.virtual_above(channel.parameter)}) {
        if (p == show::none || channel.fine) continue;
        std::uint64_t period = 0;
        std::string name;
        if (const Index c = chase(p); c != show::none) {
            for (const show::Chase::Step& step : show_.chases[c].steps) period += step.ms;
            motion.repeats &= show_.chases[c].loop;
            name = "chase " + show_.chases[c].name;
        } else if (const auto l = line(p)) {
            period = l->wave.period;
            motion.repeats &= roll_.waveforms[l->wave.waveform].shape != runtime::Waveform::Shape::flicker;
            name = show_.waves[show_.wave_uses[tracker_.waves()[tracker_.at(p).wave].use].wave].name;
        } else {
            continue;
        }
        if (motion.of.empty() || motion.of.back() != name) motion.of.push_back(std::move(name));
        const auto together = motion.period == 0 ? period : common_period(motion.period, period);
        motion.repeats &= together.has_value();
        motion.period = together.value_or(period);
    }
    if (motion.period == 0) return std::nullopt;
    return motion;
}

Mover WaveMotion::mover(const Channel& channel, std::uint64_t period) {
    std::vector<Part> parts;
    Mover out;
    out.floor = channel.floor;
    for (const Index p : {channel.parameter, show_.virtual_above(channel.parameter)}) {
        if (p == show::none) continue;
        Part part;
        part.kind = show_.definition(p).kind;
        part.level = tracker_.at(p).level;
        part.response = responses_.of(p);
        part.floor = book_.floors.of(p);
        if (const Index c = chase(p); c != show::none) {
            part.chase = round_of(show_.chases[c], book_.chase(c), p);
            part.rounds = period * 1000 / part.chase->period;
            add_bends(out.bends, bends_of(*part.chase), part.rounds);
        } else if (const auto l = line(p)) {
            const runtime::Waveform& form = roll_.waveforms[l->wave.waveform];
            auto& prepared = prepared_[l->wave.waveform];
            if (!prepared) prepared = std::make_unique<runtime::PreparedWaveform>(form);
            part.form = prepared.get();
            part.low = l->wave.low[l->row];
            part.high = l->wave.high[l->row];
            part.offset = l->wave.offset[l->row];
            part.member = l->wave.member[l->row];
            part.rounds = period / l->wave.period;
            add_bends(out.bends, bends_of(form, part.offset), part.rounds);
        }
        parts.push_back(std::move(part));
    }
    out.at = [parts](Phase phase) {
        Level level = parts[0].at(phase);
        if (parts.size() > 1) level = runtime::scaled(level, sent(parts[1], parts[1].at(phase)));
        return percent_of(sent(parts[0], level));
    };
    return out;
}

std::optional<std::uint64_t> common_period(std::uint64_t a, std::uint64_t b) {
    const std::uint64_t times = b / std::gcd(a, b);
    if (times > runtime::limits::time_ms / a) return std::nullopt;
    return a * times;
}

}  // namespace tallow::desk
