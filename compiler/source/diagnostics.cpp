#include "compiler/source/diagnostics.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "compiler/text/utf8.hpp"

namespace tallow::source {
namespace {

constexpr std::size_t most_shown = 160;  // bytes of a line; a longer one is cut around the span

std::string_view severity_text(Severity severity) {
    return severity == Severity::error ? "error" : "warning";
}

std::string place(const Sources& sources, Span span) {
    const Position at = sources.position(span.file, span.begin);
    return fmt::format("{}:{}:{}", sources.path(span.file), at.line, at.column);
}

// Tabs and control signs as blanks, so that the marks below stand where they should.
std::string printable(std::string_view text) {
    std::string out;
    for (const char c : text) out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
    return out;
}

std::size_t character_start(std::string_view line, std::size_t at) {
    while (at > 0 && at < line.size() && (static_cast<unsigned char>(line[at]) & 0xc0) == 0x80) --at;
    return std::min(at, line.size());
}

// The line with carets below the span.
std::string marked_line(const Sources& sources, Span span, std::size_t width) {
    const std::string number = std::to_string(sources.position(span.file, span.begin).line);
    const std::size_t shown_columns =
        std::min(most_shown, width - number.size() - 7);  // its frame takes the rest
    const std::string_view line = sources.line(span.file, span.begin);
    const std::size_t line_begin = sources.line_begin(span.file, span.begin);
    const std::size_t at = std::min<std::size_t>(span.begin - line_begin, line.size());
    const std::size_t from = at > shown_columns / 2 && line.size() > shown_columns
                                 ? character_start(line, at - shown_columns / 2)
                                 : 0;
    const std::size_t to = character_start(line, from + shown_columns);
    const std::size_t stop = std::clamp<std::size_t>(span.end - line_begin, at, to);

    const std::string_view lead = from > 0 ? "…" : "";
    const std::size_t before = text::width(printable(line.substr(from, at - from))) + lead.size() / 3;
    const std::size_t marks = std::max<std::size_t>(text::width(printable(line.substr(at, stop - at))), 1);
    return fmt::format("  {} | {}{}{}\n  {} | {}{}\n", number, lead, printable(line.substr(from, to - from)),
                       to < line.size() ? "…" : "", std::string(number.size(), ' '), std::string(before, ' '),
                       std::string(marks, '^'));
}

nlohmann::ordered_json span_json(const Sources& sources, Span span) {
    const Position from = sources.position(span.file, span.begin);
    const Position to = sources.position(span.file, span.end);
    return {{"file", sources.path(span.file)},
            {"line", from.line},
            {"column", from.column},
            {"end_line", to.line},
            {"end_column", to.column}};
}

std::string first_line(const Diagnostic& d, const Sources& sources) {
    const FindingInfo& what = info(d.finding);
    return fmt::format("{}: {}: {} [{}]", place(sources, d.where), severity_text(what.severity), d.message,
                       what.id);
}

}  // namespace

Diagnostic& Sink::report(Finding finding, Span where, std::string message) {
    std::size_t& reported = info(finding).severity == Severity::error ? errors_ : warnings_;
    if (++reported <= at_most) return all_.emplace_back(Diagnostic{finding, where, std::move(message)});
    if (&reported == &errors_ && reported == at_most + 1)
        all_.push_back({Finding::too_many, where,
                        fmt::format("there are more than {} errors; this is where the list ends", at_most)});
    return unkept_ = {finding, where, std::move(message)};
}

std::vector<Diagnostic> Sink::sorted() const {
    std::vector<Diagnostic> sorted = all_;
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const Diagnostic& a, const Diagnostic& b) { return a.where < b.where; });
    return sorted;
}

bool Sink::has(Finding finding) const {
    return std::any_of(all_.begin(), all_.end(), [&](const Diagnostic& d) { return d.finding == finding; });
}

void Sink::keep_only(Finding finding) {
    std::erase_if(all_, [&](const Diagnostic& d) { return d.finding != finding; });
    errors_ = info(finding).severity == Severity::error ? all_.size() : 0;
    warnings_ = all_.size() - errors_;
}

std::string render(const Diagnostic& d, const Sources& sources, std::size_t width) {
    std::string out = text::indented(first_line(d, sources), 0, width) + marked_line(sources, d.where, width);
    for (const Related& r : d.related)
        out += text::indented(fmt::format("{}: note: {}", place(sources, r.where), r.text), 0, width) +
               marked_line(sources, r.where, width);
    if (!d.hint.empty()) out += text::indented("hint: " + d.hint, 2, width);
    return out;
}

std::string render_line(const Diagnostic& d, const Sources& sources) {
    return first_line(d, sources) + (d.hint.empty() ? "" : "; " + d.hint);
}

std::string render_json(const std::vector<Diagnostic>& diagnostics, const Sources& sources) {
    auto array = nlohmann::ordered_json::array();
    for (const Diagnostic& d : diagnostics) {
        nlohmann::ordered_json entry = span_json(sources, d.where);
        entry["severity"] = severity_text(info(d.finding).severity);
        entry["id"] = info(d.finding).id;
        entry["message"] = d.message;
        if (!d.hint.empty()) entry["hint"] = d.hint;
        for (const Related& r : d.related) {
            nlohmann::ordered_json related = span_json(sources, r.where);
            related["message"] = r.text;
            entry["related"].push_back(std::move(related));
        }
        array.push_back(std::move(entry));
    }
    return array.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace tallow::source
