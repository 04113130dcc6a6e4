// From lines to declarations: what begins at the margin opens one, what is indented belongs to the one above.
#include <algorithm>
#include <fmt/format.h>
#include <unordered_set>

#include "compiler/syntax/document.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/nearest.hpp"

namespace tallow::syntax {
namespace {

using source::Finding;
using source::Span;

// The declaring word that a misspelt one was most likely meant to be.
Word nearest_declaration(std::string_view written) {
    runtime::Nearest nearest(text::small_letters(written));
    for (const grammar::WordInfo& w : grammar::words)
        if (w.declares) nearest.offer(w.text);
    return grammar::word_of(nearest.text());
}

// The declaring word that a number was joined to: `cue1`, `cue2.5`.
Word joined_declaration(std::string_view text) {
    const std::size_t end = text.find_last_not_of("0123456789.") + 1;
    const Word word =
        end == text.size() ? Word::none : grammar::word_of(text::small_letters(text.substr(0, end)));
    return grammar::info(word).declares ? word : Word::none;
}

// Whether a comment's text would open a declaration if its hash were taken away.
bool reads_as_header(std::string_view comment) {
    comment.remove_prefix(std::min(comment.find_first_not_of("# \t"), comment.size()));
    const std::size_t end = std::min(comment.find_first_of(" \t"), comment.size());
    const std::string_view first = comment.substr(0, end);
    std::string_view rest = comment.substr(std::min(comment.find_first_not_of(" \t", end), comment.size()));
    while (!rest.empty() && (rest.back() == ' ' || rest.back() == '\t' || rest.back() == '\r'))
        rest.remove_suffix(1);
    const auto word = std::find_if(grammar::words.begin(), grammar::words.end(),
                                   [&](const grammar::WordInfo& w) { return w.declares && w.text == first; });
    if (word == grammar::words.end()) return false;
    if (word->word == Word::safety) return rest.empty();
    if (rest.empty()) return false;
    const bool number_next = rest[0] >= '0' && rest[0] <= '9';
    if (word->word == Word::cue || word->word == Word::patch || word->word == Word::submaster)
        return number_next;
    // A name, and then nothing or a text: prose goes on with a word.
    const std::size_t name_end = rest.find_first_of(" \t");
    if (name_end == std::string_view::npos) return true;
    const std::string_view behind = rest.substr(rest.find_first_not_of(" \t", name_end));
    return behind[0] == '"' || behind.starts_with("sine") || behind.starts_with("square");
}

class Arranger {
  public:
    Arranger(Document& document, const source::Sources& sources, source::Sink& sink)
        : document_(document), sources_(sources), sink_(sink) {}

    void run() {
        for (std::uint32_t i = 0; i < document_.lines.size(); ++i) {
            const Line& line = document_.lines[i];
            if (line.atom_count == 0) {
                if (!document_.declarations.empty()) comment(line);
            } else if (line.indented) {
                body(i);
            } else {
                header(i);
            }
        }
        close(static_cast<std::uint32_t>(document_.lines.size()));
    }

  private:
    Span span_of(const Atom& atom) const { return {document_.file, atom.offset, atom.offset + atom.length}; }
    std::string_view text_of(const Atom& atom) const { return sources_.text(span_of(atom)); }
    const Atom& atom(const Line& line, std::size_t i) const { return document_.atoms[line.first_atom + i]; }

    void close(std::uint32_t line) {
        if (open_) document_.declarations.back().last = line;
        open_ = false;
    }

    void drop(const Line& line) {
        if (atom(line, 0).kind == AtomKind::word)
            document_.dropped_names.push_back(text::canonical_name(text_of(atom(line, 0))));
    }

    void comment(const Line& line) {
        std::string_view text = sources_.line(document_.file, line.begin);
        if (reads_as_header(text)) {
            commented_ = {document_.file, line.begin, line.begin + static_cast<std::uint32_t>(text.size())};
            commented_line_ = &line;
        }
    }

