#include "compiler/syntax/cells.hpp"

#include <algorithm>

#include "compiler/syntax/plain.hpp"

namespace tallow::syntax {
namespace {

std::string_view text_of(const Atom& atom, std::string_view text) {
    return text.substr(atom.offset, atom.length);
}

// Words that take one value, wherever they stand among settings.
bool takes_value(Word word) {
    switch (word) {
        case Word::tallow:
        case Word::colour:
        case Word::color:
        case Word::saturation:
        case Word::intensity:
        case Word::fade:
        case Word::delay:
        case Word::look:
        case Word::wave:
        case Word::chase:
        case Word::up:
        case Word::down:
        case Word::move:
        case Word::beam:
        case Word::curve:
        case Word::next_at:
        case Word::timecode:
        case Word::on:
        case Word::page:
        case Word::note:
        case Word::period:
        case Word::wavelength:
        case Word::along:
        case Word::travel:
        case Word::phase:
        case Word::duty:
        case Word::seed:
        case Word::swing:
        case Word::every:
        case Word::takes:
        case Word::at:
        case Word::height:
        case Word::depth:
        case Word::from:
        case Word::pf:
            return true;
        default:
            return false;
    }
}

bool is_level(const Atom& atom) {
    return atom.unit() == Unit::percent || atom.word() == Word::full || atom.word() == Word::out ||
           atom.word() == Word::dmx || atom.word() == Word::dmx16;
}

bool begins_type_line(Word word) {
    return word == Word::emitter || word == Word::mode || word == Word::range || word == Word::home ||
           word == Word::supply || word == Word::draws || word == Word::plug || word == Word::length;
}

}  // namespace

std::set<std::string_view> parameter_names(const Document& document, std::string_view text) {
    std::set<std::string_view> names{"pan", "tilt", "strobe", "zoom", "focus", "iris"};
    for (const Declaration& d : document.declarations) {
        if (d.keyword != Word::type) continue;
        for (std::uint32_t i = d.first; i < d.last; ++i) {
            const auto atoms = document.atoms_of(document.lines[i]);
            const bool named = atoms.size() > 1 && atoms[1].kind == AtomKind::word;
            if (named && (atoms[0].word() == Word::range || atoms[0].word() == Word::home))
                names.insert(text_of(atoms[1], text));
        }
    }
    return names;
}

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

// One value: `60%`, `dmx 128`, `xy 0.31 0.33`, `hue 200deg`, `1/500`, a word, or several with dots between.
void CellCutter::value() {
    do {
        const Word first = word();
        skip(first == Word::xy                                                  ? 3
             : first == Word::dmx || first == Word::dmx16 || first == Word::hue ? 2
                                                                                : 1);
        if (first == Word::hue && word() == Word::saturation) skip(2);
        if (take(AtomKind::slash)) skip(1);
    } while (take(AtomKind::dots) && peek() != nullptr);
}

// Values with commas between them are one cell: `-3m, -1m, 2m`.
void CellCutter::values() {
    value();
    while (take(AtomKind::comma))
        if (peek() != nullptr) value();
}

// One setting: a word of the language with its value, a parameter with its value, or a value alone.
void CellCutter::phrase() {
    const Atom& first = *peek();
    const Word said = first.word();
    if (said == Word::emitter) {
        skip(2);
        if (peek() != nullptr && is_level(*peek())) values();
    } else if (said == Word::follow) {
        skip(1);
        if (next_is(AtomKind::number)) values();
    } else if (said == Word::plays) {
        skip(3);
    } else if (said == Word::points) {
        skip(1);
        while (peek() != nullptr && !takes_value(word())) skip(1);
    } else if (takes_value(said)) {
        skip(1);
        if (peek() != nullptr) values();
        if (said == Word::chase && word() == Word::off) skip(1);
    } else if (first.kind == AtomKind::word && said == Word::none && !next_is(AtomKind::dots, 1)) {
        const bool parameter = declaration_ == Word::palette || parameters_.contains(text_of(first, text_));
        skip(1);
        if (peek() == nullptr) return;
        if (next_is(AtomKind::word) && word() == Word::none) return values();
        const bool measured = next_is(AtomKind::number) && !bare_number() && !is_level(*peek()) &&
                              peek()->unit() != Unit::kelvin;
        if (measured || (parameter && (is_level(*peek()) || next_is(AtomKind::number)))) values();
    } else {
        values();
    }
}

void CellCutter::phrases() {
    while (peek() != nullptr) {
        phrase();
        end_cell();
    }
}

// As the selector of the show reads one: names after commas, bare numbers, dots, and the words that go on.
void CellCutter::selection() {
    bool name_may_come = true;
    while (peek() != nullptr) {
        const Word w = word();
        const bool goes_on = w == Word::odd || w == Word::even || w == Word::every || w == Word::cells ||
                             w == Word::cell || w == Word::by || w == Word::except;
        const bool name = name_may_come && next_is(AtomKind::word);
        if (!name && !goes_on && !bare_number() && !next_is(AtomKind::comma) && !next_is(AtomKind::dots))
            break;
        name_may_come = next_is(AtomKind::comma) || w == Word::except || w == Word::by;
        skip(1);
    }
    end_cell();
}

// A line of a cue, a look and the like.
void CellCutter::statement() {
    const Word w = word();
    if (w == Word::look || w == Word::chase || w == Word::on || w == Word::page || w == Word::note) {
        skip(1);
        end_cell();
    } else {
        selection();
    }
    phrases();
}

void CellCutter::patch_line() {
    selection();
    while (peek() != nullptr && word() != Word::at && word() != Word::ganged) skip(1);
    end_cell();
    phrases();
}

// Each part: perhaps a name, perhaps its travel, perhaps `is` and a scale.
void CellCutter::range_parts() {
    while (peek() != nullptr) {
        if (next_is(AtomKind::word) && word() != Word::is) skip(1);
        while (peek() != nullptr && (!next_is(AtomKind::word) || word() == Word::is)) skip(1);
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
    if (!begins_type_line(first)) {  // a mode that goes on stands under its slots
        column_ = 2;
        return slots();
    }
    skip(1);
    end_cell();
    if (first == Word::draws) return phrases();
    if (first != Word::emitter && first != Word::mode && first != Word::range) return rest_as_one_cell();
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
            skip(1);
            end_cell();
            phrases();
            break;
        case Word::group:
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
