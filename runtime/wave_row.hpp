// Where a wave keeps the row of a parameter.
#pragma once

#include <algorithm>

#include "runtime/roll.hpp"

namespace tallow::runtime {

// The row of a parameter in a wave, whose rows stand in parameter order; none when the wave does not move it.
inline std::uint32_t row_of(const Wave& wave, std::uint32_t parameter) {
    const auto& rows = wave.parameter;
    const auto at = std::lower_bound(rows.begin(), rows.end(), parameter);
    return at != rows.end() && *at == parameter ? static_cast<std::uint32_t>(at - rows.begin()) : none;
}

}  // namespace tallow::runtime
