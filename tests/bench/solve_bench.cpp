// Solving colours for seven emitters, one after the other on one core, against the rate that is wanted.
#include <cstddef>
#include <vector>

#include "compiler/colour/solve.hpp"
#include "compiler/colour/srgb.hpp"
#include "compiler/colour/typical.hpp"
#include "tests/bench/bench.hpp"

namespace tallow::bench {
namespace {

constexpr double wanted_a_second = 100'000;

// Hues all round, from white to pure: of the pure ones some are out of reach.
std::vector<colour::Chromaticity> targets() {
    std::vector<colour::Chromaticity> all;
    for (int hue = 0; hue < 360; hue += 3)
        for (const double saturation : {0.0, .25, .5, .75, 1.0})
            all.push_back(colour::from_hue(hue, saturation));
    return all;
}

}  // namespace

std::vector<Row> solve_rows() {
    std::vector<colour::Emitter> emitters;
    for (const char* name : {"red", "amber", "lime", "green", "cyan", "blue", "indigo"})
        emitters.push_back(colour::typical(name)->emitter);
    const std::vector<colour::Chromaticity> asked = targets();
    double kept = 0;  // so that the solutions are made
    const double spent = seconds([&] {
        for (const colour::Chromaticity& target : asked) kept += colour::solve(emitters, target).luminance;
    });
    if (!(kept > 0)) return {};
    return {{"solve seven emitters", "1/s", static_cast<double>(asked.size()) / spent, wanted_a_second,
             Row::Goal::at_least, 1.0}};
}

}  // namespace tallow::bench
