#include "runtime/survival/leader.hpp"

#include <algorithm>
#include <utility>

namespace tallow::runtime {
namespace {

// States come twenty times a second; after so long none of a player that works is under way.
constexpr std::uint64_t silent_ns = 300000000;
constexpr std::size_t most_others = 8;  // anybody may send anything

}  // namespace

Leader::Heard Leader::follow(std::string_view from, std::uint64_t ns, Heard heard) {
    if (from != from_) others_.clear();
    from_ = from;
    heard_ns_ = ns;
    return heard;
}

// What is known of it; null where it is one too many.
Leader::Other* Leader::other(std::string_view from, std::uint64_t ns) {
    const auto known =
        std::find_if(others_.begin(), others_.end(), [&](const Other& o) { return o.from == from; });
    if (known != others_.end()) return &*known;
    if (others_.size() == most_others) return nullptr;
    others_.push_back({std::string(from), ns, false});
    return &others_.back();
}

Leader::Heard Leader::tells(std::string_view from, std::uint64_t ns) {
    if (!followed() || from == from_) return follow(from, ns, Heard::followed);
    Other* const one = other(from, ns);
    if (one == nullptr) return Heard::passed_over;
    const bool beside = heard_ns_ >= one->since;  // both were heard since then
    if (!beside && machine_of(from) == machine_of(from_) && silent(ns) > silent_ns)
        return follow(from, ns, Heard::started_again);
    if (!beside) return Heard::passed_over;
    return std::exchange(one->told, true) ? Heard::known : Heard::another;
}

bool Leader::ends(std::string_view from) {
    if (!followed() || from != from_) return false;
    from_.clear();
    others_.clear();
    return true;
}

}  // namespace tallow::runtime
