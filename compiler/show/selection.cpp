#include "compiler/show/selection.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <unordered_set>
#include <utility>

#include "compiler/show/bounds.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

constexpr std::uint32_t largest_number = 99'999;

std::uint64_t key(const Element& e) {
    return std::uint64_t{e.fixture} << 16 | e.cell;
}

bool goes_on(const Reader& reader) {
    return reader.next_is(Word::odd) || reader.next_is(Word::even) || reader.next_is(Word::every) ||
           reader.next_is(Word::cells) || reader.next_is(Word::cell) || reader.next_is(Word::by);
}

}  // namespace

std::optional<Axis> take_axis(Reader& reader) {
    if (reader.take(Word::x)) return Axis::x;
    if (reader.take(Word::depth)) return Axis::depth;
    if (reader.take(Word::height)) return Axis::height;
    return std::nullopt;
}

void report_no_position(const Show& show, Reader& reader, Span where, Element element) {
    const std::string fixture = fixture_text(show.fixtures[element.fixture]);
    reader.fault(Finding::no_position, where, fmt::format("nothing says where `{}` hangs", fixture))
        .with_hint(
            fmt::format("give it a place: `hang bar  height 4m`, and on a line below it `{}  -1m`", fixture))
        .see(show.fixtures[element.fixture].span, "patched here");
}

// Selections come again and again: the words up to the first setting are the key. They end where the atoms
// stop being names after commas, bare numbers, dots and the words above.
Index Selector::read(Reader& reader) {
    const std::size_t place = reader.place();
    bool name_may_come = true;
    while (!reader.at_end()) {
        const bool name = name_may_come && reader.next_is(AtomKind::word);
        const bool part = reader.next_is(AtomKind::comma) || reader.next_is_bare() ||
                          reader.next_is(AtomKind::dots) || goes_on(reader) || reader.next_is(Word::except);
        if (!name && !part) break;
        name_may_come =
            reader.next_is(AtomKind::comma) || reader.next_is(Word::except) || reader.next_is(Word::by);
        reader.take();
    }
    if (reader.place() == place) {
        reader.expected("the name of a fixture or group");
        return none;
    }
    const std::string_view words = scope_.sources.text(reader.since(place));
    // `front 1 to 4` and `front 1 - 4` are mistakes of the selection, whether `front 1` is known or not.
    const bool goes_wrong = reader.next_is(AtomKind::dash) ||
                            (reader.next_is(AtomKind::word) && reader.text(*reader.peek()) == "to");
    const Index known =
        known_.find(words, [this](Index i) -> std::string_view { return scope_.show.selections[i].text; });
    if (known != none && !goes_wrong) return known;

    const std::size_t words_end = reader.place();
    reader.go_to(place);
    Selection selection;
    selection.elements = evaluate(reader, selection.broken);
    selection.text = reader.muted() ? words : reader.text_since(place);
    const auto index = static_cast<Index>(scope_.show.selections.size());
    if (known == none && !selection.broken && reader.place() == words_end) known_.add(words, index);
    scope_.show.selections.push_back(std::move(selection));
    return index;
}

std::vector<Element> Selector::evaluate(Reader& reader, bool& broken, bool open) {
    std::vector<Element> chosen, left_out;
    std::vector<Element>* target = &chosen;
    const Symbol* last = nullptr;
    for (;;) {
        if (too_many(reader)) break;
        Row row = item(reader, last, broken);
        gathered_ += row.elements.size();
        target->insert(target->end(), row.elements.begin(), row.elements.end());
        if (reader.muted()) break;
        if (reader.take(AtomKind::comma)) {
            if (open && reader.at_end()) break;
            continue;
        }
        if (!reader.take(Word::except)) break;
        target = &left_out;
        last = nullptr;
    }
    broken = broken || reader.muted();
    const bool any = !chosen.empty();
    unify(chosen);
    broken = broken || (any && chosen.empty());  // all of them were lost to a fault in their patch
    unify(left_out);
    if (!left_out.empty()) {
        take_away(chosen, left_out);
        if (chosen.empty() && !broken) {
            reader.fault(Finding::empty_selection, reader.last(),
                         "`except` takes everything away that was selected");
            broken = true;
        }
    }
    return chosen;
}

void Selector::take_away(std::vector<Element>& from, const std::vector<Element>& what) {
    std::unordered_set<std::uint64_t> gone;
    for (const Element& e : what) gone.insert(key(e));
    std::erase_if(from, [&](const Element& e) {
        return gone.contains(key(e)) || gone.contains(key({e.fixture, 0}));
    });
}

