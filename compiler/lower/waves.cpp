#include "compiler/lower/waves.hpp"

#include <algorithm>
#include <numeric>

#include "compiler/text/decimal.hpp"
#include "runtime/engine/waveform.hpp"
#include "runtime/engine/wide.hpp"

namespace tallow::lower {

using runtime::Level;
using runtime::Phase;
using runtime::Waveform;
using show::Component;
using show::Index;
using show::Kind;
using text::million;
using text::rounded;

namespace {

using Segment = Waveform::Segment;

constexpr std::int64_t turn_percent = 100 * million;  // a whole turn in millionths of a percent
constexpr std::int64_t turn_degrees = 360 * million;

// A straight line from level to level over part of the turn; one that ends where it starts is a jump and
// takes no room.
void add(std::vector<Segment>& segments, std::int64_t from_percent, std::int64_t to_percent, Level from,
         Level to);

std::vector<Segment> points(const std::vector<show::Point>& list) {
    std::vector<Segment> segments;
    const auto& first = list.front();
    const auto& last = list.back();
    // Across the turn's end the line goes on from the last point to the first.
    const std::int64_t gap = turn_percent - last.at + first.at;
    const auto at_end =
        gap == 0 ? first.level
                 : static_cast<Level>(
                       last.level +
                       rounded((std::int64_t{first.level} - last.level) * (turn_percent - last.at), gap));
    add(segments, 0, first.at, at_end, first.level);
    for (std::size_t i = 1; i < list.size(); ++i)
        add(segments, list[i - 1].at, list[i].at, list[i - 1].level, list[i].level);
    add(segments, last.at, turn_percent, last.level, at_end);
    return segments;
}

void add(std::vector<Segment>& segments, std::int64_t from_percent, std::int64_t to_percent, Level from,
         Level to) {
    if (from_percent < to_percent) segments.push_back({turns(from_percent, turn_percent), from, to});
}

class RowMaker {
  public:
    RowMaker(const show::Show& show, track::Book& book, const show::Wave& wave)
        : show_(show), book_(book), wave_(wave) {}

    std::pair<std::int64_t, std::int64_t> ends(const track::WaveRow& row) {
        if (row.component == show::none) return {0, 0};
        const Component& c = wave_.components[row.component];
        const show::Fixture& fixture = show_.fixtures[show_.parameters[row.parameter].fixture];
        const show::Type& type = show_.type_of(fixture);
        if (c.hue) return {0, runtime::full};
        if (c.kind == Kind::colour && c.attribute == show::none)
            return {emitter_level(row, c.low_colour), emitter_level(row, c.high_colour)};
        if (c.kind == Kind::position)
            return {*offset_of(type, c.attribute, c.low), *offset_of(type, c.attribute, c.high)};
        bool jumps = false;
        return {level_of(type, c.attribute, c.low, jumps).value_or(0),
                level_of(type, c.attribute, c.high, jumps).value_or(0)};
    }

  private:
    Level emitter_level(const track::WaveRow& row, Index colour) {
        const show::ParameterDef& def = show_.definition(row.parameter);
        const show::Element element{show_.parameters[row.parameter].fixture, def.cell};
        return book_.colours.on(element, show_.settings[colour]).level[def.emitter];
    }

