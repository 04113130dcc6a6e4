#include "compiler/syntax/cells.hpp"

#include <algorithm>

#include "compiler/syntax/plain.hpp"

namespace tallow::syntax {

void CellCutter::begin(std::span<const Atom> atoms, Word declaration) {
    atoms_ = atoms;
    declaration_ = declaration;
    at_ = cell_begin_ = column_ = 0;
    cells_.clear();
}

bool CellCutter::take(AtomKind kind) {
    if (!next_is(kind)) return false;
    ++at_;
    return true;
}

void CellCutter::end_cell() {
    if (at_ == cell_begin_) return;
    while (at_ < atoms_.size() && stay_joined(atoms_, at_ - 1)) ++at_;
    cells_.push_back({cell_begin_, at_, column_});
    cell_begin_ = at_;
    ++column_;
}

void CellCutter::rest_as_one_cell() {
    at_ = atoms_.size();
    end_cell();
}

// A line of a cue, a look and the like.
void CellCutter::statement() {
    const Word w = word();
    if (w == Word::look || w == Word::chase) {
        skip(2);
        if (word() == Word::off) skip(1);
        end_cell();
    } else if (w == Word::on || w == Word::page || w == Word::note) {
        skip(1);
        end_cell();
    } else {
        selection();
    }
    phrases();
}

// A word and what it says: `defaults fade 5s`, `flashes 3 per second`, `keep house above 10%`.
void CellCutter::property_line() {
    const Word w = word();
    skip(1);
    end_cell();
    if (w == Word::timecode || w == Word::flashes) return rest_as_one_cell();
    if (w == Word::keep) selection();
    phrases();
}

void CellCutter::patch_line() {
    selection();
    const auto more = [&] {
        const Word w = word();
        return w == Word::at || w == Word::ganged || w == Word::response || w == Word::preheat ||
               w == Word::floor;
    };
    while (peek() != nullptr && !more()) skip(1);
    end_cell();
    phrases();
}

// Each part: perhaps a name, perhaps its travel, perhaps `is` and a scale, perhaps a colour.
void CellCutter::range_parts() {
    const auto names = [&] {
        const Word w = word();
        return next_is(AtomKind::word) && w != Word::is && w != Word::xy && w != Word::hue &&
               w != Word::saturation;
    };
    while (peek() != nullptr) {
        if (names()) skip(1);
        while (peek() != nullptr && !names()) skip(1);
        end_cell();
    }
}

// Slots in one cell, cells `4 x (red green blue)` in one each.
void CellCutter::slots() {
    while (peek() != nullptr) {
        const bool times = word(1) == Word::x || next_is(AtomKind::times, 1);
        if (next_is(AtomKind::number) && times && next_is(AtomKind::open_bracket, 2)) end_cell();
        const bool closes = next_is(AtomKind::close_bracket);
        skip(1);
        if (closes) end_cell();
    }
    end_cell();
}

void CellCutter::type_line() {
    const Word first = word();
    if (!grammar::begins_type_line(first)) {  // a mode that goes on stands under its slots
        column_ = 2;
        return slots();
    }
    skip(1);
    end_cell();
    if (first == Word::draws) return phrases();
    if (first == Word::response || first == Word::preheat || first == Word::floor) {
        if (first != Word::response || word() == Word::points)
            values();
        else
            skip(1);
        end_cell();
        return phrases();
    }
    const bool ranges = first == Word::range || first == Word::wheel;
    if (first != Word::emitter && first != Word::mode && !ranges) return rest_as_one_cell();
    skip(1);
    end_cell();
    if (first == Word::emitter) return phrases();
    if (first == Word::mode) return slots();
    range_parts();
}

// A layout's name, then pairs such as `24 channels` and `rows 2`.
void CellCutter::desk_line() {
    const bool layout = word() == Word::layout;
    skip(1);
    end_cell();
    if (!layout) return rest_as_one_cell();
    skip(1);
    end_cell();
    while (peek() != nullptr) {
        skip(2);
        end_cell();
    }
}

void CellCutter::chase_line() {
    if (word() != Word::step) return statement();
    skip(1);
    if (bare_number()) skip(1);
    end_cell();
    if (word() == Word::takes) return phrases();
    statement();
}

// The title is the declaration's word, what it declares, and its label; settings follow.
std::vector<Cell> CellCutter::header(std::span<const Atom> atoms, Word declaration) {
    begin(atoms, declaration);
    if (word() == Word::skip) skip(1);
    skip(1);
    if (!next_is(AtomKind::string)) skip(1);
    if (take(AtomKind::slash)) skip(1);
    take(AtomKind::string);
    end_cell();
    if (declaration == Word::group)
        selection();
    else if (declaration == Word::submaster || declaration == Word::patch)
        rest_as_one_cell();
    phrases();
    return std::move(cells_);
}

std::vector<Cell> CellCutter::body(std::span<const Atom> atoms, Word declaration) {
    begin(atoms, declaration);
    switch (declaration) {
        case Word::type:
            type_line();
            break;
        case Word::patch:
            patch_line();
            break;
        case Word::desk:
            desk_line();
            break;
        case Word::chase:
            chase_line();
            break;
        case Word::show:
        case Word::wave:
        case Word::safety:
            property_line();
            break;
        case Word::group:
            while (peek() != nullptr && word() != Word::balanced) skip(1);
            end_cell();
            rest_as_one_cell();
            break;
        case Word::circuit:
        case Word::data:
            rest_as_one_cell();
            break;
        default:
            statement();
    }
    return std::move(cells_);
}

}  // namespace tallow::syntax
