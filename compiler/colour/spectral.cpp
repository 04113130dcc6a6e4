#include "compiler/colour/spectral.hpp"

#include <cstddef>
#include <vector>

#include "compiler/colour/gamut.hpp"
#include "compiler/colour/observer.hpp"

namespace tallow::colour {

Chromaticity spectral(int nm) {
    constexpr int start = static_cast<int>(observer_start_nm), step = static_cast<int>(observer_step_nm);
    const auto& [x, y, z] = observer[static_cast<std::size_t>((nm - start) / step)];
    return {x / (x + y + z), y / (x + y + z)};
}

Chromaticity nearest_light(Chromaticity c) {
    std::vector<Uv> purest;
    for (int nm = spectral_first_nm; nm <= spectral_last_nm; nm += static_cast<int>(observer_step_nm))
        purest.push_back(to_uv(spectral(nm)));
    const Place place = locate(purest, to_uv(c));
    return place.inside ? c : to_xy(place.edge.nearest);
}

}  // namespace tallow::colour
