#include "compiler/desk/fidelity.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>

#include "compiler/colour/chromaticity.hpp"
#include "compiler/desk/dark.hpp"
#include "compiler/desk/sheet_words.hpp"
#include "compiler/track/light.hpp"

namespace tallow::desk {
namespace {

// A fixture or cell with the channels of its emitters, in the order of Type::emitters.
struct Coloured {
    show::Element element;
    const show::Type* type;
    std::vector<std::size_t> channels;  // nowhere: no channel
};

constexpr std::size_t nowhere = ~std::size_t{0};

std::vector<Coloured> coloured(const show::Show& show, const Pictures& pictures) {
    const auto channel_of = channels_by_parameter(pictures, pictures.channels.size());
    std::map<std::pair<Index, std::uint16_t>, Coloured> found;
    for (const auto& [parameter, channel] : channel_of) {
        const show::ParameterDef& def = show.definition(parameter);
        if (def.emitter == show::no_place) continue;
        const Index fixture = show.parameters[parameter].fixture;
        const show::Type& type = show.type_of(show.fixtures[fixture]);
        auto& entry = found.try_emplace({fixture, def.cell}).first->second;
        entry.element = {fixture, def.cell};
        entry.type = &type;
        entry.channels.resize(type.emitters.size(), nowhere);
        entry.channels[def.emitter] = channel;
    }
    std::vector<Coloured> all;
    for (auto& [key, entry] : found) all.push_back(std::move(entry));
    return all;
}

std::optional<colour::Light> light(const Coloured& fixture, const std::vector<Percent>& levels) {
    std::vector<double> emitters;
    for (const std::size_t c : fixture.channels)
        emitters.push_back(c == nowhere ? 0
                                        : static_cast<double>(levels[c]) / static_cast<double>(all_of_it) *
                                              runtime::full);
    return track::light_of(*fixture.type, emitters);
}

class Judge {
  public:
    Judge(const show::Show& show, const Pictures& pictures)
        : show_(show),
          pictures_(pictures),
          masters_(masters_of(show, pictures, pictures.channels.size())),
          coloured_(coloured(show, pictures)) {}

    Fidelity cue(Index cue, std::vector<Percent> given, const Chases& chases) const {
        Fidelity f;
        f.cue = cue;
        name_waves(f, chases, given.size());
        given.resize(pictures_.channels.size(), 0);
        judge_levels(f, given, chases);
        judge_colours(f, given);
        return f;
    }

  private:
    bool shows(const Picture& picture, std::size_t c) const {
        return picture.chase[c] == 0 && !is_down(picture, masters_[c]);
    }

    // A wave that stands still is off by its way from where it stands, a chase by its steps.
    void judge_levels(Fidelity& f, const std::vector<Percent>& given, const Chases& chases) const {
        const Picture& picture = pictures_.cues[f.cue];
        for (std::size_t c = 0; c < given.size(); ++c)
            if (shows(picture, c)) note(f, c, std::abs(given[c] - picture.wanted[c]) + picture.swing[c]);
        for (const Chase& chase : chases.chases)
            if (std::binary_search(chase.cues.begin(), chase.cues.end(), f.cue))
                for (std::size_t m = 0; m < chase.channels.size(); ++m)
                    note(f, chase.channels[m], chase.steps.worst[m]);
    }

    static void note(Fidelity& f, std::size_t channel, Percent off) {
        if (off <= f.level) return;
        f.level = off;
        f.channel = channel;
    }

    void judge_colours(Fidelity& f, const std::vector<Percent>& given) const {
        const Picture& picture = pictures_.cues[f.cue];
        for (const Coloured& fixture : coloured_) {
            const bool seen = std::all_of(fixture.channels.begin(), fixture.channels.end(),
                                          [&](std::size_t c) { return c == nowhere || shows(picture, c); });
            const auto wanted = light(fixture, picture.wanted), is = light(fixture, given);
            if (!seen || !wanted || !is) continue;
            const double off = colour::distance_uv(wanted->xy, is->xy);
            if (off <= f.colour) continue;
            f.colour = off;
            f.of = fixture.element;
        }
    }

    // `width`: channels that the layout gives.
    void name_waves(Fidelity& f, const Chases& chases, std::size_t width) const {
        for (const Chase& chase : chases.chases) {
            if (std::find(chase.cues.begin(), chase.cues.end(), f.cue) == chase.cues.end()) continue;
            for (const std::string& name : chase.of)
                f.waves.push_back(fmt::format("chase {} plays {}", chase.number, name));
        }
        const Picture& picture = pictures_.cues[f.cue];
        name_held(f, picture.waves, width, show_.waves, " stands still");
        name_held(f, picture.chases, width, show_.chases, " stands at its first step");
    }

    template <class Named>
    static void name_held(Fidelity& f, const std::vector<std::vector<Index>>& running, std::size_t width,
                          const std::vector<Named>& named, const char* inside_words) {
        std::set<Index> inside, outside;
        for (std::size_t c = 0; c < running.size(); ++c)
            (c < width ? inside : outside).insert(running[c].begin(), running[c].end());
        for (const Index i : inside) f.waves.push_back(named[i].name + inside_words);
        for (const Index i : outside) f.waves.push_back(named[i].name + " is not seen past the last fader");
    }

    const show::Show& show_;
    const Pictures& pictures_;
    Masters masters_;
    std::vector<Coloured> coloured_;
};

}  // namespace

std::vector<Fidelity> judge(const show::Show& show, const Pictures& pictures, const Chases& chases,
                            const Given& given, const std::vector<Preset>& presets,
                            const Recordings* recordings) {
    const Judge judge(show, pictures);
    std::vector<Fidelity> all;
    const auto add = [&](const auto& step) {
        all.push_back(judge.cue(step.cue, given[step.cue], chases));
        all.back().room = step.room;
        all.back().in_time = step.in_time();
    };
    if (recordings == nullptr)
        std::for_each(presets.begin(), presets.end(), add);
    else
        std::for_each(recordings->run.begin(), recordings->run.end(), add);
    return all;
}

std::string summary(const show::Show& show, const std::vector<Fidelity>& cues, Percent notch) {
    if (cues.empty()) return "The show has no cues.";
    const auto near =
        std::count_if(cues.begin(), cues.end(), [&](const Fidelity& f) { return 2 * f.level <= notch; });
    const auto late = std::count_if(cues.begin(), cues.end(), [](const Fidelity& f) { return !f.in_time; });
    const auto& level = *std::max_element(
        cues.begin(), cues.end(), [](const Fidelity& a, const Fidelity& b) { return a.level < b.level; });
    const auto& colour = *std::max_element(
        cues.begin(), cues.end(), [](const Fidelity& a, const Fidelity& b) { return a.colour < b.colour; });
    std::string words = fmt::format("{} of {} within half a notch.", near, counted(cues.size(), "cue"));
    if (level.level > 0)
        words += fmt::format(" Levels are off by {}% at the most (cue {}).", error_text(level.level),
                             number(show, level.cue));
    if (colour.of)
        words += fmt::format(" Colours are off by Δu′v′ {:.4f} at the most (cue {}, {}).", colour.colour,
                             number(show, colour.cue), show::element_text(show, *colour.of));
    if (late > 0)
        words += fmt::format(" Hands are too slow for {}.", counted(static_cast<std::size_t>(late), "cue"));
    return words;
}

}  // namespace tallow::desk
