#include <filesystem>
#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/find_named.hpp"
#include "compiler/command/report.hpp"
#include "compiler/fit/ways_report.hpp"
#include "runtime/files.hpp"

namespace tallow::command {
namespace {

using show::Index;

// A patch is a show's text, and may have its name; the files of the show itself stay.
runtime::Status may_write_patch(const std::string& output, const source::Sources& sources) {
    std::error_code none_there;
    for (source::FileId file = 0; file < sources.size(); ++file)
        if (output != "-" && std::filesystem::equivalent(output, sources.path(file), none_there))
            return runtime::Status::failure(fmt::format(
                "`{}` is a file of the show, and would be lost; write to another place, and put the "
                "lines into the show yourself",
                output));
    return {};
}

// The way that the user asks for, counted from 1, or the chosen one.
runtime::Result<std::size_t> find_way(const std::vector<fit::Way>& ways, std::uint32_t wanted) {
    if (wanted == 0) return fit::chosen_way(ways);
    if (wanted <= ways.size()) return std::size_t{wanted} - 1;
    return runtime::Status::failure(
        fmt::format("--way: there is no way {}; give one of 1 to {}", wanted, ways.size()));
}

runtime::Status print(const FitOptions& options, const fit::WaysReport& report) {
    const std::string patch = fit::chosen_patch(report);
    if (!options.output.empty())
        if (auto s = runtime::write_file(options.output, patch); !s.ok() || options.output == "-") return s;
    if (options.json) return runtime::write_file("-", fit::ways_json(report));
    std::string all = fit::ways_text(report);
    all += options.output.empty()
               ? "\nthe patch, in place of the show's own:\n\n" + patch
               : fmt::format("\nthe patch is in {}: put it in place of the show's own\n", options.output);
    return runtime::write_file("-", all);
}

}  // namespace

int fit(const FitOptions& options) {
    int exit = done;
    const auto c = compile_or_complain(options.show, exit);
    if (!c) return exit;
    std::string why;
    const Index at = find_named(c->show.desks, options.desk, "desk", why);
    if (at == show::none) return complain(why);
    if (auto s = may_write_patch(options.output, c->sources); !options.output.empty() && !s.ok())
        return complain(s.why());
    if (c->show.fixtures.empty())
        return complain("the show has no fixture: there is nothing to put on a desk");
    const fit::Tester tester(c->show, *c->book, c->sources);
    const fit::Ways found = fit::find_ways(tester, c->show.desks[at]);
    const std::vector<fit::Way>& ways = found.all;
    if (ways.empty()) return complain("no patch of the show on this desk compiles");
    const auto way = find_way(ways, options.way);
    if (!way.ok()) return complain(way.why());
    const fit::Trial chosen = tester.test(ways[*way].plan, ways[*way].at);
    const fit::WaysReport report{c->show,       c->sources, c->show.desks[at], ways,
                                 found.refused, *way,       chosen.after->show};
    const auto status = print(options, report);
    return status.ok() ? done : complain(status.why());
}

}  // namespace tallow::command
