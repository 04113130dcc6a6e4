#include "compiler/track/floors.hpp"

#include <algorithm>

#include "compiler/track/targets.hpp"

namespace tallow::track {

Floors::Floors(const Show& show) {
    if (show.safety.keeps.empty()) return;
    least_.resize(show.parameters.size());
    Targets targets(show);
    for (const show::Keep& keep : show.safety.keeps)
        for (const Steps& steps : targets.intensities(keep.selection))
            for (Index i = 0; i < steps.count; ++i) {
                show::Level& least = least_[steps.at(i)];
                least = std::max(least, keep.level);
            }
}

}  // namespace tallow::track
