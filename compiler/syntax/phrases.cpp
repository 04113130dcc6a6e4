// Where a setting ends and the next begins; where a selection ends.
#include "compiler/syntax/cells.hpp"

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
        case Word::above:
        case Word::preheat:
        case Word::floor:
            return true;
        default:
            return false;
    }
}

bool is_level(const Atom& atom) {
    return atom.unit() == Unit::percent || atom.word() == Word::full || atom.word() == Word::out ||
           atom.word() == Word::dmx || atom.word() == Word::dmx16;
}

}  // namespace

std::set<std::string_view> parameter_names(const Document& document, std::string_view text) {
    std::set<std::string_view> names{"pan", "tilt", "strobe", "zoom", "focus", "iris"};
    for (const Declaration& d : document.declarations) {
        if (d.keyword != Word::type) continue;
        for (std::uint32_t i = d.first; i < d.last; ++i) {
            const auto atoms = document.atoms_of(document.lines[i]);
            const bool named = atoms.size() > 1 && atoms[1].kind == AtomKind::word;
            const Word word = atoms[0].word();
            if (named && (word == Word::range || word == Word::home || word == Word::wheel))
                names.insert(text_of(atoms[1], text));
        }
    }
    return names;
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
    } else if (said == Word::response) {
        skip(1);
        if (peek() != nullptr) phrase();
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

}  // namespace tallow::syntax
