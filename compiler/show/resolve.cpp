#include "compiler/show/resolve.hpp"

#include "compiler/show/bounds.hpp"
#include "compiler/show/steps.hpp"

namespace tallow::show {

namespace {

void select(Scope& scope, Selector& selector, const syntax::Document& asked, std::vector<Element>& selected) {
    const syntax::Line nothing{};
    Reader reader = scope.reader(asked, asked.lines.empty() ? nothing : asked.lines[0]);
    const Index at = selector.read(reader);
    reader.expect_end();
    if (at != none) selected = scope.show.selections[at].elements;
}

Show resolve_all(const std::vector<syntax::Document>& documents, const source::Sources& sources,
                 source::Sink& sink, const syntax::Document* asked, std::vector<Element>* selected) {
    Scope scope(sources, sink, documents);
    resolve_show(scope);
    if (sink.has(source::Finding::later_edition)) {  // what a later edition means is not known here
        sink.keep_only(source::Finding::later_edition);
        return std::move(scope.show);
    }
    resolve_types(scope);
    resolve_patch(scope);
    Selector selector(scope);
    resolve_hangs(scope, selector);
    resolve_groups(scope, selector);
    if (asked != nullptr) select(scope, selector, *asked, *selected);
    resolve_palettes(scope, selector);
    resolve_waves(scope);
    StatementReader statements(scope, selector);
    const std::vector<Place> chases = declare_chases(scope);
    resolve_looks(scope, statements);
    resolve_chases(scope, statements, chases);
    resolve_submasters(scope, statements);
    resolve_safety(scope, statements);
    resolve_cues(scope, statements);
    if (check_bounds(scope)) check_look_parts(scope);
    resolve_desks(scope);
    resolve_power(scope, selector);
    resolve_data(scope, selector);
    return std::move(scope.show);
}

}  // namespace

Show resolve(const std::vector<syntax::Document>& documents, const source::Sources& sources,
             source::Sink& sink) {
    return resolve_all(documents, sources, sink, nullptr, nullptr);
}

Show resolve(const std::vector<syntax::Document>& documents, const source::Sources& sources,
             source::Sink& sink, const syntax::Document& asked, std::vector<Element>& selected) {
    return resolve_all(documents, sources, sink, &asked, &selected);
}

}  // namespace tallow::show
