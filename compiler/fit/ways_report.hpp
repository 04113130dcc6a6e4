// The ways to put a show on a desk, as text and as JSON. grammar/FIT.md describes both.
#pragma once

#include <string>
#include <vector>

#include "compiler/fit/ways.hpp"

namespace tallow::fit {

struct WaysReport {
    const show::Show& show;
    const source::Sources& sources;
    const show::Desk& desk;
    const std::vector<Way>& ways;
    const std::vector<std::string>& refused;  // as in Ways
    std::size_t chosen;                       // into ways
    const show::Show& chosen_show;            // with the chosen way's patch
};

// Without the patch lines.
std::string ways_text(const WaysReport& report);
std::string ways_json(const WaysReport& report);

// The chosen way's patch.
std::string chosen_patch(const WaysReport& report);

// How many of the chosen way's slots are on no channel of the largest layout; 0 where it fits one, or where
// the desk has none.
std::uint32_t channels_over(const WaysReport& report);

}  // namespace tallow::fit
