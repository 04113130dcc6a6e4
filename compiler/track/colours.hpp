// Colours as emitter levels: each colour is solved once for each type.
#pragma once

#include <array>
#include <compare>
#include <map>
#include <span>
#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::track {

using runtime::Level;
using show::Index;
using show::Show;

// Fixtures that show a colour alike: a type, and the balanced group that they stand in (or none).
struct Alike {
    Index type;
    Index balance;
    auto operator<=>(const Alike&) const = default;
};

// A colour on such fixtures.
struct TypeColour {
    std::vector<Level> level;  // one for each of Type::emitters: emitters or filters
    Index slot = show::none;   // of the type's wheel, where that has to show it
    double distance = 0;  // Δu′v′ from what was asked, or colour::no_light; 0 where emitters were named
    bool solved = false;  // from a chromaticity, not from named emitters
    colour::Chromaticity xy{};  // before rounding
    double lumens = 0;          // before rounding; 0 where it is not known: filters, wheels
    double kept = 1;            // of its light, where it is balanced
};

class Colours {
  public:
    explicit Colours(const Show& show) : show_(show) {}

    // Of a setting of the kind colour, or of a palette that holds a colour. Good until the book goes.
    const TypeColour& on(Alike fixtures, const show::Setting& setting);
    // On one fixture or cell, of which the palette may say something of its own.
    const TypeColour& on(show::Element element, const show::Setting& setting);

    // A chromaticity, as near as it comes.
    TypeColour solve(Alike fixtures, colour::Chromaticity target) const;

    // What was asked for so far, in that order.
    struct Asked {
        Alike fixtures;
        bool palette;
        Index what;          // into Show::palettes or Show::colours
        source::Span where;  // first asked for here
        const TypeColour* colour;
    };
    const std::vector<Asked>& asked() const { return asked_; }

  private:
    TypeColour of_palette(Alike fixtures, const show::Palette& palette) const;

    const Show& show_;
    std::map<std::array<std::uint64_t, 2>, TypeColour> known_;  // by fixtures and colour
    std::vector<Asked> asked_;
};

}  // namespace tallow::track
