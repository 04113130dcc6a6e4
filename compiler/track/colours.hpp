// Colours as emitter levels: each colour is solved once for each type.
#pragma once

#include <span>
#include <unordered_map>
#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::track {

using runtime::Level;
using show::Index;
using show::Show;

// A colour on a type.
struct TypeColour {
    std::vector<Level> level;  // one for each of Type::emitters
    double distance = 0;       // Δu′v′ from what was asked; 0 where emitters were named
    bool solved = false;       // from a chromaticity, not from named emitters
};

class Colours {
  public:
    explicit Colours(const Show& show) : show_(show) {}

    // Of a setting of the kind colour, or of a palette that holds a colour. Good until the book goes.
    const TypeColour& on(Index type, const show::Setting& setting);

    // The emitter levels of a chromaticity on a type, as near as they come.
    static std::vector<Level> levels(const show::Type& type, colour::Chromaticity target) {
        return solve(type, target).level;
    }

    // What was asked for so far, in that order.
    struct Asked {
        Index type;
        bool palette;
        Index what;          // into Show::palettes or Show::colours
        source::Span where;  // first asked for here
        const TypeColour* colour;
    };
    const std::vector<Asked>& asked() const { return asked_; }

  private:
    static TypeColour solve(const show::Type& type, colour::Chromaticity target);
    TypeColour of_palette(const show::Type& type, const show::Palette& palette) const;

    const Show& show_;
    std::unordered_map<std::uint64_t, TypeColour> known_;  // by type and colour; never walked
    std::vector<Asked> asked_;
};

}  // namespace tallow::track
