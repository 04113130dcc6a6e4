// Finds what an option names among things that have names.
#pragma once

#include <algorithm>
#include <fmt/format.h>
#include <numeric>
#include <string>
#include <vector>

#include "compiler/show/show.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/nearest.hpp"

namespace tallow::command {

// The index of the one with this name; none, with a sentence that names those there are, nearest first.
template <class T>
show::Index find_named(const std::vector<T>& all, const std::string& wanted, std::string_view what,
                       std::string& why) {
    std::vector<show::Index> order(all.size());
    std::iota(order.begin(), order.end(), 0u);
    const std::string name = text::canonical_name(wanted);
    for (const show::Index i : order)
        if (all[i].name == name) return i;
    std::stable_sort(order.begin(), order.end(), [&](show::Index a, show::Index b) {
        return runtime::edit_distance(name, all[a].name, 64) < runtime::edit_distance(name, all[b].name, 64);
    });
    std::string names;
    for (const show::Index i : order) names += fmt::format("{}`{}`", names.empty() ? "" : ", ", all[i].name);
    why = all.empty() ? fmt::format("there is no {0} `{1}`: none is declared", what, wanted)
                      : fmt::format("there is no {} `{}`; there is {}", what, wanted, names);
    return show::none;
}

}  // namespace tallow::command
