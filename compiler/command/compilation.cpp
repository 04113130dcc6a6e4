#include "compiler/command/compilation.hpp"

#include <algorithm>

#include "compiler/lower/lower.hpp"
#include "compiler/show/resolve.hpp"

namespace tallow::command {

runtime::Result<std::unique_ptr<Compilation>> compile(const std::string& path, const show::ReadFile& read) {
    return compile(path, read, "");
}

runtime::Result<std::unique_ptr<Compilation>> compile(const std::string& path, const show::ReadFile& read,
                                                      const std::string& selection) {
    auto c = std::make_unique<Compilation>();
    auto documents = show::load(path, read, c->sources, c->sink);
    if (!documents.ok()) return documents.status();
    c->files = documents->size() - 1;
    if (selection.empty()) {
        c->show = show::resolve(*documents, c->sources, c->sink);
    } else {
        const syntax::Document asked =
            syntax::cut(c->sources.add("--fixture", selection), c->sources, c->sink);
        c->show = show::resolve(*documents, c->sources, c->sink, asked, c->selected);
    }
    c->book = std::make_unique<track::Book>(c->show);
    if (!c->failed()) c->summary = check::check(c->show, *c->book, c->sink);
    return c;
}

bool Compilation::failed_in(const std::string& file) const {
    const auto found = sink.sorted();
    return failed() && std::all_of(found.begin(), found.end(), [&](const source::Diagnostic& d) {
               return source::info(d.finding).severity != source::Severity::error ||
                      sources.path(d.where.file) == file;
           });
}

runtime::Roll make_roll(Compilation& c) {
    return lower::lower(c.show, *c.book);
}

}  // namespace tallow::command
