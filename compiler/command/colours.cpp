#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"
#include "compiler/palettes/writers.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/files.hpp"

namespace tallow::command {
namespace {

using show::Index;

// All desks, or the one that is named.
runtime::Result<std::vector<Index>> find_desks(const show::Show& show, const std::string& wanted) {
    std::vector<Index> desks;
    std::string names;
    for (Index i = 0; i < show.desks.size(); ++i) {
        if (wanted.empty() || show.desks[i].name == text::canonical_name(wanted)) desks.push_back(i);
        names += fmt::format("{}`{}`", names.empty() ? "" : ", ", show.desks[i].name);
    }
    if (wanted.empty() || !desks.empty()) return desks;
    return runtime::Status::failure(
        names.empty() ? fmt::format("--desk: there is no desk `{}`: none is declared", wanted)
                      : fmt::format("--desk: there is no desk `{}`; the show has {}", wanted, names));
}

}  // namespace

int colours(const ColoursOptions& options) {
    int exit = done;
    const auto c = compile_or_complain(options.show, exit);
    if (!c) return exit;
    auto desks = find_desks(c->show, options.desk);
    if (!desks.ok()) return complain(desks.why());
    const auto report = palettes::make_report(c->show, c->book->colours, std::move(*desks));
    if (!options.svg.empty())
        if (const auto s = runtime::write_file(options.svg, palettes::diagram(c->show, report)); !s.ok())
            return complain(s.why());
    if (options.svg == "-") return done;
    const auto status = runtime::write_file(
        "-", options.json ? palettes::json(c->show, report) : palettes::text(c->show, report));
    return status.ok() ? done : complain(status.why());
}

}  // namespace tallow::command
