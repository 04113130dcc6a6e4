#include "tests/suite/section.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <map>
#include <stdexcept>

#include "runtime/files.hpp"

namespace tallow::test {
namespace {

using source::Diagnostic;
using source::FileId;
using source::Sources;
using source::Span;

constexpr std::string_view section_mark = "=== ", file_mark = "--- ", finding_mark = "#! ";

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

Suite parse(const std::string& path, const std::string& text) {
    Suite suite{path, {}};
    for (const std::string& line : lines_of(text)) {
        if (line.starts_with(section_mark)) {
            suite.sections.push_back({line.substr(section_mark.size()), {{"show.tallow", ""}}});
            continue;
        }
        if (suite.sections.empty()) throw std::runtime_error(path + " begins with no section");
        auto& files = suite.sections.back().files;
        if (line.starts_with(file_mark))
            files.push_back({line.substr(file_mark.size()), ""});
        else
            files.back().text += line + "\n";
    }
    return suite;
}

std::string columns(const Sources& sources, Span span) {
    const auto from = sources.position(span.file, span.begin).column;
    const auto to = sources.position(span.file, span.end).column;
    return to > from ? fmt::format("{}..{}", from, to - 1) : std::to_string(from);
}

std::string finding_lines(const Sources& sources, const Diagnostic& d) {
    const auto& what = source::info(d.finding);
    std::string out =
        fmt::format("{}{} {} {}: {}\n", finding_mark, columns(sources, d.where),
                    what.severity == source::Severity::error ? "error" : "warning", what.id, d.message);
    if (!d.hint.empty()) out += fmt::format("{}    hint: {}\n", finding_mark, d.hint);
    for (const auto& r : d.related) {
        const std::string file = r.where.file == d.where.file ? "" : sources.path(r.where.file) + ":";
        out += fmt::format("{}    see {}{}:{}: {}\n", finding_mark, file,
                           sources.position(r.where.file, r.where.begin).line, columns(sources, r.where),
                           r.text);
    }
    return out;
}

std::string expand_mark(const std::string& inside) {
    const std::size_t star = inside.rfind('*');
    if (star == std::string::npos) return {static_cast<char>(std::stoi(inside, nullptr, 16))};
    std::string out;
    for (int n = std::stoi(inside.substr(star + 1)); n > 0; --n) out += inside.substr(0, star);
    return out;
}

}  // namespace

std::vector<Suite> read_suites() {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator("tests/suite"))
        if (entry.path().extension() == ".txt") paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    std::vector<Suite> suites;
    for (const std::string& path : paths) {
        const auto text = runtime::read_file(path, std::size_t{1} << 24);
        if (!text.ok()) throw std::runtime_error(text.why());
        suites.push_back(parse(path, *text));
    }
    return suites;
}

std::string write_suite(const Suite& suite) {
    std::string out;
    for (const Section& section : suite.sections) {
        out += fmt::format("{}{}\n", section_mark, section.name);
        for (const SuiteFile& file : section.files)
            out += (&file == &section.files.front() ? "" : fmt::format("{}{}\n", file_mark, file.path)) +
                   file.text;
    }
    return out;
}

std::string expand(const std::string& text) {
    static const std::string open = "⟦", close = "⟧";
    std::string out;
    for (std::size_t at = 0;;) {
        const std::size_t from = text.find(open, at);
        out += text.substr(at, from - at);
        if (from == std::string::npos) return out;
        const std::size_t to = text.find(close, from);
        out += expand_mark(text.substr(from + open.size(), to - from - open.size()));
        at = to + close.size();
    }
}

std::unique_ptr<command::Compilation> compile_section(const Section& section) {
    const auto read = [&](const std::string& path) -> runtime::Result<std::string> {
        for (const SuiteFile& file : section.files)
            if (file.path == path) return expand(file.text);
        return runtime::Status::failure(fmt::format("cannot read `{}`: there is no such file", path));
    };
    return std::move(*command::compile(section.files.front().path, read));
}

Section annotated(const Section& section) {
    const auto compiled = compile_section(section);
    const Sources& sources = compiled->sources;
    std::map<std::pair<std::string, std::uint32_t>, std::string> found;  // by file and line
    for (const Diagnostic& d : compiled->sink.sorted())
        found[{sources.path(d.where.file), sources.position(d.where.file, d.where.begin).line}] +=
            finding_lines(sources, d);
    Section out{section.name, {}};
    for (const SuiteFile& file : section.files) {
        std::string text;
        std::uint32_t number = 0;
        for (const std::string& line : lines_of(file.text)) {
            ++number;
            if (!line.starts_with(finding_mark)) text += line + "\n";
            if (const auto at = found.find({file.path, number}); at != found.end()) {
                text += at->second;
                found.erase(at);
            }
        }
        out.files.push_back({file.path, std::move(text)});
    }
    for (const auto& [place, lines] : found) out.files.back().text += place.first + " " + lines;
    return out;
}

}  // namespace tallow::test
