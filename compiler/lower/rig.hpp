// The rig as a roll holds it: universes and parameters.
#pragma once

#include "compiler/show/show.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::lower {

void add_rig(const show::Show& show, runtime::Roll& roll);

}  // namespace tallow::lower
