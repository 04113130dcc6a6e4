// Where a wave or a chase keeps the row of a parameter.
#pragma once

#include <algorithm>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// The row of a parameter in a wave or a chase, whose rows stand in parameter order; none when it does not
// move it.
template <class Source>
std::uint32_t row_of(const Source& source, std::uint32_t parameter) {
    const auto& rows = source.parameter;
    const auto at = std::lower_bound(rows.begin(), rows.end(), parameter);
    return at != rows.end() && *at == parameter ? static_cast<std::uint32_t>(at - rows.begin()) : none;
}

}  // namespace tallow::runtime
