#include "compiler/lower/hue_waves.hpp"

#include <algorithm>
#include <map>

#include "compiler/colour/srgb.hpp"
#include "compiler/lower/waves.hpp"
#include "compiler/text/decimal.hpp"
#include "compiler/track/colours.hpp"
#include "runtime/engine/waveform.hpp"
#include "runtime/limits.hpp"

namespace tallow::lower {
namespace {

using runtime::Level;
using runtime::Phase;
using runtime::Waveform;
using text::million;

constexpr std::int64_t sine_samples = 2048;  // over a turn
constexpr std::int64_t near_enough = 48;     // of 65535: less than a fifth of an 8-bit step
constexpr int deepest = 6;                   // halvings of a stretch where levels bend

// A straight part of the way between the hue's ends.
struct Stretch {
    Phase start;
    runtime::UnsignedWide length;  // of 2⁶⁴ for a turn
    std::int64_t from, to;         // of 65536
};

constexpr runtime::UnsignedWide whole_turn = runtime::UnsignedWide{1} << 64;

std::vector<Stretch> sine_stretches() {
    std::vector<Stretch> out;
    for (std::int64_t i = 0; i < sine_samples; ++i) {
        const Phase start = turns(i, sine_samples), end = turns(i + 1, sine_samples);
        out.push_back({start, whole_turn / sine_samples, runtime::sine(start), runtime::sine(end)});
    }
    return out;
}

// Straight lines of the wave, cut to a degree of hue.
std::vector<Stretch> line_stretches(const Waveform& form, std::int64_t degrees) {
    std::vector<Stretch> out;
    for (std::size_t s = 0; s < form.segments.size(); ++s) {
        const Phase start = form.segments[s].start;
        const std::int64_t from = form.segments[s].from, to = form.segments[s].to;
        const bool last = s + 1 == form.segments.size();
        const runtime::UnsignedWide length =
            last ? whole_turn - start : runtime::UnsignedWide{form.segments[s + 1].start - start};
        const std::int64_t cuts =
            std::max<std::int64_t>(1, (degrees + 1) * std::abs(to - from) / runtime::full);
        const auto at = [&](std::int64_t i) {  // of 65536
            const std::int64_t level = from + text::rounded((to - from) * i, cuts);
            return level + (level >> 15);
        };
        for (std::int64_t i = 0; i < cuts; ++i) {
            const auto of_cuts = static_cast<std::uint64_t>(cuts);
            const auto offset = static_cast<Phase>(length * static_cast<std::uint64_t>(i) / of_cuts);
            out.push_back({start + offset, length / of_cuts, at(i), at(i + 1)});
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

// One emitter's waveform: a stretch is halved where its level does not go straight between its ends.
class Drawing {
  public:
    Drawing(HueLevels& levels, std::size_t emitter) : levels_(levels), emitter_(emitter) {
        form_.shape = Waveform::Shape::segments;
    }

    Waveform draw(const std::vector<Stretch>& stretches) {
        std::size_t left = stretches.size();
        for (const Stretch& stretch : stretches) {
            room_ = runtime::limits::wave_points - form_.segments.size() - --left;
            add(stretch, deepest);
        }
        return std::move(form_);
    }

  private:
    Level level(std::int64_t way) { return levels_.at(way)[emitter_]; }

    bool bends(const Stretch& s) {
        const std::int64_t from = level(s.from), rise = level(s.to) - from;
        for (const std::int64_t quarter : {1, 2, 3}) {
            const std::int64_t way = (s.to - s.from) * quarter / 4;
            if (way == 0) continue;
            const std::int64_t straight = from + rise * way / (s.to - s.from);
            if (std::abs(level(s.from + way) - straight) > near_enough) return true;
        }
        return false;
    }

    void add(const Stretch& s, int depth) {
        if (depth == 0 || room_ < 2 || std::abs(s.to - s.from) < 2 || !bends(s)) {
            form_.segments.push_back({s.start, level(s.from), level(s.to)});
            return;
        }
        --room_;
        const std::int64_t middle = (s.from + s.to) / 2;
        const runtime::UnsignedWide half = s.length * static_cast<std::uint64_t>(std::abs(middle - s.from)) /
                                           static_cast<std::uint64_t>(std::abs(s.to - s.from));
        add({s.start, half, s.from, middle}, depth - 1);
        add({s.start + static_cast<Phase>(half), s.length - half, middle, s.to}, depth - 1);
    }

    HueLevels& levels_;
    std::size_t emitter_;
    Waveform form_;
    std::size_t room_ = 0;  // segments that this stretch may still come to
};

}  // namespace

std::vector<Waveform> hue_waveforms(const track::Colours& colours, track::Alike fixtures,
                                    const show::WaveShape& shape, const show::Component& component) {
    const Waveform form = lower_waveform(shape);
    const std::int64_t degrees = std::abs(component.high.measure - component.low.measure) / million;
    const std::vector<Stretch> stretches =
        form.shape == Waveform::Shape::sine ? sine_stretches() : line_stretches(form, degrees);
    HueLevels levels(colours, fixtures, shape, component);
    std::vector<Waveform> out;
    for (std::size_t e = 0; e < levels.at(0).size(); ++e) out.push_back(Drawing(levels, e).draw(stretches));
    return out;
}

}  // namespace tallow::lower
