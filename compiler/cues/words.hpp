// Words that the pages share.
#pragma once

#include <string>

#include "compiler/cues/changes.hpp"

namespace tallow::cues {

inline constexpr std::size_t columns = 80;

// `cue 7  "Wind gets up"`
std::string title(const show::Cue& cue);
// `colour 10s  move 2s`: the classes whose time is not that of rising levels.
std::string class_times_text(const show::Cue& cue);
// `curve ease  block`: what is not the plain case.
std::string manner_text(const show::Cue& cue);
// `front 1..3  amber 60%  fade 4s`
std::string change_text(const show::Show& show, const ChangeGroup& group);
// `cue 6, show.tallow:76`, or `home`.
std::string origin_text(const show::Show& show, const source::Sources& sources, const track::Origin& origin);

}  // namespace tallow::cues
