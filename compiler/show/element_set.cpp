#include "compiler/show/element_set.hpp"

#include <algorithm>

namespace tallow::show {

ElementSet::ElementSet(const Selection& selection) {
    for (const Element& e : selection.elements) {
        Cells& cells = by_fixture_[e.fixture];
        if (e.cell == 0)
            cells.whole = true;
        else
            cells.cells.push_back(e.cell);
    }
}

void ElementSet::common(Element element, std::vector<Element>& out) const {
    const auto at = by_fixture_.find(element.fixture);
    if (at == by_fixture_.end()) return;
    const auto& [whole, cells] = at->second;
    if (whole || (element.cell != 0 && std::find(cells.begin(), cells.end(), element.cell) != cells.end()))
        out.push_back(element);
    else if (element.cell == 0)
        for (const std::uint16_t cell : cells) out.push_back({element.fixture, cell});
}

bool meet(const Selection& a, const Selection& b) {
    const ElementSet set(b);
    std::vector<Element> common;
    return std::any_of(a.elements.begin(), a.elements.end(), [&](const Element& e) {
        set.common(e, common);
        return !common.empty();
    });
}

}  // namespace tallow::show
