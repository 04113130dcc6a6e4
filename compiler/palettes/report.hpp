// What a show's colours come to on its types: a value, which text, JSON and the diagram are written from.
// grammar/COLOURS.md describes all three.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "compiler/check/typical.hpp"
#include "compiler/colour/cct.hpp"
#include "compiler/palettes/kinds.hpp"

namespace tallow::palettes {

// Kinds whose lights are nearer in Δu′v′ agree. About two just noticeable steps (CIE TN 001: .0011).
inline constexpr double agreed = 0.002;
// A target further than this from the Planckian locus, in Duv, is no white; own choice.
inline constexpr double white_duv = 0.02;

// A colour on a kind of fixtures, at full intensity.
struct Shown {
    Index kind;                              // into Report::kinds
    std::vector<runtime::Level> level;       // one for each of Type::emitters
    Index slot = show::none;                 // of the type's wheel
    std::optional<colour::Chromaticity> xy;  // before rounding; none where nothing shines
    std::optional<double> off;               // Δu′v′ from the target; none without one
    std::optional<colour::Correlated> white;
    double lumens = 0;                // 0: not known
    double share = 0;                 // of the lumens of the brightest kind; 0: not known
    double kept = 1;                  // of its light, where balancing takes some
    bool typical = false;             // rests on emitters that were not measured
    std::optional<double> in_8_bits;  // Δu′v′ that rounding moves it by; none for a wheel, and where
    std::vector<std::optional<double>> desk;  // it goes dark; one for each of Report::desks
};

struct Entry {
    std::string name;             // of the palette, or the colour as written
    bool palette = true;          // false: a colour of a line
    std::vector<Index> fixtures;  // for which alone a palette's own line says it
    std::optional<colour::Chromaticity> target;
    std::vector<Shown> on;
    // Kinds, into `on`, that agree all with all; first the group of the kind nearest to the target (of named
    // emitters: the brightest). Kinds without light are in none.
    std::vector<std::vector<std::size_t>> groups;
};

struct Report {
    std::vector<Kind> kinds;
    std::vector<Index> desks;  // into Show::desks
    std::vector<Entry> entries;
    std::vector<check::TypicalUse> typical;
};

// Palettes as declared, each with its own lines behind it; then colours of lines as the book was asked for
// them, each text once. `typical` as the check found it.
Report make_report(const Show& show, track::Colours& colours, std::vector<Index> desks,
                   std::vector<check::TypicalUse> typical);

}  // namespace tallow::palettes
