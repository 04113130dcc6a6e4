// What an emitter is taken for when its type gives no measured data.
#pragma once

#include <string_view>

#include "compiler/colour/solve.hpp"

namespace tallow::colour {

struct TypicalEmitter {
    std::string_view name;  // of its slot
    Emitter emitter;        // zeros where it is not visible
    bool visible;           // false: no useful lumens, so it stays out of every colour solution
};

// By slot name: red, red-orange, amber, converted-amber, lime, green, cyan, blue, indigo, white (which is
// cool), warm-white, cool-white, uv. Null for any other. Medians of data sheets: real flux differs by 30 %
// either way.
const TypicalEmitter* typical(std::string_view name);

}  // namespace tallow::colour
