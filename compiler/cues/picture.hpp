// The whole picture of one cue: what every lit fixture does, and the line that each value came from.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "compiler/cues/aspects.hpp"

namespace tallow::cues {

// Fixtures or cells that do the same because of the same lines.
struct Group {
    std::vector<Element> elements;
    std::vector<Aspect> aspects;
};

struct Picture {
    Index cue = show::none;
    std::vector<Group> groups;  // in the order of the patch
    std::size_t lit = 0;        // fixtures; a gang counts once
    std::size_t dark = 0;       // the others, of which:
    std::size_t preset = 0;     // hold a colour or another value off home
    std::size_t waving = 0;     // have a wave running
};

// Whether a cell or its whole fixture is among those selected.
bool covers(const std::vector<Element>& selected, Element element);
// Whether the fixture or any of its cells is.
bool touches(const std::vector<Element>& selected, Index fixture);

// Each fixture's cells are one where they do the same. Levels of 0, colours that no line gave and values at
// home are left out. With `only`: of these fixtures and cells, the dark ones too.
Picture take_picture(const Stage& stage, const std::optional<std::vector<Element>>& only);

// grammar/CUES.md describes both.
std::string text(const show::Show& show, const source::Sources& sources, const Picture& picture);
std::string json(const show::Show& show, const source::Sources& sources, const Picture& picture);

}  // namespace tallow::cues
