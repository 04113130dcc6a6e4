// From documents to the show.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"
#include "compiler/source/diagnostics.hpp"
#include "compiler/syntax/document.hpp"

namespace tallow::show {

// Looks up every name and reads every value. What is wrong goes to the sink; the show holds the rest, and
// indices in it are sound. The documents and sources must outlive the call alone.
Show resolve(const std::vector<syntax::Document>& documents, const source::Sources& sources,
             source::Sink& sink);

// The same, and the fixtures and cells that `asked` names, a document of one line with a selection: put into
// `selected`. What is wrong with it goes to the sink.
Show resolve(const std::vector<syntax::Document>& documents, const source::Sources& sources,
             source::Sink& sink, const syntax::Document& asked, std::vector<Element>& selected);

}  // namespace tallow::show
