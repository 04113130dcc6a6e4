#include "compiler/colour/typical.hpp"

#include <algorithm>
#include <iterator>

namespace tallow::colour {
namespace {

constexpr TypicalEmitter table[] = {
    {"red", {{.7006, .2993}, 45}, true},
    {"red-orange", {{.6804, .3194}, 65}, true},
    {"amber", {{.5950, .4044}, 55}, true},
    {"converted-amber", {{.583, .416}, 80}, true},
    {"lime", {{.408, .542}, 185}, true},
    {"green", {{.1761, .7004}, 105}, true},
    {"cyan", {{.0678, .4638}, 80}, true},
    {"blue", {{.1297, .0640}, 32}, true},
    {"indigo", {{.1586, .0166}, 16}, true},
    {"white", {{.3123, .3282}, 140}, true},
    {"warm-white", {{.4578, .4101}, 115}, true},
    {"cool-white", {{.3123, .3282}, 140}, true},
    {"uv", {{0, 0}, 0}, false},
};

}  // namespace

const TypicalEmitter* typical(std::string_view name) {
    const auto* found =
        std::find_if(std::begin(table), std::end(table), [&](const auto& e) { return e.name == name; });
    return found == std::end(table) ? nullptr : found;
}

}  // namespace tallow::colour
