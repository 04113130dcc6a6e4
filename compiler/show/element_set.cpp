#include "compiler/show/element_set.hpp"

#include <algorithm>
#include <tuple>

namespace tallow::show {
namespace {

bool before(Element a, Element b) {
    return std::tie(a.fixture, a.cell) < std::tie(b.fixture, b.cell);
}

}  // namespace

ElementSet::ElementSet(const Selection& selection, const ElementSet* within) {
    if (within == nullptr)
        elements_ = selection.elements;
    else
        for (const Element& e : selection.elements) within->common(e, elements_);
    std::sort(elements_.begin(), elements_.end(), before);
    elements_.erase(std::unique(elements_.begin(), elements_.end()), elements_.end());
}

bool ElementSet::has(Element element) const {
    return std::binary_search(elements_.begin(), elements_.end(), element, before);
}

void ElementSet::common(Element element, std::vector<Element>& out) const {
    if (holds(element)) {
        out.push_back(element);
    } else if (element.cell == 0) {
        auto cell = std::lower_bound(elements_.begin(), elements_.end(), element, before);
        for (; cell != elements_.end() && cell->fixture == element.fixture; ++cell) out.push_back(*cell);
    }
}

bool ElementSet::meets(Element element) const {
    if (holds(element)) return true;
    const auto cell = std::lower_bound(elements_.begin(), elements_.end(), element, before);
    return element.cell == 0 && cell != elements_.end() && cell->fixture == element.fixture;
}

bool ElementSet::meets(const Selection& selection) const {
    return std::any_of(selection.elements.begin(), selection.elements.end(),
                       [this](Element e) { return meets(e); });
}

}  // namespace tallow::show
