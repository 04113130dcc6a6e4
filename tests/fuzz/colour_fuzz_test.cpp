// Emitters on a coarse grid stand on one line, on one point, on the target, at equal strengths: every kind of
// tie.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdint>
#include <random>
#include <vector>

#include "compiler/colour/solve.hpp"
#include "tests/support/colour_mix.hpp"

using namespace tallow::colour;

namespace {

class Random {
  public:
    std::uint64_t below(std::uint64_t n) { return bits_() % n; }
    double share(std::uint64_t parts) {
        return static_cast<double>(below(parts + 1)) / static_cast<double>(parts);
    }

  private:
    std::mt19937_64 bits_{5};
};

std::vector<Emitter> grid_emitters(Random& random) {
    const std::uint64_t parts = random.below(2) ? 10 : 20;
    const auto at = [&](std::uint64_t n) { return static_cast<double>(n) / static_cast<double>(parts); };
    std::vector<Emitter> emitters(1 + random.below(8));
    for (auto& [xy, lumens] : emitters) {
        const std::uint64_t y = 1 + random.below(parts * 4 / 5), strength = 40 * (1 + random.below(4));
        xy = {at(random.below(parts - y + 1)), at(y)};
        lumens = static_cast<double>(strength) * (parts == 10 ? xy.y : 1);
    }
    return emitters;
}

// One at full; the others at one of two or three even steps, or of a million.
std::vector<double> known_levels(Random& random, std::size_t count) {
    constexpr std::uint64_t steps[] = {1, 2, 1'000'000};
    const std::uint64_t parts = steps[random.below(3)];
    std::vector<double> level(count);
    for (double& l : level) l = random.share(parts);
    level[random.below(count)] = 1;
    return level;
}

double luminance(const std::vector<Emitter>& emitters, const std::vector<double>& level) {
    double sum = 0;
    for (std::size_t k = 0; k < level.size(); ++k) sum += level[k] * emitters[k].lumens;
    return sum;
}

}  // namespace

TEST_CASE("what some levels show is reached, at least as bright, in any order", "[fuzz][colour]") {
    Random random;
    for (int n = 0; n < 50'000; ++n) {
        std::vector<Emitter> emitters = grid_emitters(random);
        const std::vector<double> known = known_levels(random, emitters.size());
        const Chromaticity target = tallow::support::mix(emitters, known);
        const double at_least = luminance(emitters, known);
        const Mix m = solve(emitters, target);
        std::reverse(emitters.begin(), emitters.end());
        std::vector<double> turned = solve(emitters, target).level;
        std::reverse(turned.begin(), turned.end());

        INFO("set " << n);
        REQUIRE(m.distance < 1e-9);
        REQUIRE(m.luminance >= at_least * (1 - 1e-9));
        REQUIRE(*std::min_element(m.level.begin(), m.level.end()) >= 0);
        REQUIRE(*std::max_element(m.level.begin(), m.level.end()) == 1);
        for (std::size_t k = 0; k < turned.size(); ++k)
            REQUIRE(m.level[k] == Approx(turned[k]).epsilon(0).margin(1e-6));
    }
}
