#include "runtime/survival/translation.hpp"

#include <algorithm>
#include <map>
#include <string_view>

#include "runtime/engine/rows.hpp"
#include "runtime/roll/cue_places.hpp"

namespace tallow::runtime {
namespace {

// By element of `to`: the element of `from` with the same key, or none.
template <class From, class To, class Key>
std::vector<std::uint32_t> match(const From& from, const To& to, Key key) {
    // What did not change mostly stands at the same place; the map is made for the rest.
    std::map<decltype(key(from[0], true)), std::uint32_t> places;
    std::vector<std::uint32_t> matched;
    for (std::uint32_t i = 0; i < to.size(); ++i) {
        if (i < from.size() && key(from[i], true) == key(to[i], false)) {
            matched.push_back(i);
            continue;
        }
        if (places.empty())
            for (std::uint32_t k = 0; k < from.size(); ++k) places.emplace(key(from[k], true), k);
        const auto place = places.find(key(to[i], false));
        matched.push_back(place == places.end() ? none : place->second);
    }
    return matched;
}

// The same member of the same thing moves in the same way.
bool same_wave(const Roll& from, const Wave& a, const Roll& to, const Wave& b) {
    if (!(from.waveforms[a.waveform] == to.waveforms[b.waveform]) || a.period != b.period || a.low != b.low ||
        a.high != b.high || a.offset != b.offset || a.member != b.member)
        return false;
    return std::equal(
        a.parameter.begin(), a.parameter.end(), b.parameter.begin(), b.parameter.end(),
        [&](std::uint32_t p, std::uint32_t q) { return from.parameters.key[p] == to.parameters.key[q]; });
}

bool same_chase(const Roll& from, const Chase& a, const Roll& to, const Chase& b) {
    if (a.loop != b.loop || a.steps != b.steps || a.jumps != b.jumps || a.level != b.level) return false;
    return std::equal(
        a.parameter.begin(), a.parameter.end(), b.parameter.begin(), b.parameter.end(),
        [&](std::uint32_t p, std::uint32_t q) { return from.parameters.key[p] == to.parameters.key[q]; });
}

// Each is matched with the first that is equal and not taken, looked for from where the last one was found:
// what did not change stands in the same order.
template <class Each, class Same>
void match_in_order(const Each& from, const Each& to, std::uint32_t offset, Same same,
                    std::vector<std::uint32_t>& matched) {
    std::vector<bool> taken(from.size());
    std::size_t next = 0;
    for (const auto& one : to) {
        std::uint32_t found = none;
        for (std::size_t k = 0; k < from.size() && found == none; ++k) {
            const std::size_t i = (next + k) % from.size();
            if (!taken[i] && same(from[i], one)) found = static_cast<std::uint32_t>(i);
        }
        matched.push_back(found == none ? none : offset + found);
        if (found == none) continue;
        taken[found] = true;
        next = found + 1;
    }
}

std::uint32_t cue_in(const Roll& from, std::uint32_t cue, const Roll& to, const CueList& list) {
    if (cue == none) return none;
    return cue_up_to(to, list, from.cues[cue].number);
}

}  // namespace

Translation::Translation(const Roll& from, const Roll& to) : from_(from), to_(to) {
    parameters_ = match(from.parameters.key, to.parameters.key,
                        [](const std::string& key, bool) { return std::string_view(key); });
    lists_ =
        match(from.lists, to.lists, [](const CueList& list, bool) { return std::string_view(list.name); });
    submasters_ = match(from.submasters, to.submasters, [](const Submaster& s, bool) { return s.number; });
    const Rows from_rows(from), to_rows(to);
    claims_ = match(from_rows.claims, to_rows.claims, [&](const Rows::Claim& claim, bool first) {
        const Roll& of = first ? from : to;
        return std::pair(std::string_view(of.parameters.key[claim.parameter]),
                         std::string_view(of.lists[claim.list].name));
    });
    match_in_order(
        from.waves, to.waves, 0, [&](const Wave& a, const Wave& b) { return same_wave(from, a, to, b); },
        sources_);
    match_in_order(
        from.chases, to.chases, static_cast<std::uint32_t>(from.waves.size()),
        [&](const Chase& a, const Chase& b) { return same_chase(from, a, to, b); }, sources_);
}

Standing Translation::operator()(const Standing& s) const {
    Standing out = s;
    out.lists.assign(lists_.size(), {});
    for (std::size_t l = 0; l < lists_.size(); ++l) {
        const CueList& list = to_.lists[l];
        Standing::List& on = out.lists[l];
        if (lists_[l] != none) on = s.lists[lists_[l]];
        on.current = cue_in(from_, on.current, to_, list);
        for (Standing::Given& given : on.earlier) given.cue = cue_in(from_, given.cue, to_, list);
        // A cue that was put in behind the present one is next, though another one was.
        on.next = cue_behind(list, on.current);
        if (on.next == none) on.pending.reset();
    }
    out.submasters.assign(submasters_.size(), 0);
    for (std::size_t i = 0; i < submasters_.size(); ++i)
        if (submasters_[i] != none) out.submasters[i] = s.submasters[submasters_[i]];
    out.sources.assign(sources_.size(), {});
    for (std::size_t i = 0; i < sources_.size(); ++i)
        if (sources_[i] != none) out.sources[i] = s.sources[sources_[i]];
    out.claims.assign(claims_.size(), 0);
    for (std::size_t i = 0; i < claims_.size(); ++i)
        if (claims_[i] != none) out.claims[i] = s.claims[claims_[i]];
    out.panic = s.panic && !to_.panic.empty();
    return out;
}

}  // namespace tallow::runtime
