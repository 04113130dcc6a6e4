// The parts of a parameter's travel, in a type's lines.
#pragma once

#include <utility>

#include "compiler/show/scope.hpp"

namespace tallow::show {

// Attributes that lines of a type speak of, and where: a mode has to list them.
using SaidOf = std::vector<std::pair<Index, Span>>;

// `range strobe  open 0..9  rate 10..255 is 1Hz..20Hz`, behind its word.
void read_ranges(Scope& scope, Reader& reader, Type& type, SaidOf& said);

// One of them: `open 0..9`, `is 0deg..540deg`. None after a fault.
std::optional<Range> read_range(Reader& reader);
// Adds it to those of an attribute; false, with a fault, where it overlaps one of them.
bool add_range(Reader& reader, Type& type, Index attribute, const Range& range, std::string_view name);

}  // namespace tallow::show
