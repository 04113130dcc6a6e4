// The steps of the resolver, in their order. Each reads its declarations and adds to the scope's show.
#pragma once

#include "compiler/show/scope.hpp"
#include "compiler/show/selection.hpp"
#include "compiler/show/statements.hpp"

namespace tallow::show {

void resolve_show(Scope& scope);
void resolve_types(Scope& scope);
void resolve_patch(Scope& scope);
// Before the groups, which may be in the order of positions.
void resolve_hangs(Scope& scope, Selector& selector);
void resolve_groups(Scope& scope, Selector& selector);
void resolve_palettes(Scope& scope, Selector& selector);
void resolve_waves(Scope& scope);
// The names alone: looks and cues speak of chases, whose steps speak of looks.
std::vector<Place> declare_chases(Scope& scope);
void resolve_chases(Scope& scope, StatementReader& statements, const std::vector<Place>& places);
void resolve_submasters(Scope& scope, StatementReader& statements);
void resolve_safety(Scope& scope, StatementReader& statements);
void resolve_looks(Scope& scope, StatementReader& statements);
void resolve_cues(Scope& scope, StatementReader& statements);
void resolve_desks(Scope& scope);
void resolve_power(Scope& scope, Selector& selector);
void resolve_data(Scope& scope, Selector& selector);

}  // namespace tallow::show
