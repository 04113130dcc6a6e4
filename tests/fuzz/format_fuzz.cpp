#include "tests/fuzz/format_fuzz.hpp"

#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "compiler/syntax/document.hpp"
#include "compiler/syntax/format.hpp"
#include "compiler/text/utf8.hpp"

namespace tallow::test {
namespace {

using syntax::AtomKind;

constexpr std::size_t longest = 1 << 16;  // bytes of an input

// The language's own list of signs (LANGUAGE.md, "Layout"), written once more here to compare with.
const std::map<char32_t, char> plain_signs{
    {0x00a0, ' '}, {0x2007, ' '}, {0x202f, ' '}, {0x3000, ' '}, {0x2010, '-'}, {0x2011, '-'},
    {0x2012, '-'}, {0x2013, '-'}, {0x2014, '-'}, {0x2015, '-'}, {0x2212, '-'}, {0x201c, '"'},
    {0x201d, '"'}, {0x201e, '"'}, {0x201f, '"'}, {0x00ab, '"'}, {0x00bb, '"'}};

std::string plain(std::string_view raw, bool drop_blanks) {
    std::string out;
    for (std::size_t pos = 0; pos < raw.size();) {
        const std::size_t start = pos;
        const auto sign = plain_signs.find(text::decode(raw, pos));
        std::string c(sign == plain_signs.end() ? raw.substr(start, pos - start)
                                                : std::string_view(&sign->second, 1));
        if (!drop_blanks || (c != " " && c != "\t")) out += c;
    }
    return out;
}

// What an atom means, whichever way it is typed.
std::string meaning(const syntax::Atom& atom, std::string_view raw) {
    if (atom.kind == AtomKind::times || atom.word() == grammar::Word::x) return "x";
    if (atom.word() == grammar::Word::color || atom.word() == grammar::Word::colour) return "colour";
    const std::string kind = std::to_string(static_cast<int>(atom.kind)) + ":";
    if (atom.kind == AtomKind::dots) return kind;
    if (atom.kind != AtomKind::string)
        return kind + plain(raw, atom.kind == AtomKind::number || atom.kind == AtomKind::clock);
    std::size_t first = 0, last = raw.size();
    text::decode(raw, first);
    do --last;
    while (last > first && (static_cast<unsigned char>(raw[last]) & 0xc0) == 0x80);
    return kind + plain(raw.substr(0, first), false) + std::string(raw.substr(first, last - first)) +
           plain(raw.substr(last), false);
}

// Each line that says something: where it stands, what it means, and its comment.
std::vector<std::string> lines_of(const std::string& text) {
    source::Sources sources;
    source::Sink sink;
    const source::FileId file = sources.add("t", text);
    auto document = syntax::cut(file, sources, sink);
    syntax::arrange(document, sources, sink);
    std::vector<std::string> lines;
    for (const syntax::Line& line : document.lines) {
        std::string said = line.indented ? "in" : "out";
        std::uint32_t end = line.begin;
        for (const syntax::Atom& atom : document.atoms_of(line)) {
            said += ' ' + meaning(atom, sources.text({file, atom.offset, atom.offset + atom.length}));
            end = atom.offset + atom.length;
        }
        const std::uint32_t margin = sources.line_begin(file, line.begin);
        std::string_view rest = sources.line(file, line.begin).substr(end - margin);
        while (!rest.empty() && std::string_view(" \t\r").find(rest.back()) != std::string_view::npos)
            rest.remove_suffix(1);
        const std::size_t hash = rest.find('#');
        if (!line.broken && hash != std::string_view::npos) said += rest.substr(hash);
        if (line.broken)
            said += " broken " + std::string(sources.line(file, line.begin).substr(line.begin - margin));
        lines.push_back(std::move(said));
    }
    for (const syntax::Declaration& d : document.declarations)
        lines.push_back("declares " + std::to_string(static_cast<int>(d.keyword)) + " " +
                        std::to_string(d.header) + ".." + std::to_string(d.last));
    return lines;
}

}  // namespace

bool fuzz_format(std::span<const std::uint8_t> bytes) {
    const std::string text(reinterpret_cast<const char*>(bytes.data()), bytes.size());
    if (text.size() > longest || text::first_invalid(text) != std::string::npos) return false;
    const std::string once = syntax::format(text);
    if (syntax::format(once) != once)
        throw std::logic_error("formatting twice is not the same as once:\n" + once);
    const auto before = lines_of(text), after = lines_of(once);
    if (before == after) return true;
    std::string where = "the number of lines";
    for (std::size_t i = 0; i < std::min(before.size(), after.size()); ++i)
        if (before[i] != after[i]) {
            where = before[i] + "\n" + after[i];
            break;
        }
    throw std::logic_error("formatting changes what a text says: " + where);
}

}  // namespace tallow::test
