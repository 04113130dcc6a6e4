#include "compiler/show/type_modes.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

constexpr std::uint32_t slots = runtime::limits::slots;

}  // namespace

bool ModeReader::read(Reader& reader) {
    const auto name = reader.name("the name of a mode");
    if (!name) return false;
    const Span span = reader.last();
    const bool taken =
        std::any_of(modes_.begin(), modes_.end(), [&](const Listing& l) { return l.mode.name == *name; });
    if (taken)
        reader.fault(Finding::name_taken, span, fmt::format("the type has a mode `{}` already", *name));
    Mode mode;
    mode.name = *name;
    mode.span = span;
    modes_.push_back({std::move(mode), {}});
    return go_on(reader);
}

// `6 x (` or `6x (`: how many cells, or none.
std::optional<std::uint32_t> ModeReader::read_repeat(Reader& reader) {
    if (!reader.next_is(AtomKind::number)) return std::nullopt;
    const syntax::Atom& atom = *reader.peek();
    std::uint32_t count = 0;
    if (atom.unit() == Unit::unknown && reader.text(atom).ends_with('x')) {
        const std::string_view digits =
            reader.text(atom).substr(0, reader.text(atom).find_first_not_of("0123456789"));
        for (const char c : digits)
            count = count > slots ? count : count * 10 + static_cast<std::uint32_t>(c - '0');
        reader.take();
    } else {
        const auto said = reader.count("a number of cells", 1, slots);
        if (!said) return std::nullopt;
        count = *said;
        if (!reader.take(Word::x) && !reader.take(AtomKind::times)) {
            reader.expected("`x` and the slots of a cell between brackets");
            return std::nullopt;
        }
    }
    if (count < 1 || count > slots) {
        reader.fault(Finding::out_of_range, reader.last(),
                     fmt::format("a number of cells is a whole number from 1 to {}", slots));
        return std::nullopt;
    }
    return count;
}

void ModeReader::read_slots(Reader& reader, Listing& listing) {
    while (!reader.at_end() && !reader.muted()) {
        if (!reader.next_is(AtomKind::number)) {
            if (const auto slot = read_slot(reader)) listing.slots.push_back(*slot);
            continue;
        }
        const auto cells = read_repeat(reader);
        if (!cells) return;
        read_cells(reader, listing, *cells);
    }
    if (listing.slots.size() > slots) {
        reader.fault(Finding::out_of_range, listing.mode.span,
                     fmt::format("the mode `{}` has more than {} slots", listing.mode.name, slots));
        listing.slots.resize(slots);
    }
}

void ModeReader::read_cells(Reader& reader, Listing& listing, std::uint32_t cells) {
    if (!reader.take(AtomKind::open_bracket)) {
        reader.expected("`(` and the slots of a cell");
        return;
    }
    std::vector<Slot> one;
    while (!reader.at_end() && !reader.next_is(AtomKind::close_bracket) && !reader.muted())
        if (const auto slot = read_slot(reader)) one.push_back(*slot);
    if (!reader.take(AtomKind::close_bracket)) {
        reader.expected("`)`");
        return;
    }
    if (one.empty() || listing.slots.size() + one.size() * cells > slots) {
        reader.fault(Finding::out_of_range, reader.last(),
                     one.empty() ? std::string("a cell has at least one slot")
                                 : fmt::format("a mode has {} slots at the most", slots));
        return;
    }
    for (std::uint32_t i = 0; i < cells; ++i) {
        ++listing.mode.cells;
        for (Slot slot : one) {
            slot.cell = listing.mode.cells;
            listing.slots.push_back(slot);
        }
    }
}

std::optional<Slot> ModeReader::read_slot(Reader& reader) {
    if (reader.take(AtomKind::dash)) return Slot{none, 0, false, reader.last()};
    if (reader.next_is(AtomKind::dotted)) {
        const std::string text = reader.name_text(reader.take());
        const std::size_t point = text.find('.');
        if (text.substr(point + 1) == "fine")
            return Slot{scope_.attribute(text.substr(0, point)), 0, true, reader.last()};
        reader.fault(Finding::unexpected, reader.last(), fmt::format("`{}` is no slot", text))
            .with_hint(
                fmt::format("the fine byte of a 16-bit parameter is `{}.fine`", text.substr(0, point)));
        return std::nullopt;
    }
    if (reader.next_is(AtomKind::comma)) {
        reader.fault(Finding::unexpected, reader.here(),
                     "slots stand with blanks between them, without commas");
        return std::nullopt;
    }
    const auto name = reader.name("a slot such as `red`, `pan.fine` or `-`");
    if (!name) return std::nullopt;
    return Slot{scope_.attribute(*name), 0, false, reader.last()};
}

}  // namespace tallow::show