Selector::Row Selector::item(Reader& reader, const Symbol*& last, bool& broken) {
    Row row;
    row.span = reader.here();
    if (reader.take(Word::all)) {
        row.elements = everything();
        spread_gangs(row.elements);
        row.name = "all";
        last = nullptr;
    } else if (reader.next_is_bare() && last != nullptr) {
        row.name = last->name;
        numbered(reader, *last, row, broken);
    } else if (reader.next_is(Word::wave)) {
        reader.fault(Finding::unexpected, reader.here(), "a wave stands behind what it moves")
            .with_hint("write the fixtures or the group before it, like `all wave NAME`");
        broken = true;
    } else {
        const Symbol* symbol = scope_.look_up(scope_.rig, reader, "fixture or group", [](const Symbol& s) {
            return s.kind == Symbol::Kind::fixtures || s.kind == Symbol::Kind::group;
        });
        if (symbol == nullptr) {
            broken = true;
            while (reader.next_is_bare() || reader.next_is(AtomKind::dots) || goes_on(reader)) reader.take();
            return row;
        }
        last = symbol->kind == Symbol::Kind::fixtures ? symbol : nullptr;
        row.name = symbol->name;
        if (symbol->kind == Symbol::Kind::group) {
            if (!need_group(symbol->index, reader))
                broken = true;
            else
                row.elements = groups_[symbol->index];
            spread_gangs(row.elements);
        } else if (reader.next_is_bare()) {
            numbered(reader, *symbol, row, broken);
        } else {
            row = whole_set(*symbol);
            row.span = reader.last();
        }
    }
    modifiers(reader, row, broken);
    return row;
}

Selector::Row Selector::whole_set(const Symbol& symbol) const {
    Row row;
    row.name = symbol.name;
    for (const Index i : scope_.sets[symbol.index].members) {
        row.elements.push_back({i, 0});
        row.numbers.push_back(scope_.show.fixtures[i].number);
    }
    return row;
}

// `front 3`, `front 1..4`, `front 4..1`.
void Selector::numbered(Reader& reader, const Symbol& symbol, Row& row, bool& broken) {
    const std::size_t place = reader.place();
    const FixtureSet& set = scope_.sets[symbol.index];
    const std::string_view number = reader.text(*reader.peek());
    if (number.find('.') != std::string_view::npos) {
        reader.fault(Finding::missing_unit, reader.here(), fmt::format("the level `{}` has no unit", number))
            .with_hint(fmt::format("levels are in percent: `{} 50%` is half of full", symbol.name));
        broken = true;
        return;
    }
    const auto first = reader.count("a fixture's number", 0, largest_number);
    if (!first) {
        broken = true;
        return;
    }
    std::uint32_t last = *first;
    const bool range = reader.take(AtomKind::dots);
    if (range) {
        const auto said = reader.count("a fixture's number", 0, largest_number);
        if (!said) {
            broken = true;
            return;
        }
        last = *said;
    } else if (const auto end = reader.dashed_end()) {
        reader.fault(Finding::range_dots, reader.since(place), "a row of numbers is written with two dots")
            .with_hint(fmt::format("write `{} {}..{}`", symbol.name, *first, *end));
    }
    if (reader.muted()) {
        broken = true;
        return;
    }
    const std::int64_t step = last >= *first ? 1 : -1;
    const std::size_t most =
        std::min<std::size_t>(std::max(last, *first) - std::min(last, *first) + 1, set.members.size());
    row.elements.reserve(most);
    row.numbers.reserve(most);
    for (std::int64_t n = *first;; n += step) {
        const Index found = member(set, n);
        if (found != none) {
            row.elements.push_back({found, 0});
            row.numbers.push_back(static_cast<std::uint32_t>(n));
        } else {
            broken = true;
            if (set.broken) return reader.mute();
            auto& fault = reader.fault(
                Finding::no_such_fixture, reader.since(place),
                set.single ? fmt::format("`{}` is a single fixture, without numbers", symbol.name)
                           : fmt::format("`{}` has the numbers {} to {}, and there is no {}", symbol.name,
                                         scope_.show.fixtures[set.members.front()].number,
                                         scope_.show.fixtures[set.members.back()].number, n));
            fault.see(symbol.span, fmt::format("`{}` is patched here", symbol.name));
            if (!range && *first <= 100 &&
                (set.single || *first > scope_.show.fixtures[set.members.back()].number))
                fault.with_hint(fmt::format("for a level, write `{} {}%`", symbol.name, *first));
            return;
        }
        if (n == last) break;
    }
}

