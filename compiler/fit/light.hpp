// The light of a fixture as what its slots do over all time, so that two fixtures, or one in two modes, can
// be compared.
#pragma once

#include <vector>

#include "compiler/fit/history.hpp"
#include "compiler/show/show.hpp"

namespace tallow::fit {

using show::Index;

// What a fixture gives of one kind: an emitter's light of one cell, a dimmer's, or another parameter.
struct Output {
    Index attribute;     // into Show::attributes
    std::uint16_t cell;  // 0: of the whole fixture
    bool shines;         // an emitter or a dimmer: without the slot it is dark; all else is at home
    Level home = 0;      // of what does not shine
    // The level that it always has, or the parameters that make it.
    std::optional<Level> always;
    // Of each slot that shares in it what its parameters do, as they are multiplied and rounded. A level that
    // is always full takes no part.
    std::vector<Mark> slots;
    std::vector<Mark> parts;                 // the same without how they are rounded
    std::uint16_t emitter = show::no_place;  // into Type::emitters
    // Of the roll: its own, then those of the intensities above it.
    std::vector<std::uint32_t> parameters;
};

// By attribute, then by cell. The roll is the show's.
std::vector<Output> outputs_of(const show::Show& show, const runtime::Roll& roll,
                               const std::vector<History>& histories, Index fixture);

// The cell of a mode of `to` cells that lights what cell `cell` of `from` cells does: 0, the whole fixture,
// where it has none. `from` is a multiple of `to`, or `to` is 0.
std::uint16_t cell_in(std::uint16_t cell, std::uint16_t from, std::uint16_t to);

// The output that shows in another mode what `output` shows; null where that has none. Cells as above.
const Output* counterpart(const std::vector<Output>& outputs, const Output& output, std::uint16_t from,
                          std::uint16_t to);

// Whether a fixture gives the same light as before: `before` from a mode of `from` cells, `after` of `to`.
bool same_light(const std::vector<Output>& before, std::uint16_t from, const std::vector<Output>& after,
                std::uint16_t to);

}  // namespace tallow::fit