    void body(std::uint32_t i) {
        const Line& line = document_.lines[i];
        if (commented_line_ != nullptr) {
            close(i);
            const Span first = span_of(atom(line, 0));
            sink_
                .report(Finding::commented_header, commented_,
                        "this declaration is commented out, but its lines are not")
                .with_hint(
                    "to park a declaration with its lines, write `skip` before it: `skip cue 6`; "
                    "if this is a plain remark, put it behind blanks")
                .see(first, "this line would join the declaration above");
            commented_line_ = nullptr;
        }
        if (open_) return;
        if (document_.declarations.empty() && !orphan_reported_) {
            sink_
                .report(Finding::line_outside, span_of(atom(line, 0)),
                        "this line stands under no declaration")
                .with_hint("a declaration begins in the first column: `cue 1`");
            orphan_reported_ = true;
        }
        drop(line);
    }

    // The first words of indented lines, and the names of groups and palettes: what a line at the margin that
    // lost its blanks may begin with.
    bool begins_lines(std::string_view text) {
        if (line_words_.empty())
            for (const Line& line : document_.lines) {
                const std::uint32_t at = line.indented ? 0 : 1;
                const bool names =
                    line.indented || (line.atom_count > 1 && (atom(line, 0).word() == Word::group ||
                                                              atom(line, 0).word() == Word::palette));
                if (names && line.atom_count > at) line_words_.insert(text_of(atom(line, at)));
            }
        return line_words_.contains(text);
    }

    void header(std::uint32_t i) {
        close(i);
        commented_line_ = nullptr;
        Line& line = document_.lines[i];
        const Atom& first = atom(line, 0);
        const bool skipped = first.word() == Word::skip;
        if (skipped && line.atom_count == 1) {
            sink_
                .report(Finding::unknown_declaration, span_of(first),
                        "`skip` parks a declaration, and none stands behind it")
                .with_hint("write it before the declaration's first word: `skip cue 6`");
            return;
        }
        const Atom& keyword = atom(line, skipped ? 1 : 0);
        Word word = keyword.word();
        if (!grammar::info(word).declares || (skipped && word == Word::skip)) {
            word = meant(line, keyword);
            if (word == Word::none)
                return unknown(line, keyword, fmt::format("`{}` opens no declaration", text_of(keyword)));
        }
        document_.declarations.push_back({word, skipped, i, i + 1, i + 1});
        open_ = true;
    }

    // The declaration that a word at the margin was most likely meant to open, which is reported.
    Word meant(Line& line, const Atom& keyword) {
        const std::string_view text = text_of(keyword);
        if ((keyword.kind != AtomKind::word && keyword.kind != AtomKind::dotted) || begins_lines(text))
            return Word::none;
        const Word joined = joined_declaration(text);
        const Word word = joined != Word::none ? joined : nearest_declaration(text);
        if (word == Word::none) return word;
        const std::string_view plain = grammar::text(word);
        sink_
            .report(Finding::unknown_declaration, span_of(keyword),
                    fmt::format("`{}` opens no declaration", text))
            .with_hint(joined != Word::none
                           ? fmt::format("put a blank between: `{} {}`", plain, text.substr(plain.size()))
                       : text::small_letters(text) == plain
                           ? fmt::format("the words of the language are written small: `{}`", plain)
                           : fmt::format("did you mean `{}`?", plain));
        line.broken = line.broken || joined != Word::none;  // its number or name is lost
        return word;
    }

    void unknown(Line& line, const Atom& at, std::string message) {
        drop(line);
        if (line.broken) return;
        if (document_.declarations.empty()) {
            sink_.report(Finding::unknown_declaration, span_of(at), std::move(message))
                .with_hint("a show file begins with `show \"its title\"`, then `patch`, `cue` and the like");
            return;
        }
        const Line& above = document_.lines[document_.declarations.back().header];
        const std::string_view line_text = sources_.line(document_.file, line.begin);
        sink_.report(Finding::at_margin, span_of(at), std::move(message))
            .with_hint(
                fmt::format("a line that belongs to the declaration above begins with blanks: `    {}`",
                            line_text.substr(0, 60)))
            .see(span_of(atom(above, 0)), "the declaration above");
    }

    Document& document_;
    const source::Sources& sources_;
    source::Sink& sink_;
    bool open_ = false;
    bool orphan_reported_ = false;
    std::unordered_set<std::string_view> line_words_;
    const Line* commented_line_ = nullptr;
    Span commented_{};
};

}  // namespace

void arrange(Document& document, const source::Sources& sources, source::Sink& sink) {
    Arranger(document, sources, sink).run();
}

}  // namespace tallow::syntax