// The fixture of this number; none where there is none. Members stand by number.
Index Selector::member(const FixtureSet& set, std::int64_t number) const {
    const auto& fixtures = scope_.show.fixtures;
    if (set.gapless) {
        const std::int64_t place = number - fixtures[set.members.front()].number;
        const bool there = place >= 0 && place < std::ssize(set.members);
        return there ? set.members[static_cast<std::size_t>(place)] : none;
    }
    const auto at = std::lower_bound(set.members.begin(), set.members.end(), number,
                                     [&](Index i, std::int64_t n) { return fixtures[i].number < n; });
    return at != set.members.end() && fixtures[*at].number == number && !set.single ? *at : none;
}

void Selector::modifiers(Reader& reader, Row& row, bool& broken) {
    for (;;) {
        if (reader.next_is(Word::odd) || reader.next_is(Word::even))
            take_odd_or_even(reader, row, broken);
        else if (reader.next_is(Word::every))
            take_every(reader, row, broken);
        else if (reader.next_is(Word::cells) || reader.next_is(Word::cell))
            take_cells(reader, row, broken);
        else if (reader.next_is(Word::by))
            take_order(reader, row, broken);
        else
            break;
        if (reader.muted()) {
            broken = true;
            return;
        }
    }
    if (row.elements.empty() && !broken) {
        reader.fault(Finding::empty_selection, source::join(row.span, reader.last()),
                     "nothing is selected here");
        broken = true;
    }
}

// `by x`: in the order of positions; those at one place stay as they were.
void Selector::take_order(Reader& reader, Row& row, bool& broken) {
    reader.take();
    const auto axis = take_axis(reader);
    if (!axis) {
        reader.expected("`x`, `depth` or `height`");
        return;
    }
    // A gang is one light, and stands where its first body does.
    const auto stands = [&](Element e) {
        const Index leader = scope_.show.fixtures[e.fixture].leader;
        return bodies || leader == none ? e : Element{leader, e.cell};
    };
    const auto position = [&](Element e) { return position_of(scope_.show, stands(e), *axis); };
    for (const Element& e : row.elements)
        if (!position(e)) {
            broken = true;
            if (scope_.show.fixtures[e.fixture].type == none) return;
            report_no_position(scope_.show, reader, source::join(row.span, reader.last()), stands(e));
            return;
        }
    std::stable_sort(row.elements.begin(), row.elements.end(),
                     [&](const Element& a, const Element& b) { return *position(a) < *position(b); });
    row.numbers.clear();
}

void Selector::take_odd_or_even(Reader& reader, Row& row, bool& broken) {
    const bool odd = reader.take().word() == Word::odd;
    if (row.numbers.empty() || row.numbers.front() != 0) return keep_odd_or_even(row, odd);
    reader
        .fault(Finding::no_such_fixture, reader.last(),
               fmt::format("`{}` is a single fixture, without numbers", row.name))
        .with_hint(fmt::format("write `{}` alone", row.name));
    broken = true;
}

// Fixtures of one name by their number, everything else by its place in the row.
void Selector::keep_odd_or_even(Row& row, bool odd) const {
    Row kept;
    for (std::size_t i = 0; i < row.elements.size(); ++i) {
        const std::size_t number = row.numbers.empty() ? i + 1 : row.numbers[i];
        if ((number % 2 == 1) != odd) continue;
        kept.elements.push_back(row.elements[i]);
        if (!row.numbers.empty()) kept.numbers.push_back(row.numbers[i]);
    }
    row.elements = std::move(kept.elements);
    row.numbers = std::move(kept.numbers);
}

void Selector::take_every(Reader& reader, Row& row, bool& broken) {
    reader.take();
    const auto step = reader.count("how many to go on by", 1, largest_number);
    if (!step) {
        broken = true;
        return;
    }
    std::size_t kept = 0;
    for (std::size_t i = 0; i < row.elements.size(); i += *step, ++kept) {
        row.elements[kept] = row.elements[i];
        if (!row.numbers.empty()) row.numbers[kept] = row.numbers[i];
    }
    row.elements.resize(kept);
    if (!row.numbers.empty()) row.numbers.resize(kept);
}

