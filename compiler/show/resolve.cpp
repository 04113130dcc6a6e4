#include "compiler/show/resolve.hpp"

#include "compiler/show/steps.hpp"

namespace tallow::show {

Show resolve(const std::vector<syntax::Document>& documents, const source::Sources& sources,
             source::Sink& sink) {
    Scope scope(sources, sink, documents);
    resolve_show(scope);
    resolve_types(scope);
    resolve_patch(scope);
    Selector selector(scope);
    resolve_groups(scope, selector);
    resolve_palettes(scope);
    resolve_waves(scope);
    StatementReader statements(scope, selector);
    resolve_looks(scope, statements);
    resolve_cues(scope, statements);
    resolve_desks(scope);
    return std::move(scope.show);
}

}  // namespace tallow::show
