// The resolved cue list, as text and as JSON. grammar/CUES.md describes both.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "compiler/cues/changes.hpp"

namespace tallow::cues {

struct ListedCue {
    Index cue;  // into Show::cues
    std::vector<ChangeGroup> changes;
};

// All cues of a list; with `only`, those in which something changes about these fixtures and cells, and that
// alone.
std::vector<ListedCue> list_cues(const show::Show& show, const source::Sources& sources, track::Book& book,
                                 Index list, const std::optional<std::vector<Element>>& only);

// A block for each cue.
std::string text(const show::Show& show, const std::vector<ListedCue>& cues);
// A line for each cue, with the lines that its values came from.
std::string short_text(const show::Show& show, const source::Sources& sources,
                       const std::vector<ListedCue>& cues);
std::string json(const show::Show& show, const source::Sources& sources, const std::vector<ListedCue>& cues);

}  // namespace tallow::cues
