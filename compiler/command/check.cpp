#include <chrono>
#include <cstdio>
#include <ctime>
#include <fmt/format.h>
#include <unistd.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"
#include "compiler/command/watch.hpp"
#include "compiler/text/counted.hpp"

namespace tallow::command {
namespace {

// Checks the show once and says what was found.
int check_once(const CheckOptions& options, const show::ReadFile& read) {
    const auto start = std::chrono::steady_clock::now();
    auto compiled = compile(options.show, read);
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
    fmt::print("{}: {}, {}; {} read in {} ms\n", options.show, text::counted(errors, "error"),
               text::counted(warnings, "warning"), text::counted(c.files, "file"), spent.count());
    if (!c.failed()) fmt::print("{}", check::render(c.summary, c.show));
    return c.failed() ? show_has_errors : done;
}

// What begins a round: on a terminal a line with the time of day, elsewhere only what changed.
std::string round_head(const std::vector<std::string>& changed, bool terminal) {
    std::string names;
    for (const std::string& path : changed) names += (names.empty() ? "changed: " : ", ") + path;
    if (!terminal) return names.empty() ? names : names + '\n';
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    ::localtime_r(&now, &local);
    char time[16];
    std::strftime(time, sizeof time, "%H:%M:%S", &local);
    return fmt::format("──── {} ──── {}\n", time, names.empty() ? "watching; Ctrl-C ends" : names);
}

int check_on_changes(const CheckOptions& options) {
    auto changes = system_changes();
    if (!changes.ok()) return complain(changes.why());
    const bool terminal = ::isatty(STDOUT_FILENO) == 1;
    const auto status = watch(**changes, *runtime::system_clock(), show::read_from_disk,
                              [&](const std::vector<std::string>& changed, const show::ReadFile& read) {
                                  fmt::print("{}", round_head(changed, terminal));
                                  std::fflush(stdout);  // findings go to the other stream
                                  check_once(options, read);
                                  std::fflush(stdout);
                              });
    return status.ok() ? done : complain(status.why());
}

}  // namespace

int check(const CheckOptions& options) {
    return options.watch ? check_on_changes(options) : check_once(options, show::read_from_disk);
}

}  // namespace tallow::command
