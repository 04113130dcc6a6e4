#include "compiler/desk/addresses.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>

#include "compiler/desk/looks.hpp"
#include "compiler/desk/wiring.hpp"
#include "compiler/show/patch_order.hpp"

namespace tallow::desk {
namespace {

// By slot of the mode, from 1; empty where it is not used.
std::vector<std::string> parts_of(const show::Show& show, const show::Mode& mode) {
    std::vector<std::string> parts(mode.footprint + 1u);
    for (const show::ParameterDef& def : mode.parameters) {
        std::string name = show.attributes[def.attribute];
        if (def.cell != 0) name = fmt::format("cell {} {}", def.cell, name);
        if (def.coarse != 0) parts[def.coarse] = name;
        if (def.fine != 0) parts[def.fine] = name + " fine";
    }
    return parts;
}

std::string bodies_text(const show::Show& show, const std::vector<Index>& bodies) {
    std::string words;
    for (const Index f : bodies) words += (words.empty() ? "" : ", ") + show::fixture_text(show.fixtures[f]);
    return words;
}

std::uint16_t slot_of(const show::Fixture& f, std::uint16_t place) {
    return static_cast<std::uint16_t>(f.address + place - 1);
}

}  // namespace

std::vector<std::uint16_t> switches_of(std::uint16_t address) {
    std::vector<std::uint16_t> on;
    for (std::uint16_t value = 1; value <= 512; value = static_cast<std::uint16_t>(value * 2))
        if ((address & value) != 0) on.push_back(value);
    return on;
}

std::string switches_text(std::uint16_t address) {
    std::string words;
    for (const std::uint16_t value : switches_of(address))
        words += fmt::format("{}{}", words.empty() ? "" : " ", value);
    return words;
}

emit::Table hookup_table(const show::Show& show, const show::Desk& desk) {
    const Wiring wiring(desk);
    std::map<Index, std::vector<Index>> bodies;
    for (Index f = 0; f < show.fixtures.size(); ++f) bodies[show.fixtures[f].leader].push_back(f);
    emit::Table table{"hookup", {{"channel", true}, {"slot"}, {"fixture"}, {"part"}}, {}, true};
    for (const Index f : patch_order(show)) {
        const show::Fixture& fixture = show.fixtures[f];
        if (fixture.leader != f) continue;
        const std::vector<std::string> parts = parts_of(show, show.mode_of(fixture));
        for (std::uint16_t place = 1; place < parts.size(); ++place) {
            const std::uint16_t slot = slot_of(fixture, place),
                                channel = wiring.channel(fixture.universe, slot);
            table.rows.push_back({channel == 0 ? "" : std::to_string(channel),
                                  fmt::format("{}/{}", fixture.universe, slot), bodies_text(show, bodies[f]),
                                  parts[place].empty() ? "not used" : parts[place]});
        }
    }
    return table;
}

emit::Table address_table(const show::Show& show, const show::Desk& desk) {
    const Wiring wiring(desk);
    emit::Table table{
        "addresses",
        {{"fixture"}, {"type"}, {"mode"}, {"universe", true}, {"address", true}, {"switches"}, {"channels"}},
        {},
        true};
    for (const Index f : patch_order(show)) {
        const show::Fixture& fixture = show.fixtures[f];
        const show::Mode& mode = show.mode_of(fixture);
        std::vector<std::uint32_t> channels;
        for (std::uint16_t place = 1; place <= mode.footprint; ++place)
            if (const std::uint16_t c = wiring.channel(fixture.universe, slot_of(fixture, place)); c != 0)
                channels.push_back(c);
        std::sort(channels.begin(), channels.end());
        table.rows.push_back({show::fixture_text(fixture), show.type_of(fixture).name, mode.name,
                              std::to_string(fixture.universe), std::to_string(fixture.address),
                              switches_text(fixture.address), ranges_text(channels)});
    }
    return table;
}

emit::Sheet address_sheet(const show::Show& show, const show::Desk& desk) {
    emit::Sheet sheet{"addresses", "Addresses and hookup", {}, {}, {}};
    sheet.notes.emplace_back(
        "switches: those of a row of binary switches (1, 2, 4 to 256) that are on. Some fixtures count from "
        "0: "
        "look into their leaflet, and set one less there.");
    sheet.notes.emplace_back("channel: of this desk; blank where it plays no such slot.");
    sheet.tables = {address_table(show, desk), hookup_table(show, desk)};
    return sheet;
}

}  // namespace tallow::desk
