#include "compiler/desk/chase_steps.hpp"

#include <map>
#include <numeric>
#include <utility>

#include "runtime/engine/wide.hpp"

namespace tallow::desk {
namespace {

using runtime::Phase;
using runtime::UnsignedWide;

constexpr std::size_t least_samples = 1024, least_of_a_step = 16;
constexpr Phase beside = Phase{1} << 40;  // on either side of a jump

Phase part(std::uint64_t numerator, std::uint64_t denominator) {
    return static_cast<Phase>((UnsignedWide{numerator} << 64) / denominator);
}

// Instants of a round, evenly inside each step.
std::vector<Phase> instants(std::size_t steps) {
    const std::size_t in_step = std::max(least_of_a_step, (least_samples + steps - 1) / steps);
    std::vector<Phase> all;
    for (std::size_t n = 0; n < steps * in_step; ++n) all.push_back(part(2 * n + 1, 2 * steps * in_step));
    return all;
}

// Where steps begin, and the mover's bends.
std::vector<Phase> edges(std::size_t steps, const Mover& mover) {
    std::vector<Phase> all = mover.bends;
    for (std::size_t k = 0; k < steps; ++k) all.push_back(part(k, steps));
    return all;
}

struct Way {
    std::size_t steps;
    bool fades;
};

// What the steps give for one mover.
class Played {
  public:
    Played(Way way, std::vector<Percent> level) : way_(way), level_(std::move(level)) {}

    Percent at(Phase phase) const {
        const UnsignedWide place = UnsignedWide{phase} * way_.steps;
        const auto step = static_cast<std::size_t>(place >> 64);
        if (!way_.fades) return level_[step];
        const auto along = static_cast<std::int64_t>((place >> 32) & 0xffffffffu);
        const Percent from = level_[step], to = level_[(step + 1) % way_.steps];
        return from + (((to - from) * along + (std::int64_t{1} << 31)) >> 32);
    }

  private:
    Way way_;
    std::vector<Percent> level_;
};

std::vector<Percent> wanted_levels(const Mover& mover, Way way) {
    std::vector<Percent> level;
    for (std::size_t k = 0; k < way.steps; ++k)
        level.push_back(mover.at(part(2 * k + (way.fades ? 0 : 1), 2 * way.steps)));
    return level;
}

class Comparison {
  public:
    explicit Comparison(const std::vector<Mover>& movers) : movers_(movers) {}

    // Stops at the first error above the tolerance.
    bool within(Way way, Percent tolerance) {
        const std::vector<Phase> at = instants(way.steps);
        for (std::size_t n = 0; n < movers_.size(); ++n) {
            // The mover that failed last fails first.
            const std::size_t m = (first_ + n) % movers_.size();
            const Played played(way, wanted_levels(movers_[m], way));
            const auto off = [&](Phase phase) {
                return std::abs(played.at(phase) - movers_[m].at(phase)) > tolerance;
            };
            if (std::any_of(at.begin(), at.end(), off) || any_beside(edges(way.steps, movers_[m]), off)) {
                first_ = m;
                return false;
            }
        }
        return true;
    }

    ChaseSteps steps(Way way, Percent notch) const {
        ChaseSteps out;
        out.steps = way.steps;
        out.fades = way.fades;
        out.levels = Levels(way.steps, movers_.size());
        const std::vector<Phase> at = instants(way.steps);
        for (std::size_t m = 0; m < movers_.size(); ++m) {
            std::vector<Percent> level = wanted_levels(movers_[m], way);
            for (std::size_t k = 0; k < way.steps; ++k)
                out.levels.at(k, m) = level[k] =
                    std::max(nearest_setting(level[k], notch), least_setting(movers_[m].floor, notch));
            const Played played(way, std::move(level));
            Percent worst = 0, sum = 0;
            const auto compare = [&](Phase phase) {
                const Percent off = std::abs(played.at(phase) - movers_[m].at(phase));
                worst = std::max(worst, off);
                sum += off;
                return false;
            };
            for (const Phase phase : at) compare(phase);
            out.mean.push_back(sum / static_cast<Percent>(at.size()));
            any_beside(edges(way.steps, movers_[m]), compare);
            out.worst.push_back(worst);
        }
        number_looks(out);
        return out;
    }

  private:
    template <class Test>
    static bool any_beside(const std::vector<Phase>& edges, Test&& test) {
        return std::any_of(edges.begin(), edges.end(),
                           [&](Phase edge) { return test(edge - beside) || test(edge + beside); });
    }

    static void number_looks(ChaseSteps& out) {
        std::map<std::vector<Percent>, std::size_t> known;
        for (std::size_t k = 0; k < out.steps; ++k) {
            std::vector<Percent> look;
            for (std::size_t m = 0; m < out.levels.columns(); ++m) look.push_back(out.levels.at(k, m));
            out.look.push_back(known.try_emplace(std::move(look), known.size()).first->second);
        }
    }

    const std::vector<Mover>& movers_;
    std::size_t first_ = 0;
};

Percent worst_of(const ChaseSteps& steps) {
    return steps.worst.empty() ? 0 : *std::max_element(steps.worst.begin(), steps.worst.end());
}

// The worst first, then what is off in the mean.
std::pair<Percent, Percent> off_by(const ChaseSteps& steps) {
    return {worst_of(steps), std::accumulate(steps.mean.begin(), steps.mean.end(), Percent{0})};
}

}  // namespace

ChaseSteps chase_steps(const std::vector<Mover>& movers, Percent notch, Percent tolerance, std::size_t most) {
    Comparison comparison(movers);
    std::size_t needed = 0;
    for (std::size_t steps = 1; steps <= std::max(most, most_tried) && needed == 0; ++steps) {
        for (const bool fades : {true, false}) {
            if (!comparison.within({steps, fades}, tolerance)) continue;
            needed = steps;
            if (steps > most) break;
            ChaseSteps out = comparison.steps({steps, fades}, notch);
            out.needed = needed;
            return out;
        }
    }
    ChaseSteps best = comparison.steps({most, true}, notch);
    for (std::size_t steps = most; steps > 0; --steps) {
        for (const bool fades : {true, false}) {
            if (!comparison.within({steps, fades}, worst_of(best) + notch / 2)) continue;
            ChaseSteps other = comparison.steps({steps, fades}, notch);
            if (off_by(other) < off_by(best)) best = std::move(other);
        }
    }
    best.needed = needed;
    return best;
}

}  // namespace tallow::desk
