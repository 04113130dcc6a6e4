#include "compiler/cues/aspects.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/syntax/reader.hpp"
#include "compiler/text/decimal.hpp"
#include "grammar/words.hpp"

namespace tallow::cues {
namespace {

using runtime::Kind;
using show::Setting;

std::string level_words(runtime::Level level) {
    return level == 0 ? "out" : level == runtime::full ? "full" : syntax::percent_text(level);
}

std::string words_of(const show::Value& value) {
    if (value.form == show::Value::Form::named) return value.name;
    return text::decimal(value.measure).append(grammar::text(value.unit));
}

// The settings of a line, those that its palettes hold for the element in their place.
std::vector<const Setting*> settings_of(const show::Show& show, Index statement, Element element) {
    std::vector<const Setting*> all;
    const show::Statement& line = show.statements[statement];
    for (Index i = 0; i < line.setting_count; ++i) {
        const Setting& setting = show.settings[line.first_setting + i];
        all.push_back(&setting);
        if (setting.kind != Setting::Kind::palette) continue;
        const show::Palette& palette = show.palettes[palette_for(show, setting.what, element)];
        for (Index p = 0; p < palette.setting_count; ++p)
            if (const Setting& part = show.settings[palette.first_setting + p];
                part.kind == Setting::Kind::parameter)
                all.push_back(&part);
    }
    return all;
}

class Describer {
  public:
    Describer(const Stage& stage, Element element)
        : stage_(stage),
          element_(element),
          fixture_(stage.show.fixtures[element.fixture]),
          mode_(stage.show.mode_of(fixture_)) {
        for (std::size_t place = 0; place < mode_.parameters.size(); ++place)
            if (mode_.parameters[place].cell == element.cell)
                own_.push_back(fixture_.first_parameter + static_cast<Index>(place));
    }

    std::vector<Aspect> run() {
        add_colours();
        for (const Index p : own_)
            if (kind(p) == Kind::intensity) add("level", level_words(level(p)) + kept_words(p), {p});
        for (const Index p : own_)
            if (kind(p) == Kind::position || kind(p) == Kind::beam)
                add(name(p), name(p) + " " + value_words(p), {p});
        add_waves();
        return std::move(all_);
    }

  private:
    Kind kind(Index p) const { return stage_.show.definition(p).kind; }
    runtime::Level level(Index p) const { return stage_.tracker.at(p).level; }
    const std::string& name(Index p) const {
        return stage_.show.attributes[stage_.show.definition(p).attribute];
    }

    // Where `keep` holds more than was stated.
    std::string kept_words(Index p) const {
        const runtime::Level floor = stage_.book.floors.of(p);
        return floor > level(p) ? fmt::format(", never under {}", level_words(floor)) : "";
    }

    void add(std::string what, std::string words, std::vector<Index> parameters) {
        Aspect aspect{std::move(what), std::move(words), std::move(parameters), {}, {}};
        for (const Index p : aspect.parameters) aspect.levels.emplace_back(name(p), level(p));
        aspect.from = stage_.tracker.origin(aspect.parameters[0]);
        all_.push_back(std::move(aspect));
    }

    void add_colours() {
        std::vector<std::vector<Index>> by_line;
        for (const Index p : own_) {
            if (kind(p) != Kind::colour) continue;
            const auto same = std::find_if(by_line.begin(), by_line.end(), [&](const auto& group) {
                return stage_.tracker.origin(group[0]) == stage_.tracker.origin(p);
            });
            if (same == by_line.end())
                by_line.push_back({p});
            else
                same->push_back(p);
        }
        for (std::vector<Index>& group : by_line) add("colour", colour_words(group), group);
    }

    std::string colour_words(const std::vector<Index>& emitters) {
        const Index statement = stage_.tracker.origin(emitters[0]).statement;
        if (statement == show::none) return "no colour";
        for (const Setting* setting : settings_of(stage_.show, statement, element_))
            if (is_colour(*setting) && is_exactly(*setting, emitters)) return colour_name(*setting);
        std::string words;
        for (const Index p : emitters)
            words += fmt::format("{}{} {}", words.empty() ? "" : " ", name(p), level_words(level(p)));
        return words;
    }

    bool is_colour(const Setting& setting) const {
        return setting.kind == Setting::Kind::colour ||
               (setting.kind == Setting::Kind::palette && stage_.show.palettes[setting.what].coloured);
    }

    std::string colour_name(const Setting& setting) const {
        return setting.kind == Setting::Kind::palette ? stage_.show.palettes[setting.what].name
                                                      : stage_.show.colours[setting.what].text;
    }

    bool is_exactly(const Setting& setting, const std::vector<Index>& emitters) {
        const auto all =
            std::count_if(own_.begin(), own_.end(), [&](Index p) { return kind(p) == Kind::colour; });
        const track::TypeColour& colour = stage_.book.colours.on(element_, setting);
        return all == static_cast<std::ptrdiff_t>(emitters.size()) &&
               std::all_of(emitters.begin(), emitters.end(), [&](Index p) {
                   return colour.level[stage_.show.definition(p).emitter] == level(p);
               });
    }

