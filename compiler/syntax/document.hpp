// A file as lines of atoms, grouped into declarations. Reading it never fails: what is wrong goes to the
// sink, and the rest stands.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "compiler/source/diagnostics.hpp"
#include "grammar/words.hpp"

namespace tallow::syntax {

using grammar::Unit;
using grammar::Word;

enum class AtomKind : std::uint8_t {
    word,
    dotted,
    number,
    clock,
    string,
    hex_colour,
    dots,
    comma,
    slash,
    dash,
    open_bracket,
    close_bracket,
    times,
    joined_hash,
    other
};

struct Atom {
    std::uint32_t offset;
    std::uint16_t length;
    AtomKind kind;
    std::uint8_t detail;  // of a word: grammar::Word; of a number: grammar::Unit
    Word word() const { return kind == AtomKind::word ? static_cast<Word>(detail) : Word::none; }
    Unit unit() const { return kind == AtomKind::number ? static_cast<Unit>(detail) : Unit::none; }
};
static_assert(sizeof(Atom) == 8);

struct Line {
    std::uint32_t begin;       // offset of its first byte
    std::uint32_t first_atom;  // index into Document::atoms
    std::uint32_t atom_count;  // 0: a comment at the margin
    bool indented;
    bool broken;  // a fault in it was reported already
};

struct Declaration {
    Word keyword;
    bool skipped;               // parked by `skip`
    std::uint32_t header;       // index into Document::lines
    std::uint32_t first, last;  // its further lines: [first, last)
};

struct Document {
    source::FileId file = 0;
    std::vector<Atom> atoms;
    std::vector<Line> lines;
    std::vector<Declaration> declarations;
    std::vector<std::string>
        dropped_names;  // first words of lines that belong to no declaration: not to be missed again

    std::span<const Atom> atoms_of(const Line& line) const {
        return {atoms.data() + line.first_atom, line.atom_count};
    }
};

// Cuts the file into lines and atoms; reports what is no atom of the language.
Document cut(source::FileId file, const source::Sources& sources, source::Sink& sink);

// How many faults PEGTL's analysis finds in the rules themselves.
std::size_t grammar_faults();

// Groups the lines of a document into declarations (LANGUAGE.md, "The rule of layout").
void arrange(Document& document, const source::Sources& sources, source::Sink& sink);

}  // namespace tallow::syntax
