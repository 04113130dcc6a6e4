// Colours that a type cannot show.
#include <algorithm>
#include <fmt/format.h>
#include <vector>

#include "compiler/check/check.hpp"

namespace tallow::check {
namespace {

// From about one just noticeable step (CIE TN 001: Δu′v′ .0011) on, a colour is said to be missed.
constexpr double noticeable = 0.001;

// Types that miss a colour, each once: it may stand in several balanced groups.
class Missing {
  public:
    bool none() const { return said_.empty(); }
    bool knows(const show::Type& type) const {
        return std::find(said_.begin(), said_.end(), type.name) != said_.end();
    }
    void add(const show::Type& type, double distance, const std::string& by) {
        if (knows(type)) return;
        said_.push_back(type.name);
        text_ += fmt::format("{}`{}` {}", text_.empty() ? "" : ", ", type.name,
                             distance < colour::no_light ? "misses it by " + by : "has no light that shows");
    }
    void report(source::Sink& sink, source::Span where, const std::string& what) const {
        sink.report(source::Finding::out_of_gamut, where,
                    fmt::format("not every fixture can show {}: {}", what, text_))
            .with_hint(
                "the nearest colour is taken; a difference under 0.003 is close, above 0.007 it is another "
                "colour");
    }

  private:
    std::vector<std::string> said_;
    std::string text_;
};

std::string named(const Show& show, bool palette, Index what) {
    if (!palette) return fmt::format("`{}`", show.colours[what].text);
    const show::Palette& p = show.palettes[what];
    return fmt::format("`{}`{}", p.name, p.of_fixtures ? " as this line has it" : "");
}

void check_colours(const Show& show, const track::Colours& colours, source::Sink& sink) {
    struct Missed {
        bool palette;
        Index what;
        source::Span where;
        Missing types;
    };
    std::vector<Missed> missed;
    for (const auto& asked : colours.asked()) {
        if (!asked.colour->solved || asked.colour->distance < noticeable) continue;
        const auto same = [&](const Missed& m) { return m.palette == asked.palette && m.what == asked.what; };
        auto at = std::find_if(missed.begin(), missed.end(), same);
        if (at == missed.end())
            at = missed.insert(at, {asked.palette,
                                    asked.what,
                                    asked.palette ? show.palettes[asked.what].span : asked.where,
                                    {}});
        at->types.add(show.types[asked.fixtures.type], asked.colour->distance,
                      fmt::format("Δu′v′ {:.3f}", asked.colour->distance));
    }
    for (const Missed& m : missed) m.types.report(sink, m.where, named(show, m.palette, m.what));
}

// The hues of one line of a wave, in all its uses.
void check_turn(const Show& show, const track::Colours& colours, const std::vector<HueTurn>& turns,
                source::Sink& sink) {
    Missing missing;
    for (const HueTurn& turn : turns) {
        const show::Type& type = show.types[turn.fixtures.type];
        if (missing.knows(type)) continue;
        const Miss miss = worst_miss(show, colours, turn);
        if (miss.distance >= noticeable)
            missing.add(type, miss.distance,
                        fmt::format("up to Δu′v′ {:.3f}, at {:.0f}deg", miss.distance, miss.degrees));
    }
    if (missing.none()) return;
    const show::Wave& wave = show.waves[turns.front().wave];
    missing.report(sink, wave.components[turns.front().component].span,
                   fmt::format("every hue of the wave `{}`", wave.name));
}

}  // namespace

void check_gamut(const Show& show, const track::Colours& colours, const std::set<HueTurn>& hues,
                 source::Sink& sink) {
    check_colours(show, colours, sink);
    for (auto first = hues.begin(); first != hues.end();) {
        const auto last = std::find_if(first, hues.end(), [&](const HueTurn& t) {
            return t.wave != first->wave || t.component != first->component;
        });
        check_turn(show, colours, {first, last}, sink);
        first = last;
    }
}

}  // namespace tallow::check
