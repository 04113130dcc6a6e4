#include "compiler/syntax/plain.hpp"

#include <algorithm>
#include <iterator>

#include "compiler/text/utf8.hpp"

namespace tallow::syntax {
namespace {

bool is_ascii(std::string_view text) {
    for (const char c : text)
        if (static_cast<signed char>(c) < 0) return false;
    return true;
}

// A number with its unit close behind it; lumens keep a blank, as data sheets print them.
std::string plain_number(std::string_view raw, Unit unit) {
    std::string out;
    for (std::size_t pos = 0; pos < raw.size();) {
        const std::size_t start = pos;
        const char32_t c = text::decode(raw, pos);
        if (text::is_dash(c))
            out += '-';
        else if (c != '\t' && c != ' ' && !text::is_hard_blank(c))
            out += raw.substr(start, pos - start);
    }
    if (unit == Unit::lumen) out.insert(out.size() - 2, 1, ' ');
    return out;
}

std::string plain_name(std::string_view raw) {
    std::string out;
    for (std::size_t pos = 0; pos < raw.size();) {
        const std::size_t start = pos;
        if (text::is_dash(text::decode(raw, pos)))
            out += '-';
        else
            out += raw.substr(start, pos - start);
    }
    return out;
}

// Its quotes alone: what stands between them is the writer's.
std::string plain_string(std::string_view raw) {
    std::size_t open = 0;
    text::decode(raw, open);
    std::size_t close = raw.size() - 1;
    while ((static_cast<unsigned char>(raw[close]) & 0xc0) == 0x80) --close;
    return '"' + std::string(raw.substr(open, close - open)) + '"';
}

}  // namespace

bool stay_joined(std::span<const Atom> atoms, std::size_t i) {
    const auto touches = [&](std::size_t k, AtomKind a, AtomKind b) {
        return k + 1 < atoms.size() && atoms[k].kind == a && atoms[k + 1].kind == b &&
               atoms[k].offset + atoms[k].length == atoms[k + 1].offset;
    };
    const auto dashed = [&](std::size_t k) {
        return touches(k, AtomKind::number, AtomKind::dash) && touches(k + 1, AtomKind::dash, AtomKind::word);
    };
    return touches(i, AtomKind::number, AtomKind::number) || dashed(i) || (i > 0 && dashed(i - 1));
}

// `color` is the other spelling where it is no name: in a line of a cue and the like.
bool PlainText::respells_colour(std::size_t i) const {
    if (atoms_[i].word() != Word::color) return false;
    constexpr Word saying[] = {Word::cue,   Word::look,      Word::wave,
                               Word::chase, Word::submaster, Word::palette};
    if (std::find(std::begin(saying), std::end(saying), declaration_) == std::end(saying)) return false;
    const Word before = i > 0 ? atoms_[i - 1].word() : Word::none;
    return before != Word::palette && before != Word::look && before != Word::wave && before != Word::chase &&
           before != Word::emitter;
}

std::string PlainText::atom(std::size_t i) const {
    const Atom& a = atoms_[i];
    const std::string_view raw = text_.substr(a.offset, a.length);
    switch (a.kind) {
        case AtomKind::number:
        case AtomKind::clock:
            return plain_number(raw, a.unit());
        case AtomKind::string:
            return plain_string(raw);
        case AtomKind::dots:
            return "..";
        case AtomKind::dash:
            return "-";
        case AtomKind::times: {
            const bool of_cells = i > 0 && bare(i - 1) && is(i + 1, AtomKind::open_bracket);
            return std::string(of_cells ? "x" : raw);
        }
        case AtomKind::word:
            if (respells_colour(i)) return std::string(grammar::text(Word::colour));
            [[fallthrough]];
        default:
            return is_ascii(raw) ? std::string(raw) : plain_name(raw);
    }
}

// `1..4`, and in a type `1Hz..20Hz`; spreads have blanks: `20% .. 80%`.
bool PlainText::close_dots(std::size_t i) const {
    return declaration_ == Word::type || (i > 0 && bare(i - 1) && bare(i + 1));
}

bool PlainText::blank_behind(std::size_t i) const {
    if (is(i, AtomKind::open_bracket) || is(i + 1, AtomKind::close_bracket) || is(i + 1, AtomKind::comma))
        return false;
    if (is(i, AtomKind::slash) || is(i + 1, AtomKind::slash)) return false;
    if ((is(i, AtomKind::dots) && close_dots(i)) || (is(i + 1, AtomKind::dots) && close_dots(i + 1)))
        return false;
    return !stay_joined(atoms_, i);
}

std::string PlainText::of(std::size_t first, std::size_t last) const {
    std::string out;
    for (std::size_t i = first; i < last; ++i) {
        out += atom(i);
        if (i + 1 < last && blank_behind(i)) out += ' ';
    }
    return out;
}

}  // namespace tallow::syntax
