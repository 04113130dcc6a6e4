// The only source file that includes PEGTL: rules that match become atoms, at the leaves.
#include <array>
#include <fmt/format.h>

#include "compiler/syntax/document.hpp"
#include "grammar/atoms.hpp"
#include "runtime/ascii.hpp"

namespace tallow::syntax {
namespace {

namespace g = tallow::grammar;

constexpr std::size_t atom_bytes = 65535;

// Words by length and first letter; a name that is no word of the language is found out in a few comparisons.
class WordTable {
  public:
    WordTable() {
        for (const g::WordInfo& w : g::words)
            if (!w.text.empty()) heads_[index(w.text)].push_back(&w);
    }
    Word find(std::string_view text) const {
        if (text.size() > 10 || text[0] < 'a' || text[0] > 'z') return Word::none;
        for (const g::WordInfo* w : heads_[index(text)])
            if (w->text == text) return w->word;
        return Word::none;
    }

  private:
    static std::size_t index(std::string_view text) {
        return (text.size() - 1) * 26 + static_cast<std::size_t>(text[0] - 'a');
    }
    std::array<std::vector<const g::WordInfo*>, std::size_t{26} * 10> heads_;
};

struct Cutter {
    Document& document;
    const char* base;
    source::Sink& sink;
    AtomKind number_kind = AtomKind::number;
    bool comma_for_point = false;

    std::uint32_t offset(const char* at) const { return static_cast<std::uint32_t>(at - base); }
    source::Span span(const char* begin, const char* end) const {
        return {document.file, offset(begin), offset(end)};
    }

    void push(const char* begin, const char* end, AtomKind kind, std::uint8_t detail = 0) {
        const auto size = static_cast<std::size_t>(end - begin);
        if (size > atom_bytes && kind != AtomKind::joined_hash) {
            sink.report(source::Finding::too_long, span(begin, end),
                        fmt::format("this is {} bytes long; a name, a number or a text may have {}", size,
                                    atom_bytes));
            document.lines.back().broken = true;
        }
        document.atoms.push_back(
            {offset(begin), static_cast<std::uint16_t>(std::min(size, atom_bytes)), kind, detail});
    }

    void fault(source::Finding finding, source::Span where, std::string message, std::string hint) {
        if (document.lines.back().broken) return;
        sink.report(finding, where, std::move(message)).with_hint(std::move(hint));
        document.lines.back().broken = true;
    }

    void end_line() {
        if (document.lines.empty()) return;
        Line& line = document.lines.back();
        line.atom_count = static_cast<std::uint32_t>(document.atoms.size()) - line.first_atom;
    }

