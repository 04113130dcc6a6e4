// The order of addresses.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::show {

// All fixtures by address; bodies of a gang in the order of the text.
std::vector<Index> patch_order(const Show& show);

}  // namespace tallow::show
