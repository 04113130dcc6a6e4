#include "compiler/desk/wave_motion.hpp"

#include <numeric>

#include "compiler/text/decimal.hpp"
#include "runtime/limits.hpp"
#include "runtime/response.hpp"

namespace tallow::desk {
namespace {

using runtime::Kind;
using runtime::Level;
using runtime::Phase;

constexpr std::size_t most_bends = 4096;  // with more, it runs smoothly enough

Level kept(std::int64_t value) {
    return static_cast<Level>(std::clamp<std::int64_t>(value, 0, runtime::full));
}

// A parameter as the waves leave it.
struct Part {
    Kind kind = Kind::beam;
    Level level = 0;                                  // beneath a wave
    const runtime::PreparedWaveform* form = nullptr;  // null: no wave
    std::int32_t low = 0, high = 0;
    Phase offset = 0, rounds = 0;
    std::uint32_t member = 0;
    const runtime::Response* response = nullptr;

    // As it is sent, or scales what stands under it.
    Level at(Phase phase) const {
        Level out = level;
        if (form != nullptr) {
            runtime::Weight w = 0;
            const Phase turned = phase * rounds;  // whole turns fall off
            form->evaluate(turned, &offset, &member, {&w, 1});
            const std::int64_t moved = low + ((std::int64_t{high - low} * w + 32768) >> 16);
            out = kind == Kind::intensity  ? runtime::scaled(level, kept(moved))
                  : kind == Kind::position ? kept(level + moved)
                                           : kept(moved);
        }
        return out;
    }
};

Level sent(const Part& part, Level level) {
    return part.response == nullptr ? level : respond(*part.response, level);
}

// Where the segments of a waveform begin, in a round that holds `rounds` of its turns.
void add_bends(std::vector<Phase>& bends, const runtime::Waveform& form, Phase offset, std::uint64_t rounds) {
    if (rounds * form.segments.size() > most_bends) return;
    for (const auto& segment : form.segments)
        for (std::uint64_t turn = 0; turn < rounds; ++turn)
            bends.push_back(static_cast<Phase>(
                ((runtime::UnsignedWide{turn} << 64) + static_cast<Phase>(segment.start - offset)) / rounds));
}

}  // namespace

// A row of a wave that moves a parameter.
struct WaveMotion::Line {
    const runtime::Wave& wave;
    std::size_t row;
};

WaveMotion::WaveMotion(const show::Show& show, track::Book& book, const track::Tracker& tracker)
    : show_(show), tracker_(tracker), sources_(show, book, roll_), responses_(show) {}

std::optional<WaveMotion::Line> WaveMotion::line(Index parameter) {
    const Index instance = tracker_.at(parameter).wave;
    if (instance == show::none || tracker_.is_chase(instance)) return std::nullopt;
    sources_.add(tracker_.waves());
    const runtime::Wave& wave = roll_.waves[sources_.of(instance, parameter)];
    const auto row = std::lower_bound(wave.parameter.begin(), wave.parameter.end(), parameter);
    return Line{wave, static_cast<std::size_t>(row - wave.parameter.begin())};
}

// The virtual intensity that a channel is multiplied by, or none.
Index WaveMotion::above(const Channel& channel) const {
    const show::ParameterDef& def = show_.definition(channel.parameter);
    if (def.under == show::no_place) return show::none;
    const Index p = show_.fixtures[show_.parameters[channel.parameter].fixture].first_parameter + def.under;
    return show_.definition(p).coarse == 0 ? p : show::none;
}

std::optional<Motion> WaveMotion::motion(const Channel& channel) {
    Motion motion;
    for (const Index p : {channel.parameter, above(channel)}) {
        if (p == show::none || channel.fine) continue;
        const auto l = line(p);
        if (!l) continue;
        const auto together =
            motion.period == 0 ? l->wave.period : common_period(motion.period, l->wave.period);
        motion.repeats &= together.has_value() &&
                          roll_.waveforms[l->wave.waveform].shape != runtime::Waveform::Shape::flicker;
        motion.period = together.value_or(l->wave.period);
        motion.waves.push_back(show_.wave_uses[tracker_.waves()[tracker_.at(p).wave].use].wave);
    }
    if (motion.period == 0) return std::nullopt;
    return motion;
}

Mover WaveMotion::mover(const Channel& channel, std::uint64_t period) {
    std::vector<Part> parts;
    Mover out;
    for (const Index p : {channel.parameter, above(channel)}) {
        if (p == show::none) continue;
        Part part;
        part.kind = show_.definition(p).kind;
        part.level = tracker_.at(p).level;
        part.response = responses_.of(p);
        if (const auto l = line(p)) {
            const runtime::Waveform& form = roll_.waveforms[l->wave.waveform];
            auto& prepared = prepared_[l->wave.waveform];
            if (!prepared) prepared = std::make_unique<runtime::PreparedWaveform>(form);
            part.form = prepared.get();
            part.low = l->wave.low[l->row];
            part.high = l->wave.high[l->row];
            part.offset = l->wave.offset[l->row];
            part.member = l->wave.member[l->row];
            part.rounds = period / l->wave.period;
            add_bends(out.bends, form, part.offset, part.rounds);
        }
        parts.push_back(part);
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
