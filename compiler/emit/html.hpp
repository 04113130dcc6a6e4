// Pages as one HTML file, without scripts: it flows on a screen of any width, light or dark, and prints page
// by page. It is well-formed XML too.
#pragma once

#include <string>

#include "compiler/emit/page.hpp"

namespace tallow::emit {

// The same bytes on every machine.
std::string html(const SheetSet& set, const Document& document);

}  // namespace tallow::emit
