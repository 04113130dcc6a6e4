#include "compiler/show/show.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/show/element_set.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"

namespace tallow::show {
namespace {

const Range* range_with(const Type& type, Index attribute, const Value& value) {
    const auto* ranges = type.ranges_of(attribute);
    if (ranges == nullptr) return nullptr;
    for (const Range& r : *ranges) {
        if (value.form == Value::Form::named && r.name == value.name) return &r;
        const bool covers =
            std::min(r.low, r.high) <= value.measure && value.measure <= std::max(r.low, r.high);
        if (value.form == Value::Form::measure && r.unit == value.unit && covers) return &r;
    }
    return nullptr;
}

}  // namespace

std::string fixture_text(const Fixture& fixture) {
    return fixture.number == 0 ? fixture.name : fmt::format("{} {}", fixture.name, fixture.number);
}

std::string element_text(const Show& show, Element element) {
    const std::string fixture = fixture_text(show.fixtures[element.fixture]);
    return element.cell == 0 ? fixture : fmt::format("{} cell {}", fixture, element.cell);
}

namespace {

// `within`: of what alone looks speak so far; null for all.
void walk(const Show& show, const std::vector<Item>& items, const ElementSet* within,
          const std::function<void(const Statement&, const ElementSet*)>& take) {
    for (const Item& item : items) {
        if (item.look == none) {
            const Statement& line = show.statements[item.statement];
            if (within == nullptr || within->meets(show.selections[line.selection])) take(line, within);
        } else if (item.within == none) {
            walk(show, show.looks[item.look].items, within, take);
        } else {
            const ElementSet part(show.selections[item.within], within);
            walk(show, show.looks[item.look].items, &part, take);
        }
    }
}

}  // namespace

void for_each_line(const Show& show, const std::vector<Item>& items,
                   const std::function<void(const Statement&, const ElementSet*)>& take) {
    walk(show, items, nullptr, take);
}

std::optional<std::int64_t> position_of(const Show& show, Element element, Axis axis) {
    const Fixture& fixture = show.fixtures[element.fixture];
    if (fixture.hang == none) return std::nullopt;
    if (axis == Axis::depth) return show.hangs[fixture.hang].depth;
    if (axis == Axis::height) return show.hangs[fixture.hang].height;
    if (element.cell == 0) return fixture.x;
    const std::int64_t cells = show.mode_of(fixture).cells;
    const std::int64_t from_middle = 2 * std::int64_t{element.cell} - 1 - cells;  // in half cells
    return fixture.x + text::rounded(show.type_of(fixture).length * from_middle, 2 * cells);
}

Index palette_for(const Show& show, Index palette, Element element) {
    const auto& differs = show.palettes[palette].differs;
    if (differs.empty()) return palette;
    auto at = differs.find({element.fixture, element.cell});
    if (at == differs.end()) at = differs.find({element.fixture, 0});
    return at == differs.end() ? palette : at->second;
}

Index next_cue(const Show& show, Index cue) {
    const CueList& list = show.lists[show.cues[cue].list];
    return cue + 1 < list.first + list.count ? cue + 1 : none;
}

std::string cue_text(const Show& show, Index cue) {
    const Cue& c = show.cues[cue];
    const std::string number = runtime::cue_number(c.number);
    return c.list == 0 ? number : fmt::format("{} of {}", number, show.lists[c.list].name);
}

std::string parameter_key(const Show& show, Index parameter) {
    const Fixture& fixture = show.fixtures[show.parameters[parameter].fixture];
    const ParameterDef& def = show.definition(parameter);
    std::string key = fixture.name;
    if (fixture.number != 0) key += fmt::format("/{}", fixture.number);
    if (def.cell != 0) key += fmt::format("/{}", def.cell);
    return key + "/" + show.attributes[def.attribute];
}

std::optional<Level> level_of(const Type& type, Index attribute, const Value& value, bool& jumps) {
    const Range* range = range_with(type, attribute, value);
    jumps = range != nullptr && range->unit == grammar::Unit::none;
    if (value.form == Value::Form::level) {
        const auto* ranges = type.ranges_of(attribute);
        if (ranges == nullptr) return value.level;
        const std::uint8_t slot = runtime::narrow(value.level);
        for (const Range& r : *ranges)
            if (r.from <= slot && slot <= r.to) jumps = r.unit == grammar::Unit::none;
        return value.level;
    }
    if (range == nullptr) return std::nullopt;
    if (value.form == Value::Form::named) return range->middle();
    if (range->low == range->high) return runtime::widen(range->from);
    const std::int64_t travel = std::int64_t{257} * (range->to - range->from);
    const std::int64_t size = range->high - range->low;
    const std::int64_t way = size > 0 ? value.measure - range->low : range->low - value.measure;
    return static_cast<Level>(std::int64_t{257} * range->from +
                              text::rounded(way * travel, size > 0 ? size : -size));
}

std::optional<std::int32_t> offset_of(const Type& type, Index attribute, const Value& value) {
    if (value.form == Value::Form::level) return value.level;
    const auto* ranges = type.ranges_of(attribute);
    if (ranges == nullptr || value.form == Value::Form::named) return std::nullopt;
    for (const Range& r : *ranges) {
        if (r.unit != value.unit || r.low == r.high) continue;
        const std::int64_t size = r.high - r.low;
        const std::int64_t steps =
            text::rounded(value.measure * 257 * (r.to - r.from), size > 0 ? size : -size);
        const std::int64_t offset = size > 0 ? steps : -steps;
        return static_cast<std::int32_t>(std::clamp<std::int64_t>(offset, -65535, 65535));
    }
    return std::nullopt;
}

bool has_ends(const Type& type, const Component& c) {
    bool jumps = false;
    for (const Value* end : {&c.low, &c.high})
        if (c.kind == Kind::position ? !offset_of(type, c.attribute, *end)
                                     : !level_of(type, c.attribute, *end, jumps))
            return false;
    return true;
}

}  // namespace tallow::show
