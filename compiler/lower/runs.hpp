// Parameters in growing order as neighbours that stand together.
#pragma once

#include <vector>

#include "compiler/lower/sources.hpp"

namespace tallow::lower {

// What a tracker has of them: levels, and what runs on them.
std::vector<runtime::Run> runs(const std::vector<Index>& parameters, const track::Tracker& tracker,
                               const Sources& sources);
std::vector<runtime::Stretch> stretches(const std::vector<Index>& parameters);

}  // namespace tallow::lower
