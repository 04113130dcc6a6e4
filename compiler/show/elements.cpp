#include "compiler/show/elements.hpp"

#include <fmt/format.h>

namespace tallow::show {
namespace {

// Whole fixtures of a gang stand beside their leader.
std::vector<Element> with_gangs(const Show& show, const std::vector<Element>& elements) {
    std::vector<Index> followers;
    for (Index f = 0; f < show.fixtures.size(); ++f)
        if (show.fixtures[f].leader != f) followers.push_back(f);
    std::vector<Element> all;
    for (const Element& element : elements) {
        all.push_back(element);
        if (element.cell != 0) continue;
        for (const Index f : followers)
            if (show.fixtures[f].leader == element.fixture) all.push_back({f, 0});
    }
    return all;
}

}  // namespace

std::string elements_text(const Show& show, const std::vector<Element>& elements) {
    const std::vector<Element> all = with_gangs(show, elements);
    std::string out, last_name;
    for (std::size_t i = 0; i < all.size();) {
        const Fixture& first = show.fixtures[all[i].fixture];
        std::size_t end = i + 1;
        const auto follows = [&](const Element& e) {
            const Fixture& next = show.fixtures[e.fixture];
            if (all[i].cell != 0) return e.fixture == all[i].fixture && e.cell == all[i].cell + (end - i);
            return e.cell == 0 && first.number != 0 && next.name == first.name &&
                   next.number == first.number + (end - i);
        };
        while (end < all.size() && follows(all[end])) ++end;
        if (!out.empty()) out += ", ";
        const bool goes_on = all[i].cell == 0 && first.number != 0 && first.name == last_name;
        out += goes_on ? std::to_string(first.number) : element_text(show, all[i]);
        const Element& last = all[end - 1];
        if (end > i + 1)
            out += fmt::format("..{}", last.cell != 0 ? last.cell : show.fixtures[last.fixture].number);
        last_name = all[i].cell == 0 ? first.name : "";
        i = end;
    }
    return out;
}

}  // namespace tallow::show
