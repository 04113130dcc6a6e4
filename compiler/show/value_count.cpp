#include "compiler/show/value_count.hpp"

#include <algorithm>

namespace tallow::show {
namespace {

constexpr std::uint64_t unknown = ~std::uint64_t{0};
constexpr std::uint64_t own_time = 32;  // what a member with a time of its own takes, in values

}  // namespace

ValueCount::ValueCount(const Show& show)
    : show_(show), looks_(show.looks.size(), unknown), selections_(show.selections.size()) {}

std::uint64_t ValueCount::of(const Cue& cue) {
    const std::uint64_t lines = of(cue.items);
    return lines + (cue.cue_only ? lines : 0) + (cue.block ? show_.parameters.size() : 0);
}

std::uint64_t ValueCount::of(const std::vector<Item>& items) {
    std::uint64_t values = 0;
    for (const Item& item : items) {
        if (item.look != none)
            values += of_look(item.look);
        else if (item.statement != none)
            values += of_line(show_.statements[item.statement]);
        if (item.within != none) values += of_selection(item.within).members;
    }
    return values;
}

// Looks stand in one another to a depth that is bounded.
std::uint64_t ValueCount::of_look(Index index) {
    if (looks_[index] == unknown) looks_[index] = of(show_.looks[index].items);
    return looks_[index];
}

std::uint64_t ValueCount::of_line(const Statement& statement) {
    bool level = false, more = false;
    for (Index s = 0; s < statement.setting_count; ++s) {
        const Setting::Kind kind = show_.settings[statement.first_setting + s].kind;
        const bool any = kind == Setting::Kind::wave || kind == Setting::Kind::steady ||
                         kind == Setting::Kind::chase || kind == Setting::Kind::chase_off;
        level = level || any || kind == Setting::Kind::level;
        more = more || any || kind != Setting::Kind::level;
    }
    const Values& values = of_selection(statement.selection);
    const std::uint64_t set = (level ? values.levels : 0) + (more ? values.others : 0);
    return std::max({std::uint64_t{1}, values.members, set}) +
           (statement.has_spread_times() ? own_time * values.members : 0);
}

// Each selection is gone through once.
const ValueCount::Values& ValueCount::of_selection(Index index) {
    Values& values = selections_[index];
    if (values.known) return values;
    values.known = true;
    values.members = show_.selections[index].elements.size();
    for (const Element& e : show_.selections[index].elements) {
        const Part& part = show_.mode_of(show_.fixtures[e.fixture]).parts[e.cell];
        values.levels += part.intensity.size();
        values.others += part.emitters.size() + part.position.size() + part.beam.size();
    }
    return values;
}

}  // namespace tallow::show
