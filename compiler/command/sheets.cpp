#include "compiler/desk/sheets.hpp"

#include <filesystem>
#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/find_named.hpp"
#include "compiler/command/report.hpp"
#include "runtime/files.hpp"

namespace tallow::command {
namespace {

using show::Index;

struct Kinds {
    bool text = false, csv = false, json = false;
};

runtime::Result<Kinds> kinds_of(const std::string& only) {
    if (only.empty()) return Kinds{true, true, true};
    Kinds kinds;
    for (std::size_t from = 0; from <= only.size();) {
        const std::size_t comma = std::min(only.find(',', from), only.size());
        const std::string word = only.substr(from, comma - from);
        bool* const kind = word == "text"   ? &kinds.text
                           : word == "csv"  ? &kinds.csv
                           : word == "json" ? &kinds.json
                                            : nullptr;
        if (kind == nullptr)
            return runtime::Status::failure(
                fmt::format("--only: `{}` is no kind of sheet; give some of text,csv,json", word));
        *kind = true;
        from = comma + 1;
    }
    return kinds;
}

runtime::Status put(const std::filesystem::path& folder, const std::string& name, const std::string& bytes) {
    const std::string path = (folder / name).string();
    if (auto s = runtime::write_file(path, bytes); !s.ok()) return s;
    fmt::print("{}: {} bytes\n", path, bytes.size());
    return {};
}

runtime::Status write_all(const emit::SheetSet& set, const Kinds& kinds, const std::string& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error)
        return runtime::Status::failure(
            fmt::format("cannot make the folder `{}`: {}; check the path", folder, error.message()));
    for (const emit::Sheet& sheet : set.sheets) {
        if (kinds.text)
            if (auto s = put(folder, sheet.id + ".txt", emit::text(set, sheet)); !s.ok()) return s;
        if (!kinds.csv) continue;
        for (const emit::Table& table : sheet.tables)
            if (auto s = put(folder, table.id + ".csv", emit::csv(table)); !s.ok()) return s;
    }
    return kinds.json ? put(folder, "sheets.json", emit::json(set)) : runtime::Status{};
}

// On standard output one kind stands: text, unless another alone is asked for.
runtime::Status print_all(const emit::SheetSet& set, const Kinds& kinds) {
    std::string all;
    const auto add = [&](const std::string& part) {
        if (!all.empty()) all += '\n';
        all += part;
    };
    for (const emit::Sheet& sheet : set.sheets) {
        if (kinds.text) add(emit::text(set, sheet));
        if (kinds.text || !kinds.csv) continue;
        for (const emit::Table& table : sheet.tables) add(emit::csv(table));
    }
    if (!kinds.text && kinds.json) all = emit::json(set);
    return runtime::write_file("-", all);
}

}  // namespace

int sheets(const SheetsOptions& options) {
    const auto kinds = kinds_of(options.only);
    if (!kinds.ok()) return complain(kinds.why());
    if (options.output.empty() && !options.only.empty() && kinds->text + kinds->csv + kinds->json > 1)
        return complain("standard output takes one kind of sheet; give `-o DIR` for several");
    int exit = done;
    const auto compiled = compile_or_complain(options.show, exit);
    if (!compiled) return exit;
    std::string why;
    const Index at = find_named(compiled->show.desks, options.desk, "desk", why);
    if (at == show::none) return complain(why);
    const show::Desk& desk = compiled->show.desks[at];
    Index layout = show::none;
    if (!options.layout.empty()) {
        layout = find_named(desk.layouts, options.layout, "layout", why);
        if (layout == show::none) return complain(why);
    }
    emit::SheetSet set = desk::make_sheets(compiled->show, *compiled->book, desk, layout);
    set.date = options.date;
    const auto status =
        options.output.empty() ? print_all(set, *kinds) : write_all(set, *kinds, options.output);
    return status.ok() ? done : complain(status.why());
}

}  // namespace tallow::command