    // As the line said it, where that is where the value stands; a level by the range that it lies in.
    std::string value_words(Index p) const {
        const Index statement = stage_.tracker.origin(p).statement;
        if (statement == show::none) return range_words(p);
        const Index attribute = stage_.show.definition(p).attribute;
        for (const Setting* setting : settings_of(stage_.show, statement, element_)) {
            if (setting->kind != Setting::Kind::parameter || setting->what != attribute) continue;
            const show::Value& value = stage_.show.values[setting->value];
            bool jumps = false;
            if (value.form != show::Value::Form::level &&
                level_of(stage_.show.type_of(fixture_), attribute, value, jumps) == level(p))
                return words_of(value);
        }
        return range_words(p);
    }

    // `deep-blue` in the middle of that range, where its name sends it; elsewhere in it `deep-blue (9.4%)`.
    std::string range_words(Index p) const {
        std::string percent = syntax::percent_text(level(p));
        const auto* ranges = stage_.show.type_of(fixture_).ranges_of(stage_.show.definition(p).attribute);
        if (ranges == nullptr) return percent;
        const std::uint8_t slot = runtime::narrow(level(p));
        for (const show::Range& range : *ranges)
            if (!range.name.empty() && range.from <= slot && slot <= range.to)
                return level(p) == range.middle() ? range.name : fmt::format("{} ({})", range.name, percent);
        return percent;
    }

    void add_waves() {
        std::vector<std::pair<Index, std::vector<Index>>> running;  // and what they move
        for (const Index p : own_) {
            const Index wave = stage_.tracker.at(p).wave;
            if (wave == show::none) continue;
            const auto same = std::find_if(running.begin(), running.end(),
                                           [&](const auto& other) { return other.first == wave; });
            if (same == running.end())
                running.push_back({wave, {p}});
            else
                same->second.push_back(p);
        }
        for (auto& [wave, moved] : running) {
            const track::WaveInstance& instance = stage_.tracker.waves()[wave];
            all_.push_back(
                {"wave", wave_words(instance), std::move(moved), {}, {instance.statement, instance.cue}});
        }
    }

    // With what the line changes about it, as written.
    std::string wave_words(const track::WaveInstance& instance) const {
        if (instance.chase != show::none) return instance_name(stage_.show, instance);
        const show::Statement& line = stage_.show.statements[instance.statement];
        for (Index i = 0; i < line.setting_count; ++i) {
            const Setting& setting = stage_.show.settings[line.first_setting + i];
            if (setting.kind != Setting::Kind::wave || setting.what != instance.use) continue;
            std::string words(stage_.sources.text(setting.span));
            const auto both_blank = [](char a, char b) { return a == ' ' && b == ' '; };
            std::replace(words.begin(), words.end(), '\t', ' ');
            words.erase(std::unique(words.begin(), words.end(), both_blank), words.end());
            return words;
        }
        return instance_name(stage_.show, instance);
    }

    const Stage& stage_;
    Element element_;
    const show::Fixture& fixture_;
    const show::Mode& mode_;
    std::vector<Index> own_;
    std::vector<Aspect> all_;
};

}  // namespace

std::string instance_name(const show::Show& show, const track::WaveInstance& instance) {
    return instance.chase == show::none ? "wave " + show.waves[show.wave_uses[instance.use].wave].name
                                        : "chase " + show.chases[instance.chase].name;
}

std::vector<Aspect> aspects(const Stage& stage, Element element) {
    return Describer(stage, element).run();
}

bool lit(const Stage& stage, Element element) {
    const show::Fixture& fixture = stage.show.fixtures[element.fixture];
    const show::Mode& mode = stage.show.mode_of(fixture);
    for (std::size_t place = 0; place < mode.parameters.size(); ++place) {
        const show::ParameterDef& def = mode.parameters[place];
        if (def.kind != Kind::intensity || (element.cell != 0 && def.cell != element.cell)) continue;
        const auto level = [&](std::size_t at) {
            const Index parameter = fixture.first_parameter + static_cast<Index>(at);
            const track::Standing& standing = stage.tracker.at(parameter);
            return stage.tracker.is_chase(standing.wave)
                       ? runtime::full
                       : std::max(standing.level, stage.book.floors.of(parameter));
        };
        // A master with cells is judged by what stands under it.
        const bool masters = std::any_of(mode.parameters.begin(), mode.parameters.end(), [&](const auto& d) {
            return d.kind == Kind::intensity && d.under == place;
        });
        if (!masters && level(place) > 0 && (def.under == show::no_place || level(def.under) > 0))
            return true;
    }
    return false;
}

bool at_home(const Stage& stage, const Aspect& aspect) {
    if (aspect.what == "wave") return false;
    return std::all_of(aspect.parameters.begin(), aspect.parameters.end(), [&](Index p) {
        const bool colour = aspect.what == "colour";
        return colour ? stage.tracker.origin(p).statement == show::none
                      : stage.tracker.at(p).level == stage.show.definition(p).home &&
                            stage.book.floors.of(p) <= stage.tracker.at(p).level;
    });
}

}  // namespace tallow::cues