    // A line that holds neither atoms nor a comment at the margin is no line.
    void begin_line(const char* at) {
        end_line();
        if (!document.lines.empty() && document.lines.back().atom_count == 0 && !comment_at_margin)
            document.lines.pop_back();
        comment_at_margin = false;
        document.lines.push_back(
            {offset(at), static_cast<std::uint32_t>(document.atoms.size()), 0, false, false});
    }
    bool comment_at_margin = false;
};

const WordTable word_table;

template <class Rule>
struct Cut : g::p::nothing<Rule> {};

template <>
struct Cut<g::line_start> {
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        c.begin_line(in.begin());
    }
};
template <>
struct Cut<g::indent> {
    static void apply0(Cutter& c) { c.document.lines.back().indented = true; }
};
template <>
struct Cut<g::word> {
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        const std::string_view text(in.begin(), in.size());
        if (text.find('.') != std::string_view::npos) return c.push(in.begin(), in.end(), AtomKind::dotted);
        c.push(in.begin(), in.end(), AtomKind::word, static_cast<std::uint8_t>(word_table.find(text)));
    }
};
template <>
struct Cut<g::clock_tail> {
    static void apply0(Cutter& c) { c.number_kind = AtomKind::clock; }
};
template <>
struct Cut<g::comma_tail> {
    static void apply0(Cutter& c) { c.comma_for_point = true; }
};
template <>
struct Cut<g::number> {
    static std::string_view behind_digits(std::string_view text) {
        while (!text.empty() && runtime::is_digit(text[0])) text.remove_prefix(1);
        return text;
    }
    static Unit unit(std::string_view tail) {
        while (!runtime::is_digit(tail[0])) tail.remove_prefix(1);  // its minus
        tail = behind_digits(tail);
        if (!tail.empty() && (tail[0] == '.' || tail[0] == ',')) tail = behind_digits(tail.substr(1));
        if (tail.empty()) return Unit::none;
        while (!tail.empty() && tail[0] != '%' && (tail[0] < 'A' || tail[0] > 'z')) tail.remove_prefix(1);
        if (const Unit plain = g::unit_of(tail); plain != Unit::unknown) return plain;
        const bool composite = tail.starts_with("min") && tail.ends_with("s") && tail.size() > 4 &&
                               tail.find_first_not_of("0123456789", 3) == tail.size() - 1;
        return composite ? Unit::minute_second : Unit::unknown;
    }
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        const std::string_view text(in.begin(), in.size());
        if (c.comma_for_point) {
            std::string corrected(text);
            corrected[text.find(',')] = '.';
            c.fault(source::Finding::decimal_comma, c.span(in.begin(), in.end()),
                    fmt::format("`{}` has a comma where the decimal point stands", text),
                    fmt::format("write `{}`", corrected));
        }
        const AtomKind kind = std::exchange(c.number_kind, AtomKind::number);
        c.comma_for_point = false;
        c.push(in.begin(), in.end(), kind,
               static_cast<std::uint8_t>(kind == AtomKind::number ? unit(text) : Unit::none));
    }
};
template <>
struct Cut<g::open_string> {
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        c.fault(source::Finding::open_string, c.span(in.begin(), in.end()),
                "a text opens here and does not close on its line", "put a `\"` behind its last word");
        c.push(in.begin(), in.end(), AtomKind::string);
    }
};
template <>
struct Cut<g::joined_hash> {
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        const std::string_view text(in.begin(), std::min<std::size_t>(in.size(), 40));
        const std::string_view word = text.substr(0, text.find_first_of(" \t,"));
        const bool like_colour = word.find_first_not_of("#0123456789abcdefABCDEF") == std::string_view::npos;
        c.fault(source::Finding::joined_hash, c.span(in.begin(), in.begin() + word.size()),
                fmt::format("`{}` is neither a comment nor a colour", word),
                like_colour
                    ? std::string("a colour has six digits: `#ffb000`; a comment has a blank behind its hash")
                    : fmt::format("for a comment, put a blank behind the hash: `# {}`", word.substr(1)));
    }
};
template <>
struct Cut<g::comment> {
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        c.comment_at_margin = c.document.lines.back().begin == c.offset(in.begin());
    }
};
template <>
struct Cut<g::other> {
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        const auto byte = static_cast<unsigned char>(*in.begin());
        const std::string sign = byte < 0x20 || byte == 0x7f
                                     ? fmt::format("the control sign {:#04x}", byte)
                                     : fmt::format("`{}`", std::string(in.begin(), in.size()));
        c.fault(source::Finding::unexpected_sign, c.span(in.begin(), in.end()),
                fmt::format("{} means nothing here", sign),
                "take it out, or put it between quotes if it belongs to a text");
    }
};

template <AtomKind kind>
struct Plain {
    template <class Input>
    static void apply(const Input& in, Cutter& c) {
        c.push(in.begin(), in.end(), kind);
    }
};
template <>
struct Cut<g::string> : Plain<AtomKind::string> {};
template <>
struct Cut<g::hex_colour> : Plain<AtomKind::hex_colour> {};
template <>
struct Cut<g::dots> : Plain<AtomKind::dots> {};
template <>
struct Cut<g::comma> : Plain<AtomKind::comma> {};
template <>
struct Cut<g::slash> : Plain<AtomKind::slash> {};
template <>
struct Cut<g::dash> : Plain<AtomKind::dash> {};
template <>
struct Cut<g::open_bracket> : Plain<AtomKind::open_bracket> {};
template <>
struct Cut<g::close_bracket> : Plain<AtomKind::close_bracket> {};
template <>
struct Cut<g::times> : Plain<AtomKind::times> {};

}  // namespace

Document cut(source::FileId file, const source::Sources& sources, source::Sink& sink) {
    Document document;
    document.file = file;
    const std::string_view text = sources.text(file);
    document.atoms.reserve(text.size() / 5);
    document.lines.reserve(text.size() / 24);
    Cutter cutter{document, text.data(), sink};
    g::p::memory_input<g::p::tracking_mode::lazy, g::p::eol::lf> in(text.data(), text.size(), "");
    g::p::parse<g::file, Cut>(in, cutter);
    cutter.begin_line(text.data() + text.size());
    document.lines.pop_back();
    return document;
}

std::size_t grammar_faults() {
    return g::p::analyze<g::file>(-1);
}

}  // namespace tallow::syntax
