#include "compiler/desk/pictures.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "compiler/desk/wave_level.hpp"
#include "compiler/desk/wiring.hpp"
#include "compiler/lower/responses.hpp"
#include "compiler/lower/waves.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/engine/response.hpp"

namespace tallow::desk {
namespace {

using runtime::Kind;
using runtime::Level;
using text::rounded;

std::uint8_t slot_of(Percent level) {
    return static_cast<std::uint8_t>(rounded(level * 255, all_of_it));
}

// Those that the desk plays, by number; or slots of its universe that it does not play, by slot.
std::vector<Channel> channels_of(const show::Show& show, const show::Desk& desk, bool played) {
    const Wiring wiring(desk);
    std::vector<Channel> channels;
    for (Index p = 0; p < show.parameters.size(); ++p) {
        const show::ParameterDef& def = show.definition(p);
        const show::Fixture& fixture = show.fixtures[show.parameters[p].fixture];
        const auto add = [&](std::uint16_t place, bool fine) {
            const auto slot = static_cast<std::uint16_t>(fixture.address + place - 1);
            const std::uint16_t number = wiring.channel(fixture.universe, slot);
            if ((number != 0) != played || (!played && fixture.universe != desk.universe)) return;
            const std::string name = show::element_text(show, {show.parameters[p].fixture, def.cell}) + " " +
                                     show.attributes[def.attribute];
            channels.push_back({number, fixture.universe, slot, p, fine, fine ? name + " fine" : name, 0, 0});
        };
        if (def.coarse != 0) add(def.coarse, false);
        if (def.fine != 0) add(def.fine, true);
    }
    std::sort(channels.begin(), channels.end(), [](const Channel& a, const Channel& b) {
        return std::pair(a.number, a.slot) < std::pair(b.number, b.slot);
    });
    return channels;
}

// Fixtures of which no slot is on a channel.
std::size_t count_elsewhere(const show::Show& show, const std::vector<Channel>& channels) {
    std::vector<bool> played(show.fixtures.size());
    for (const Channel& c : channels) played[show.parameters[c.parameter].fixture] = true;
    std::size_t elsewhere = 0;
    for (const show::Fixture& f : show.fixtures) elsewhere += f.leader != show::none && !played[f.leader];
    return elsewhere;
}

// Reads levels off the tracker's state.
class Camera {
  public:
    Camera(const show::Show& show, track::Book& book, const track::Tracker& tracker)
        : show_(show), book_(book), tracker_(tracker) {}

    // Equal where neither a wave nor a chase runs.
    WaveSpan span(Index parameter) {
        const WaveSpan span = moved(parameter);
        const Level floor = book_.floors.of(parameter);
        return {std::max(span.low, floor), std::max(span.middle, floor), std::max(span.high, floor)};
    }

  private:
    using Ends = std::pair<std::int32_t, std::int32_t>;

    WaveSpan moved(Index parameter) {
        const Level level = tracker_.at(parameter).level;
        const Index wave = tracker_.at(parameter).wave;
        if (wave == show::none) return {level, level, level};
        if (tracker_.is_chase(wave)) {
            const auto steps = book_.chase(tracker_.waves()[wave].chase).span(parameter);
            return {steps.low, steps.first, steps.high};
        }
        const auto [low, high] = ends(wave, parameter);
        return wave_span(show_.definition(parameter).kind, level, low, high);
    }

    Ends ends(Index wave, Index parameter) {
        auto [at, fresh] = rows_.try_emplace(wave);
        if (fresh) at->second = lower::lower_wave(show_, book_, tracker_.waves()[wave], 0);
        const runtime::Wave& rows = at->second;
        const auto row = std::lower_bound(rows.parameter.begin(), rows.parameter.end(), parameter);
        const auto i = static_cast<std::size_t>(row - rows.parameter.begin());
        return {rows.low[i], rows.high[i]};
    }

