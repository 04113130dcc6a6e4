// A line as the cells of a cue sheet: what it is about, then one cell for each of its settings. Goes by the
// words of the language alone, so a file is laid out the same whatever else its show holds.
#pragma once

#include <set>
#include <span>
#include <string_view>
#include <vector>

#include "compiler/syntax/document.hpp"

namespace tallow::syntax {

// A run of a line's atoms, [first, last), in a column of its declaration.
struct Cell {
    std::size_t first, last;
    std::size_t column;
};

// The first words of settings that are a word and its value, besides those of the language: the names of
// parameters, such as `zoom`. What a text's own types give a range or a home is added.
std::set<std::string_view> parameter_names(const Document& document, std::string_view text);

class CellCutter {
  public:
    // `text` is the file's; both stay the caller's.
    CellCutter(std::string_view text, const std::set<std::string_view>& parameters)
        : text_(text), parameters_(parameters) {}

    // Together the cells hold every atom, in order. `atoms` is not empty.
    std::vector<Cell> header(std::span<const Atom> atoms, Word declaration);
    std::vector<Cell> body(std::span<const Atom> atoms, Word declaration);

  private:
    void begin(std::span<const Atom> atoms, Word declaration);
    const Atom* peek(std::size_t ahead = 0) const {
        return at_ + ahead < atoms_.size() ? &atoms_[at_ + ahead] : nullptr;
    }
    Word word(std::size_t ahead = 0) const { return peek(ahead) ? peek(ahead)->word() : Word::none; }
    bool next_is(AtomKind kind, std::size_t ahead = 0) const {
        return peek(ahead) != nullptr && peek(ahead)->kind == kind;
    }
    bool bare_number(std::size_t ahead = 0) const {
        return next_is(AtomKind::number, ahead) && peek(ahead)->unit() == Unit::none;
    }
    bool take(AtomKind kind);
    void skip(std::size_t count) { at_ = std::min(at_ + count, atoms_.size()); }
    void end_cell();
    void rest_as_one_cell();

    // In phrases.cpp.
    void value();
    void values();
    void phrase();
    void phrases();
    void selection();

    void statement();
    void property_line();
    void patch_line();
    void type_line();
    void range_parts();
    void slots();
    void desk_line();
    void chase_line();

    std::string_view text_;
    const std::set<std::string_view>& parameters_;
    std::span<const Atom> atoms_;
    Word declaration_ = Word::none;
    std::size_t at_ = 0, cell_begin_ = 0, column_ = 0;
    std::vector<Cell> cells_;
};

}  // namespace tallow::syntax