// Whether a fixture could run in a mode with cells.
bool has_celled_mode(const Type& type) {
    return std::any_of(type.modes.begin(), type.modes.end(), [](const Mode& mode) { return mode.cells > 0; });
}

// `cells`: each fixture becomes its cells; one without cells stays, as its only one, where others have some,
// or where its type has them in another mode: so a show may change to a smaller one. `cell 3`, `cell 1..3`:
// those alone.
void Selector::take_cells(Reader& reader, Row& row, bool& broken) {
    const std::size_t place = reader.place();
    const bool all = reader.take().word() == Word::cells;
    std::uint32_t first = 1, last = runtime::limits::slots;
    if (!all) {
        const auto from = reader.count("a cell's number", 1, runtime::limits::slots);
        if (!from) return;
        first = last = *from;
        if (reader.take(AtomKind::dots)) {
            const auto to = reader.count("a cell's number", 1, runtime::limits::slots);
            if (!to) return;
            last = *to;
        }
    }
    std::vector<Element> cells;
    bool any = false;
    std::uint32_t most = 0;
    for (const Element& e : row.elements) {
        const Fixture& f = scope_.show.fixtures[e.fixture];
        if (f.type == none) {
            broken = true;
            continue;
        }
        const std::uint32_t count = e.cell != 0 ? 0 : scope_.show.mode_of(f).cells;
        most = std::max(most, count);
        any = any || count > 0 || (all && has_celled_mode(scope_.show.type_of(f)));
        if (count == 0 && all) cells.push_back(e);
        if (first <= last)
            for (std::uint32_t c = first; c <= std::min(last, count); ++c)
                cells.push_back({e.fixture, static_cast<std::uint16_t>(c)});
        else
            for (std::uint32_t c = std::min(first, count); c >= last && c > 0; --c)
                cells.push_back({e.fixture, static_cast<std::uint16_t>(c)});
    }
    const bool missing = !all && std::max(first, last) > most;
    if ((!any || missing) && !broken) {
        reader
            .fault(Finding::no_such_cell, reader.since(place),
                   any ? fmt::format("`{}` has {} cells, and there is no cell {}", row.name, most,
                                     std::max(first, last))
                       : fmt::format("`{}` has no cells", row.name))
            .see(row.span, "selected here");
        broken = true;
    }
    row.elements = std::move(cells);
    row.numbers.clear();
}

const std::vector<Element>& Selector::everything() {
    if (everything_.empty())
        for (const RigParameter& p : scope_.show.parameters)
            if (everything_.empty() || everything_.back().fixture != p.fixture)
                everything_.push_back({p.fixture, 0});
    return everything_;
}

void Selector::spread_gangs(std::vector<Element>& elements) {
    if (!bodies) return;
    if (gangs_.empty())
        for (Index i = 0; i < scope_.show.fixtures.size(); ++i)
            if (scope_.show.fixtures[i].type != none)
                gangs_[scope_.show.fixtures[i].leader].push_back({i, 0});
    std::vector<Element> spread;
    for (const Element& e : elements) {
        const auto& gang = gangs_[e.fixture];
        if (e.cell != 0)
            spread.push_back(e);
        else
            spread.insert(spread.end(), gang.begin(), gang.end());
    }
    elements = std::move(spread);
}

// Said once; nothing more is gathered then.
bool Selector::too_many(Reader& reader) {
    if (gathered_ <= selected_at_most) return false;
    if (scope_.sink.has(Finding::too_many))
        reader.mute();
    else
        reader.fault(
            Finding::too_many, reader.here(),
            fmt::format("the selections of a show may come to {} fixtures and cells", selected_at_most));
    reader.skip_rest();
    return true;
}

void Selector::unify(std::vector<Element>& elements) {
    met_.resize(scope_.show.fixtures.size());
    ++round_;
    std::unordered_set<std::uint64_t> cells;
    std::size_t kept = 0;
    for (Element e : elements) {
        const Fixture& f = scope_.show.fixtures[e.fixture];
        if (f.type == none) continue;
        if (!bodies) e.fixture = f.leader;
        const bool fresh =
            e.cell == 0 ? std::exchange(met_[e.fixture], round_) != round_ : cells.insert(key(e)).second;
        if (fresh) elements[kept++] = e;
    }
    elements.resize(kept);
}

}  // namespace tallow::show
