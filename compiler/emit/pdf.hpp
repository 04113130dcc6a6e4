// Pages as PDF, by Cairo and Pango: any script that some font of the machine knows.
#pragma once

#include <string>
#include <vector>

#include "compiler/emit/page.hpp"
#include "runtime/status.hpp"

namespace tallow::emit {

struct Pdf {
    std::string bytes;
    std::vector<std::string> lacking;  // lines with signs that no font at hand has: boxes stand for them
};

// The same bytes at every run on one machine; other fonts give other bytes. A line that is wider than its
// room in the fonts at hand is narrowed. The sheets are the document's outline.
runtime::Result<Pdf> pdf(const SheetSet& set, const Document& document);

}  // namespace tallow::emit
