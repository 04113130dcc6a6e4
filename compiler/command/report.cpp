#include "compiler/command/report.hpp"

#include <algorithm>
#include <cstdio>
#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "compiler/command/commands.hpp"
#include "compiler/text/counted.hpp"

namespace tallow::command {

int complain(const std::string& why) {
    fmt::print(stderr, "tallow: {}\n", why);
    return could_not_run;
}

namespace {

// Columns of the terminal that standard error is; elsewhere lines are for programs, and stay whole.
std::size_t columns() {
    winsize size{};
    if (::isatty(STDERR_FILENO) != 1 || ::ioctl(STDERR_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0)
        return text::unwrapped;
    return std::max<std::size_t>(size.ws_col, 40);
}

}  // namespace

void print_findings(const Compilation& c) {
    std::string all;
    const std::size_t width = columns();
    for (const source::Diagnostic& d : c.sink.sorted()) all += source::render(d, c.sources, width);
    std::fwrite(all.data(), 1, all.size(), stderr);
}

std::unique_ptr<Compilation> compile_or_complain(const std::string& path, int& exit,
                                                 const std::string& selection) {
    auto compiled = compile(path, show::read_from_disk, selection);
    if (!compiled.ok()) {
        exit = complain(compiled.why());
        return nullptr;
    }
    print_findings(**compiled);
    if (!selection.empty() && (*compiled)->failed_in("--fixture")) {
        exit = could_not_run;
        return nullptr;
    }
    if ((*compiled)->failed()) {
        const std::size_t errors = (*compiled)->sink.count(source::Severity::error);
        fmt::print(stderr, "{} in the show; nothing was written\n", text::counted(errors, "error"));
        exit = show_has_errors;
        return nullptr;
    }
    return std::move(*compiled);
}

}  // namespace tallow::command
