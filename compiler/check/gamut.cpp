// Colours that a type cannot show.
#include <algorithm>
#include <fmt/format.h>

#include "compiler/check/check.hpp"

namespace tallow::check {
namespace {

// From about one just noticeable step (CIE TN 001: Δu′v′ .0011) on, a colour is said to be missed.
constexpr double noticeable = 0.001;

std::string named(const Show& show, bool palette, Index what) {
    if (!palette) return "this colour";
    const show::Palette& p = show.palettes[what];
    return fmt::format("`{}`{}", p.name, p.of_fixtures ? " as this line has it" : "");
}

}  // namespace

void check_gamut(const Show& show, const track::Colours& colours, source::Sink& sink) {
    struct Missed {
        bool palette;
        Index what;
        source::Span where;
        std::string types;
    };
    std::vector<Missed> missed;
    for (const auto& asked : colours.asked()) {
        if (!asked.colour->solved || asked.colour->distance < noticeable) continue;
        const auto same = [&](const Missed& m) { return m.palette == asked.palette && m.what == asked.what; };
        auto at = std::find_if(missed.begin(), missed.end(), same);
        if (at == missed.end())
            at = missed.insert(at, {asked.palette, asked.what,
                                    asked.palette ? show.palettes[asked.what].span : asked.where, ""});
        at->types += fmt::format("{}`{}` misses it by Δu′v′ {:.3f}", at->types.empty() ? "" : ", ",
                                 show.types[asked.fixtures.type].name, asked.colour->distance);
    }
    for (Missed& m : missed)
        sink.report(source::Finding::out_of_gamut, m.where,
                    fmt::format("not every fixture can show {}: {}", named(show, m.palette, m.what), m.types))
            .with_hint(
                "the nearest colour is taken; a difference under 0.003 is close, above 0.007 it is another "
                "colour");
}

}  // namespace tallow::check
