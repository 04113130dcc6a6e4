// Pages as PDF, by Cairo and Pango: any script that some font of the machine knows.
#pragma once

#include <string>

#include "compiler/emit/page.hpp"
#include "runtime/status.hpp"

namespace tallow::emit {

// The same bytes at every run on one machine; other fonts give other bytes. A line that is wider than its
// room in the fonts at hand is narrowed. The sheets are the document's outline.
runtime::Result<std::string> pdf(const SheetSet& set, const Document& document);

}  // namespace tallow::emit