    const show::Show& show_;
    track::Book& book_;
    const track::Tracker& tracker_;
    std::map<Index, runtime::Wave> rows_;  // by instance
};

// A setting in the same named range as the level, where there is one.
Percent setting_in_range(const show::Show& show, const Channel& channel, Percent wanted, Percent notch) {
    const Percent nearest = nearest_setting(wanted, notch);
    const show::Range* range = range_of(show, channel, wanted);
    if (range == nullptr || range_of(show, channel, nearest) == range) return nearest;
    for (const Percent other : {nearest - notch, nearest + notch})
        if (other >= 0 && other <= all_of_it && range_of(show, channel, other) == range) return other;
    return nearest;
}

// A level as it is sent: through the response of its fixture.
WaveSpan sent(const lower::Responses& responses, Index parameter, WaveSpan span) {
    const runtime::Response* response = responses.of(parameter);
    if (response == nullptr) return span;
    return {respond(*response, span.low), respond(*response, span.middle), respond(*response, span.high)};
}

Picture photograph(const show::Show& show, const std::vector<Channel>& channels, Camera& camera,
                   const track::Tracker& tracker, const lower::Responses& responses, Percent notch) {
    Picture picture;
    std::vector<Index> waves, chases;
    const auto hold = [&](Index parameter) {
        const Index wave = tracker.at(parameter).wave;
        if (tracker.is_chase(wave))
            chases.push_back(tracker.waves()[wave].chase);
        else if (wave != show::none)
            waves.push_back(show.wave_uses[tracker.waves()[wave].use].wave);
    };
    for (const Channel& channel : channels) {
        WaveSpan span = camera.span(channel.parameter);
        waves.clear();
        chases.clear();
        hold(channel.parameter);
        if (const Index above = show.virtual_above(channel.parameter); above != show::none) {
            const WaveSpan over = sent(responses, above, camera.span(above));
            span = {runtime::scaled(span.low, over.low), runtime::scaled(span.middle, over.middle),
                    runtime::scaled(span.high, over.high)};
            hold(above);
        }
        span = sent(responses, channel.parameter, span);
        if (channel.fine) span = {0, 0, 0};
        if (span.low == span.high) waves.clear();
        const Percent wanted = percent_of(span.middle);
        picture.wanted.push_back(wanted);
        picture.set.push_back(
            std::max(setting_in_range(show, channel, wanted, notch), least_setting(channel.floor, notch)));
        picture.waves.push_back(waves);
        picture.chases.push_back(chases);
        picture.chase.push_back(0);
        picture.swing.push_back(std::max(percent_of(span.high) - wanted, wanted - percent_of(span.low)));
    }
    return picture;
}

void add_floors(const show::Show& show, const track::Floors& floors, const lower::Responses& responses,
                std::vector<Channel>& channels) {
    const auto floor = [&](Index p) {
        const Level level = floors.of(p);
        return percent_of(sent(responses, p, {level, level, level}).low);
    };
    for (Channel& channel : channels) {
        if (channel.fine) continue;
        if (floors.of(channel.parameter) > 0) channel.floor = floor(channel.parameter);
        const Index above = show.virtual_above(channel.parameter);
        if (above != show::none && floors.of(above) > 0) channel.floor_above = floor(above);
    }
}

}  // namespace

std::size_t width_of(const Pictures& pictures, const show::Layout& layout) {
    return static_cast<std::size_t>(
        std::count_if(pictures.channels.begin(), pictures.channels.end(),
                      [&](const Channel& c) { return c.number <= layout.channels; }));
}

std::map<Index, std::size_t> channels_by_parameter(const Pictures& pictures, std::size_t width) {
    std::map<Index, std::size_t> channels;
    for (std::size_t c = 0; c < width; ++c)
        if (!pictures.channels[c].fine) channels[pictures.channels[c].parameter] = c;
    return channels;
}

Percent percent_of(std::int64_t level) {
    return rounded(level * all_of_it, runtime::full);
}

const show::Range* range_of(const show::Show& show, const Channel& channel, Percent level) {
    if (channel.fine) return nullptr;
    const show::Fixture& fixture = show.fixtures[show.parameters[channel.parameter].fixture];
    const auto* ranges = show.type_of(fixture).ranges_of(show.definition(channel.parameter).attribute);
    if (ranges == nullptr) return nullptr;
    const std::uint8_t slot = slot_of(level);
    for (const show::Range& r : *ranges)
        if (r.from <= slot && slot <= r.to) return &r;
    return nullptr;
}

Pictures take_pictures(const show::Show& show, track::Book& book, const show::Desk& desk) {
    Pictures pictures;
    pictures.channels = channels_of(show, desk, true);
    pictures.pushed = channels_of(show, desk, false);
    pictures.elsewhere = count_elsewhere(show, pictures.channels);
    track::Tracker tracker(show, book);
    Camera camera(show, book, tracker);
    const lower::Responses responses(show);
    add_floors(show, book.floors, responses, pictures.channels);
    while (tracker.next()) {
        pictures.cues.push_back(photograph(show, pictures.channels, camera, tracker, responses, desk.notch));
        const Picture off = photograph(show, pictures.pushed, camera, tracker, responses, desk.notch);
        pictures.pushed_lit.emplace_back();
        for (Index i = 0; i < off.set.size(); ++i)
            if (off.set[i] > 0) pictures.pushed_lit.back().push_back(i);
    }
    return pictures;
}

}  // namespace tallow::desk
