#include "compiler/lower/hue_waves.hpp"

#include <algorithm>
#include <map>

#include "compiler/colour/srgb.hpp"
#include "compiler/lower/waves.hpp"
#include "compiler/text/decimal.hpp"
#include "compiler/track/colours.hpp"
#include "runtime/limits.hpp"
#include "runtime/waveform.hpp"

namespace tallow::lower {
namespace {

using runtime::Level;
using runtime::Phase;
using runtime::Waveform;
using text::million;

constexpr std::int64_t samples_per_degree = 4;
constexpr std::int64_t sine_samples = 2048;  // over a turn

// The way between the hue's ends at a phase of the turn, and where the next such point lies.
struct Stretch {
    Phase start;
    std::int64_t from, to;  // of 65536
};

std::vector<Stretch> sine_stretches() {
    std::vector<Stretch> out;
    for (std::int64_t i = 0; i < sine_samples; ++i) {
        const Phase start = turns(i, sine_samples), end = turns(i + 1, sine_samples);
        out.push_back({start, runtime::sine(start), runtime::sine(end)});
    }
    return out;
}

// Straight lines of the wave, cut to a part of a degree of hue, as far as there is room for all.
std::vector<Stretch> line_stretches(const Waveform& form, std::int64_t degrees) {
    const auto room = static_cast<std::int64_t>(runtime::limits::wave_points - form.segments.size()) / 2;
    const std::int64_t all = std::clamp<std::int64_t>(degrees * samples_per_degree, 1, room);
    std::vector<Stretch> out;
    for (std::size_t s = 0; s < form.segments.size(); ++s) {
        const Phase start = form.segments[s].start;
        const std::int64_t from = form.segments[s].from, to = form.segments[s].to;
        const bool last = s + 1 == form.segments.size();
        const Phase length = (last ? 0 : form.segments[s + 1].start) - start;  // 0: the whole turn
        const std::int64_t cuts = std::max<std::int64_t>(1, all * std::abs(to - from) / runtime::full);
        const auto at = [&](std::int64_t i) {  // of 65536
            const std::int64_t level = from + text::rounded((to - from) * i, cuts);
            return level + (level >> 15);
        };
        for (std::int64_t i = 0; i < cuts; ++i) {
            const auto whole = length == 0 ? runtime::UnsignedWide{1} << 64 : runtime::UnsignedWide{length};
            const auto offset =
                static_cast<Phase>(whole * static_cast<std::uint64_t>(i) / static_cast<std::uint64_t>(cuts));
            out.push_back({start + offset, at(i), at(i + 1)});
        }
    }
    return out;
}

// Emitter levels by hue, each hue solved once.
class HueLevels {
  public:
    HueLevels(const track::Colours& colours, track::Alike fixtures, const show::WaveShape& shape,
              const show::Component& c)
        : colours_(colours), fixtures_(fixtures), saturation_(static_cast<double>(c.saturation) * 1e-8) {
        std::tie(low_, high_) = swung(c.low.measure, c.high.measure, shape.swing);
    }

    const std::vector<Level>& at(std::int64_t way) {
        const auto [known, fresh] = known_.try_emplace(way);
        if (fresh) {
            const double hue = static_cast<double>(low_) +
                               static_cast<double>(high_ - low_) * static_cast<double>(way) / 65536.0;
            known->second = colours_.solve(fixtures_, colour::from_hue(hue * 1e-6, saturation_)).level;
        }
        return known->second;
    }

  private:
    const track::Colours& colours_;
    track::Alike fixtures_;
    double saturation_;
    std::int64_t low_ = 0, high_ = 0;  // millionths of a degree
    std::map<std::int64_t, std::vector<Level>> known_;
};

}  // namespace

std::vector<Waveform> hue_waveforms(const track::Colours& colours, track::Alike fixtures,
                                    const show::WaveShape& shape, const show::Component& component) {
    const Waveform form = lower_waveform(shape);
    const std::int64_t degrees = std::abs(component.high.measure - component.low.measure) / million;
    const std::vector<Stretch> stretches =
        form.shape == Waveform::Shape::sine ? sine_stretches() : line_stretches(form, degrees);
    HueLevels levels(colours, fixtures, shape, component);
    std::vector<Waveform> out(levels.at(0).size());
    for (std::size_t e = 0; e < out.size(); ++e) {
        out[e].shape = Waveform::Shape::segments;
        for (const Stretch& s : stretches)
            out[e].segments.push_back({s.start, levels.at(s.from)[e], levels.at(s.to)[e]});
    }
    return out;
}

}  // namespace tallow::lower
