#include "compiler/syntax/format.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"
#include "compiler/show/load.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/files.hpp"

namespace tallow::command {
namespace {

// Formats one file, or says that it would change; the exit code.
int format_one(const std::string& path, bool check) {
    const auto text = show::read_from_disk(path);
    if (!text.ok()) return complain(text.why());
    if (const auto s = show::check_kind(path, *text); !s.ok()) return complain(s.why());
    if (const std::size_t bad = text::first_invalid(*text); bad != std::string::npos) {
        const auto line =
            1 + std::count(text->begin(), text->begin() + static_cast<std::ptrdiff_t>(bad), '\n');
        complain(
            fmt::format("cannot format `{}`: its byte {}, in line {}, is not valid UTF-8; it was left as it "
                        "is; save it as UTF-8 in your editor",
                        path, bad, line));
        return show_has_errors;
    }
    const std::string formatted = syntax::format(*text);
    const bool changes = formatted != *text;
    if (check) {
        if (changes) fmt::print("{}\n", path);
        return changes ? show_has_errors : done;
    }
    if (!changes && path != "-") return done;
    if (const auto status = runtime::write_file(path, formatted); !status.ok()) return complain(status.why());
    if (path != "-") fmt::print("{}\n", path);
    return done;
}

}  // namespace

int format(const FormatOptions& options) {
    int exit = done;
    for (const std::string& path : options.files) exit = std::max(exit, format_one(path, options.check));
    return exit;
}

}  // namespace tallow::command
