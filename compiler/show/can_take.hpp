// Whether a setting can be taken by an element at all.
#pragma once

#include "compiler/show/show.hpp"

namespace tallow::show {

bool can_take(const Show& show, Element element, const Setting& setting);

}  // namespace tallow::show
