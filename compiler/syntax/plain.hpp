// Atoms in their plain form: what a word processor makes of the signs, turned back.
#pragma once

#include <string>
#include <string_view>

#include "compiler/syntax/document.hpp"

namespace tallow::syntax {

// Whether the atoms i and i + 1 stay without a blank between them because they touch: those of `3-pin`, and
// the numbers of `1-4`, a mistake that is to be seen as one.
bool stay_joined(std::span<const Atom> atoms, std::size_t i);

// The atoms of one line in plain signs, single blanks between them where the style has one. They read as the
// same atoms again.
class PlainText {
  public:
    // `text` is the file's; it stays the caller's. In a type, dots stand close.
    PlainText(std::string_view text, std::span<const Atom> atoms, Word declaration)
        : text_(text), atoms_(atoms), declaration_(declaration) {}

    std::string of(std::size_t first, std::size_t last) const;

  private:
    std::string atom(std::size_t i) const;
    bool is(std::size_t i, AtomKind kind) const { return i < atoms_.size() && atoms_[i].kind == kind; }
    bool bare(std::size_t i) const { return is(i, AtomKind::number) && atoms_[i].unit() == Unit::none; }
    bool respells_colour(std::size_t i) const;
    bool close_dots(std::size_t i) const;
    bool blank_behind(std::size_t i) const;

    std::string_view text_;
    std::span<const Atom> atoms_;
    Word declaration_;
};

}  // namespace tallow::syntax
