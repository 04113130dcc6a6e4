#include "compiler/desk/sheets.hpp"

#include <algorithm>
#include <array>
#include <bitset>
#include <filesystem>
#include <fmt/format.h>
#include <functional>
#include <optional>

#include "compiler/command/commands.hpp"
#include "compiler/command/find_named.hpp"
#include "compiler/command/report.hpp"
#include "compiler/cues/cue_sheet.hpp"
#include "compiler/emit/ascii.hpp"
#include "compiler/emit/html.hpp"
#include "compiler/emit/pdf.hpp"
#include "compiler/text/decimal.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/files.hpp"
#include "runtime/hash.hpp"

namespace tallow::command {
namespace {

using show::Index;

enum Kind : std::size_t { html, pdf, csv, json, text, ascii, kinds };
constexpr std::array<const char*, kinds> kind_names = {"html", "pdf", "csv", "json", "text", "ascii"};
using Kinds = std::bitset<kinds>;

runtime::Result<Kinds> kinds_of(const std::string& only) {
    if (only.empty()) return Kinds().set();
    Kinds wanted;
    for (std::size_t from = 0; from <= only.size();) {
        const std::size_t comma = std::min(only.find(',', from), only.size());
        const std::string word = only.substr(from, comma - from);
        const auto at = std::find(kind_names.begin(), kind_names.end(), word);
        if (at == kind_names.end())
            return runtime::Status::failure(fmt::format(
                "--only: `{}` is no kind of sheet; give some of html,pdf,csv,json,text,ascii", word));
        wanted.set(static_cast<std::size_t>(at - kind_names.begin()));
        from = comma + 1;
    }
    return wanted;
}

runtime::Result<emit::PageOptions> page_options(const SheetsOptions& options) {
    emit::PageOptions page;
    if (options.paper == "letter")
        page.paper = emit::letter;
    else if (options.paper != "a4")
        return runtime::Status::failure(
            fmt::format("--paper: `{}` is no paper that is known; give `a4` or `letter`", options.paper));
    const std::string& pitch = options.pitch;
    const auto number =
        text::millionths(pitch.ends_with("mm") ? pitch.substr(0, pitch.size() - 2) : std::string());
    constexpr std::int64_t step = text::million / 100;
    if (!number || *number % step != 0 || *number < emit::least_pitch * step ||
        *number > emit::largest_pitch * step)
        return runtime::Status::failure(fmt::format(
            "--pitch: `{}` is no distance from fader to fader; give 10mm to 60mm, such as `19.5mm`", pitch));
    page.pitch = static_cast<emit::Length>(*number / step);
    return page;
}

// Of all files that were read, in the order of their `use` lines, whatever their names.
std::string digest(const Compilation& c) {
    std::uint64_t h = runtime::hash("");
    for (source::FileId file = 1; file < c.sources.size(); ++file) {  // behind the built-in types
        const std::string_view bytes = c.sources.text(file);
        h = runtime::hash(bytes, runtime::hash(std::to_string(bytes.size()) + " ", h));
    }
    return fmt::format("{:016x}", h);
}

void say_lacking(const std::vector<std::string>& lines) {
    fmt::print(stderr,
               "tallow: no font at hand has every sign of `{}`{}: boxes stand for them in the PDF; install a "
               "font for that script and write it again, or print the HTML\n",
               lines.front(),
               lines.size() > 1 ? fmt::format(" and of {} other lines", lines.size() - 1) : "");
}

// What each kind is written as: names in the folder, and bytes.
class Files {
  public:
    Files(const emit::SheetSet& set, const emit::PageOptions& options) : set_(set), options_(options) {}

    runtime::Status each(Kind kind, const std::function<runtime::Status(std::string, std::string)>& take) {
        switch (kind) {
            case html:
                return take("sheets.html", emit::html(set_, document()));
            case pdf: {
                const auto made = emit::pdf(set_, document());
                if (!made.ok()) return made.status();
                if (!made->lacking.empty()) say_lacking(made->lacking);
                return take("sheets.pdf", made->bytes);
            }
            case json:
                return take("sheets.json", emit::json(set_));
            case ascii:
                return take("sheets.asc", emit::ascii(set_));
            default:
                return each_sheet(kind, take);
        }
    }

  private:
    runtime::Status each_sheet(Kind kind,
                               const std::function<runtime::Status(std::string, std::string)>& take) {
        for (const emit::Sheet& sheet : set_.sheets) {
            if (kind == text && sheet.strips.empty())
                if (auto s = take(sheet.id + ".txt", emit::text(set_, sheet)); !s.ok()) return s;
            if (kind != csv) continue;
            for (const emit::Table& table : sheet.tables)
                if (auto s = take(table.id + ".csv", emit::csv(table)); !s.ok()) return s;
        }
        return {};
    }

    const emit::Document& document() {
        if (!document_) document_ = emit::paged(set_, options_);
        return *document_;
    }

    const emit::SheetSet& set_;
    const emit::PageOptions& options_;
    std::optional<emit::Document> document_;
};

runtime::Status write_all(Files files, const Kinds& wanted, const std::string& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error)
        return runtime::Status::failure(
            fmt::format("cannot make the folder `{}`: {}; check the path", folder, error.message()));
    for (std::size_t kind = 0; kind < kinds; ++kind) {
        if (!wanted[kind]) continue;
        auto status =
            files.each(static_cast<Kind>(kind), [&](const std::string& name, const std::string& bytes) {
                const std::string path = (std::filesystem::path(folder) / name).string();
                if (auto s = runtime::write_file(path, bytes); !s.ok()) return s;
                fmt::print("{}: {} bytes\n", path, bytes.size());
                return runtime::Status{};
            });
        if (!status.ok()) return status;
    }
    return {};
}

// On standard output one kind stands: text, unless another is asked for.
runtime::Status print_all(Files files, const Kinds& wanted) {
    std::string all;
    std::size_t kind = text;
    if (wanted.count() == 1)
        for (kind = 0; !wanted[kind];) ++kind;
    const auto status =
        files.each(static_cast<Kind>(kind), [&](const std::string&, const std::string& bytes) {
            if (!all.empty()) all += '\n';
            all += bytes;
            return runtime::Status{};
        });
    return status.ok() ? runtime::write_file("-", all) : status;
}

}  // namespace

int sheets(const SheetsOptions& options) {
    const auto wanted = kinds_of(options.only);
    if (!wanted.ok()) return complain(wanted.why());
    const auto page = page_options(options);
    if (!page.ok()) return complain(page.why());
    if (text::first_invalid(options.date) != std::string::npos)
        return complain("--date: this is not valid UTF-8; give the date in plain letters");
    if (options.output.empty() && !options.only.empty() && wanted->count() > 1)
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
    set.files = digest(*compiled);
    for (emit::Sheet& sheet : cues::cue_sheets(compiled->show, compiled->sources, *compiled->book))
        set.sheets.push_back(std::move(sheet));
    const Files files(set, *page);
    const auto status =
        options.output.empty() ? print_all(files, *wanted) : write_all(files, *wanted, options.output);
    return status.ok() ? done : complain(status.why());
}

}  // namespace tallow::command
