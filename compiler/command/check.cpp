#include <chrono>
#include <cstdio>
#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"

namespace tallow::command {
namespace {

std::string counted(std::size_t n, std::string_view one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
}

}  // namespace

int check(const CheckOptions& options) {
    const auto start = std::chrono::steady_clock::now();
    auto compiled = compile(options.show);
    if (!compiled.ok()) return complain(compiled.why());
    const Compilation& c = **compiled;
    if (options.json) {
        fmt::print("{}", source::render_json(c.sink.sorted(), c.sources));
        return c.failed() ? show_has_errors : done;
    }
    print_findings(c);
    const auto spent =
        std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() - start);
    const std::size_t errors = c.sink.count(source::Severity::error),
                      warnings = c.sink.count(source::Severity::warning);
    fmt::print("{}: {}, {}; {} read in {} ms\n", options.show, counted(errors, "error"),
               counted(warnings, "warning"), counted(c.files, "file"), spent.count());
    if (!c.failed()) fmt::print("{}", check::render(c.summary, c.show));
    return c.failed() ? show_has_errors : done;
}

}  // namespace tallow::command
