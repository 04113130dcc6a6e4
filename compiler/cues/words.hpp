// Words that both pages share.
#pragma once

#include <string>

#include "compiler/cues/aspects.hpp"

namespace tallow::cues {

inline constexpr std::size_t columns = 80;

// `cue 7  "Wind gets up"`
std::string title(const show::Cue& cue);
// `cue 6, show.tallow:76`, or `home`.
std::string origin_text(const show::Show& show, const source::Sources& sources, const track::Origin& origin);

}  // namespace tallow::cues
