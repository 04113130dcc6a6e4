// The cue list as sheets: what a crew keeps on paper. grammar/SHEETS.md describes the table.
#pragma once

#include <vector>

#include "compiler/cues/aspects.hpp"
#include "compiler/emit/sheet.hpp"

namespace tallow::cues {

// One for each cue list, the main one first.
std::vector<emit::Sheet> cue_sheets(const show::Show& show, const source::Sources& sources,
                                    track::Book& book);

}  // namespace tallow::cues
