#include <numeric>

#include "compiler/command/commands.hpp"
#include "compiler/command/find_named.hpp"
#include "compiler/command/report.hpp"
#include "compiler/palettes/writers.hpp"
#include "runtime/files.hpp"

namespace tallow::command {
namespace {

using show::Index;

// All desks, or the one that is named.
runtime::Result<std::vector<Index>> find_desks(const show::Show& show, const std::string& wanted) {
    std::vector<Index> desks(show.desks.size());
    std::iota(desks.begin(), desks.end(), 0u);
    if (wanted.empty()) return desks;
    std::string why;
    const Index desk = find_named(show.desks, wanted, "desk", why);
    if (desk == show::none) return runtime::Status::failure("--desk: " + why);
    return std::vector<Index>{desk};
}

}  // namespace

int colours(const ColoursOptions& options) {
    if (auto s = runtime::may_write(options.svg, options.show); !options.svg.empty() && !s.ok())
        return complain(s.why());
    int exit = done;
    const auto c = compile_or_complain(options.show, exit);
    if (!c) return exit;
    auto desks = find_desks(c->show, options.desk);
    if (!desks.ok()) return complain(desks.why());
    const auto report =
        palettes::make_report(c->show, c->book->colours, std::move(*desks), c->summary.typical);
    if (!options.svg.empty())
        if (const auto s = runtime::write_file(options.svg, palettes::diagram(c->show, report)); !s.ok())
            return complain(s.why());
    if (options.svg == "-") return done;
    const auto status = runtime::write_file(
        "-", options.json ? palettes::json(c->show, report) : palettes::text(c->show, report));
    return status.ok() ? done : complain(status.why());
}

}  // namespace tallow::command
