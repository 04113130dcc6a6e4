// Which parameters never change, as far as light shows them.
#pragma once

#include "compiler/fit/history.hpp"

namespace tallow::fit {

// Sets History::always.
void find_constants(const runtime::Roll& roll, std::vector<History>& histories);

}  // namespace tallow::fit
