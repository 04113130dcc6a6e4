// `desk`: where the show has to go.
#include <algorithm>
#include <fmt/format.h>
#include <set>

#include "compiler/show/steps.hpp"
#include "compiler/show/values.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

namespace limits = runtime::limits;

void read_layout(Reader& reader, Desk& desk) {
    Layout layout;
    const auto name = reader.name("the name of a layout");
    if (!name) return;
    layout.name = *name;
    layout.span = reader.last();
    while (!reader.at_end() && !reader.muted()) {
        if (reader.take(Word::rows)) {
            layout.rows = reader.count("a number of rows", 1, 100).value_or(1);
            continue;
        }
        const auto count = reader.count("a count such as `20 channels`", 0, limits::slots);
        if (!count) return;
        if (reader.take(Word::channel) || reader.take(Word::channels))
            layout.channels = *count;
        else if (reader.take(Word::scene) || reader.take(Word::scenes))
            layout.scenes = *count;
        else if (reader.take(Word::submaster) || reader.take(Word::submasters))
            layout.submasters = *count;
        else if (reader.take(Word::page) || reader.take(Word::pages))
            layout.pages = std::max(*count, 1u);
        else
            reader.expected("`channels`, `scenes`, `submasters` or `pages` behind the count");
    }
    if (layout.channels == 0)
        reader
            .fault(Finding::expected, layout.span,
                   fmt::format("the layout `{}` has no channels", layout.name))
            .with_hint("write how many faders it has: `20 channels`");
    const bool taken = std::any_of(desk.layouts.begin(), desk.layouts.end(),
                                   [&](const Layout& l) { return l.name == layout.name; });
    if (taken)
        reader.fault(Finding::name_taken, layout.span,
                     fmt::format("the desk has a layout `{}` already", layout.name));
    if (!reader.muted()) desk.layouts.push_back(std::move(layout));
}

void read_chases(Reader& reader, Desk& desk) {
    desk.chases = reader.count("a number of chases", 0, 1000).value_or(0);
    if (!reader.take(Word::each))
        return reader.at_end() ? void() : void(reader.expected("`each` and a number of steps"));
    desk.chase_steps = reader.count("a number of steps", 1, 1000).value_or(0);
    if (!reader.take(Word::steps) && !reader.take(Word::step)) reader.expected("`steps`");
}

void read_notch(Reader& reader, Desk& desk) {
    desk.notch =
        reader.fine_measure(Unit::percent, "a notch", "5%", 100'000, 50'000'000).value_or(desk.notch);
}

// The universes that hold fixtures.
std::set<std::uint16_t> used_universes(const Show& show) {
    std::set<std::uint16_t> used;
    for (const Fixture& f : show.fixtures)
        if (f.type != none) used.insert(f.universe);
    return used;
}

void check_universe(Reader& reader, const std::set<std::uint16_t>& used, std::uint32_t universe, Span span) {
    if (used.contains(static_cast<std::uint16_t>(universe)) || used.empty()) return;
    reader.fault(Finding::desk_universe, span, fmt::format("no fixture is patched in universe {}", universe));
}

// `channel 7 is 1/31`.
void read_channel(Reader& reader, Desk& desk, const std::set<std::uint16_t>& used) {
    const auto number = reader.count("the number of a channel", 1, limits::slots);
    const Span span = reader.last();
    if (number && !reader.take(Word::is)) reader.expected("`is` and a slot, as in `channel 7 is 1/31`,");
    if (reader.muted()) return;
    const std::size_t place = reader.place();
    const auto address = read_address(reader);
    if (!address) return;
    const DeskChannel channel{static_cast<std::uint16_t>(*number),
                              static_cast<std::uint16_t>(address->universe),
                              static_cast<std::uint16_t>(address->slot), span};
    check_universe(reader, used, channel.universe, reader.since(place));
    for (const DeskChannel& other : desk.channels) {
        if (other.number == channel.number)
            reader.fault(Finding::placed_twice, span, fmt::format("channel {} is said twice", *number))
                .see(other.span, "here");
        else if (other.universe == channel.universe && other.slot == channel.slot)
            reader
                .fault(Finding::placed_twice, reader.since(place),
                       fmt::format("slot {} is on channel {} already", text_of(*address), other.number))
                .see(other.span, "here");
    }
    if (!reader.muted()) desk.channels.push_back(channel);
}

void read_line(Reader& reader, Desk& desk, const std::set<std::uint16_t>& used) {
    if (reader.take(Word::layout))
        read_layout(reader, desk);
    else if (reader.take(Word::chases))
        read_chases(reader, desk);
    else if (reader.take(Word::notch))
        read_notch(reader, desk);
    else if (reader.take(Word::reach))
        desk.reach = reader.time().value_or(desk.reach);
    else if (reader.take(Word::crossfade)) {
        desk.dips = reader.take(Word::dips);
        if (!desk.dips && !reader.take(Word::dipless)) reader.expected("`dipless` or `dips`");
    } else if (reader.take(Word::channel))
        read_channel(reader, desk, used);
    else
        reader.expected("`layout`, `chases`, `notch`, `reach`, `crossfade` or `channel`");
    reader.expect_end();
}

}  // namespace

void resolve_desks(Scope& scope) {
    const std::set<std::uint16_t> used = used_universes(scope.show);
    for (const Place& place : scope.declarations(Word::desk)) {
        Reader header = scope.header(place);
        const auto name = scope.new_name(header, "the name of the desk");
        if (!name) continue;
        Desk desk;
        desk.name = *name;
        desk.span = header.last();
        desk.label = read_label(header);
        if (header.take(Word::plays)) {
            if (!header.take(Word::universe)) header.expected("`universe` and its number");
            desk.universe = static_cast<std::uint16_t>(
                header.count("a universe", limits::universe_min, limits::universe_max).value_or(1));
            check_universe(header, used, desk.universe, header.last());
        }
        header.expect_end();
        scope.each_line(place, [&](Reader& line) { read_line(line, desk, used); });
        if (scope.declare(
                scope.desks, header,
                {Symbol::Kind::desk, static_cast<Index>(scope.show.desks.size()), desk.span, *name}))
            scope.show.desks.push_back(std::move(desk));
    }
}

}  // namespace tallow::show
