// A plan as `patch` lines, and a show with these in place of its own.
#pragma once

#include <map>
#include <string>

#include "compiler/fit/plan.hpp"
#include "compiler/source/sources.hpp"

namespace tallow::fit {

// In the plain style of `tallow format`, ended by a line feed. `at` has the first slot of each fixture.
std::string patch_text(const show::Show& show, const source::Sources& sources, const Plan& plan,
                       const std::vector<Slot>& at);

// The files of a show, by path, without their `patch` declarations (but for those that `skip` parks). The
// built-in types are not among them.
std::map<std::string, std::string> without_patch(const source::Sources& sources);

}  // namespace tallow::fit
