// What one member of a selection cannot take is skipped if another can; what none can is an error.
#pragma once

#include "compiler/show/scope.hpp"

namespace tallow::show {

void check_taken(Scope& scope, Reader& reader, const Statement& statement);

}  // namespace tallow::show