    const show::Show& show_;
    track::Book& book_;
    const show::Wave& wave_;
};

}  // namespace

std::pair<std::int64_t, std::int64_t> swung(std::int64_t low, std::int64_t high, std::int64_t swing) {
    // In wide numbers: a hue's ends are millionths of a degree.
    const runtime::Wide sum = runtime::Wide{low + high} * turn_percent;
    const runtime::Wide reach = runtime::Wide{high - low} * swing;
    const auto rounded_half = [](runtime::Wide doubled) {
        const runtime::Wide whole = 2 * runtime::Wide{turn_percent};
        const runtime::Wide shifted = doubled + turn_percent;
        return static_cast<std::int64_t>(shifted >= 0 ? shifted / whole : -((-shifted + whole - 1) / whole));
    };
    return {rounded_half(sum - reach), rounded_half(sum + reach)};
}

Phase turns(std::int64_t numerator, std::int64_t denominator) {
    std::int64_t part = numerator % denominator;
    if (part < 0) part += denominator;
    const runtime::UnsignedWide doubled = (runtime::UnsignedWide{static_cast<std::uint64_t>(part)} << 65) /
                                          static_cast<std::uint64_t>(denominator);
    return static_cast<Phase>((doubled + 1) >> 1);
}

std::vector<std::int64_t> places(const show::Show& show, const show::WaveShape& shape,
                                 const show::Selection& selection) {
    std::vector<std::int64_t> at;
    for (const show::Element& e : selection.elements)
        at.push_back(shape.along ? position_of(show, e, *shape.along).value_or(0)
                                 : static_cast<std::int64_t>(at.size()) * million);
    return at;
}

std::vector<std::int64_t> doubled_distances(show::Travel travel, std::uint32_t seed,
                                            std::vector<std::int64_t> at) {
    if (at.empty()) return at;
    const auto [least, most] = std::minmax_element(at.begin(), at.end());
    const std::int64_t ends = *least + *most;
    if (travel == show::Travel::scattered)  // Fisher and Yates, from the last place down, drawn from the
                                            // flicker's noise
        for (std::size_t i = at.size() - 1; i > 0; --i) {
            const std::uint64_t draw = runtime::noise(seed, static_cast<std::uint32_t>(i), 0);
            std::swap(at[i], at[draw * (i + 1) / 65536]);
        }
    for (std::int64_t& place : at) {
        const std::int64_t from_middle = std::abs(2 * place - ends);
        switch (travel) {
            case show::Travel::forward:
            case show::Travel::scattered:
                place = 2 * place;
                break;
            case show::Travel::backward:
                place = -2 * place;
                break;
            case show::Travel::outward:
                place = from_middle;
                break;
            case show::Travel::inward:
                place = -from_middle;
                break;
        }
    }
    return at;
}

Waveform lower_waveform(const show::WaveShape& shape) {
    Waveform w;
    w.shape = Waveform::Shape::segments;
    constexpr Level zero = 0, half = runtime::level_half, full = runtime::full;
    switch (shape.shape) {
        case show::Shape::sine:
            w.shape = Waveform::Shape::sine;
            break;
        case show::Shape::flicker:
            w.shape = Waveform::Shape::flicker;
            w.seed = shape.seed;
            break;
        case show::Shape::triangle:
            add(w.segments, 0, turn_percent / 4, half, full);
            add(w.segments, turn_percent / 4, turn_percent * 3 / 4, full, zero);
            add(w.segments, turn_percent * 3 / 4, turn_percent, zero, half);
            break;
        case show::Shape::rise:
            add(w.segments, 0, turn_percent, zero, full);
            break;
        case show::Shape::fall:
            add(w.segments, 0, turn_percent, full, zero);
            break;
        case show::Shape::square:
            add(w.segments, 0, shape.duty, full, full);
            add(w.segments, shape.duty, turn_percent, zero, zero);
            break;
        case show::Shape::points:
            w.segments = points(shape.points);
            break;
    }
    return w;
}

runtime::Wave lower_wave(const show::Show& show, track::Book& book, const track::WaveInstance& instance,
                         std::uint32_t waveform) {
    const show::WaveUse& use = show.wave_uses[instance.use];
    const show::Wave& wave = show.waves[use.wave];
    const std::vector<std::int64_t> distance = doubled_distances(
        use.shape.travel, use.shape.seed, places(show, use.shape, show.selections[instance.selection]));
    runtime::Wave out;
    out.waveform = waveform;
    out.period = use.shape.period;
    RowMaker maker(show, book, wave);
    for (const track::WaveRow& row : instance.rows) {
        const auto [low, high] = maker.ends(row);
        const bool hue = row.component != show::none && wave.components[row.component].hue;
        const auto [swung_low, swung_high] = hue ? std::pair(low, high) : swung(low, high, use.shape.swing);
        const std::int64_t own_phase = row.component == show::none ? 0 : wave.components[row.component].phase;
        const Phase shift = turns(use.shape.phase + own_phase, turn_degrees);
        const Phase way =
            use.shape.wavelength == 0 ? 0 : turns(distance[row.member], 2 * use.shape.wavelength);
        out.parameter.push_back(row.parameter);
        out.low.push_back(static_cast<std::int32_t>(swung_low));
        out.high.push_back(static_cast<std::int32_t>(swung_high));
        out.offset.push_back(shift - way);
        out.member.push_back(row.member);
    }
    return out;
}

}  // namespace tallow::lower
