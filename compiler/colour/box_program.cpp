// With multipliers m, a column is worth gain − m·pull. The best levels are 1 where the worth is positive, 0
// where it is negative, and anything only where it is 0. The right m makes Σ max(0, worth) + m·rest smallest
// (the dual programme) and stands where two columns (along one direction: one) are worth 0: all such m are
// tried, about n²/2. What is then still open are two columns, which the two equations give, or a tie.
#include "compiler/colour/box_program.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include "compiler/colour/even_levels.hpp"

namespace tallow::colour {
namespace {

constexpr double parallel = 1e-9;    // the sine of an angle that counts as none
constexpr double worthless = 1e-10;  // a worth that counts as 0, as a share of the gain

double dot(Pair p, Pair q) {
    return p.a * q.a + p.b * q.b;
}
double cross(Pair p, Pair q) {
    return p.a * q.b - p.b * q.a;
}

bool independent(Pair p, Pair q) {
    const double c = cross(p, q);
    return c * c > parallel * parallel * dot(p, p) * dot(q, q);
}

// The n with n·p = p_value and n·q = q_value.
Pair through(Pair p, double p_value, Pair q, double q_value) {
    const double c = cross(p, q);
    return {(p_value * q.b - q_value * p.b) / c, (q_value * p.a - p_value * q.a) / c};
}

class Program {
  public:
    explicit Program(std::span<const Column> columns) : level_(columns.size(), 0.0) {
        for (std::size_t k = 0; k < columns.size(); ++k)
            open_.push_back(Open{k, columns[k].gain, columns[k].pull});
    }

    std::vector<double> run() {
        decide();
        if (!determined()) {
            for (Open& o : open_) o.gain = -1;
            decide();
        }
        if (determined())
            finish();
        else
            spread_evenly();
        return std::move(level_);
    }

  private:
    struct Open {
        std::size_t column;
        double gain;
        Pair pull;
    };
    // Multipliers, the columns that they make worth 0, and the sum to be made smallest.
    struct Trial {
        Pair m{0, 0};
        std::size_t first, second;
        double bound;
    };

    void try_out(Trial& best, Pair m, std::size_t first, std::size_t second) const {
        double bound = dot(m, rest_);
        for (const Open& o : open_) bound += std::max(0.0, o.gain - dot(m, o.pull));
        if (bound < best.bound) best = {m, first, second, bound};
    }

    Trial best_multipliers() const {
        const std::size_t none = open_.size();
        Trial best{{0, 0}, none, none, std::numeric_limits<double>::infinity()};
        try_out(best, {0, 0}, none, none);
        for (std::size_t i = 0; i < open_.size(); ++i) {
            const auto& [column, gain, pull] = open_[i];
            if (const double square = dot(pull, pull); square > 0)
                try_out(best, {gain * pull.a / square, gain * pull.b / square}, i, i);
            for (std::size_t j = i + 1; j < open_.size(); ++j)
                if (independent(pull, open_[j].pull))
                    try_out(best, through(pull, gain, open_[j].pull, open_[j].gain), i, j);
        }
        return best;
    }

    void decide() {
        const Trial best = best_multipliers();
        std::vector<Open> undecided;
        for (std::size_t k = 0; k < open_.size(); ++k) {
            const Open& o = open_[k];
            const double worth = o.gain - dot(best.m, o.pull);
            if (k == best.first || k == best.second || std::fabs(worth) <= worthless * std::fabs(o.gain))
                undecided.push_back(o);
            else if (worth > 0)
                set_full(o);
        }
        open_ = std::move(undecided);
        m_ = best.m;
    }

    void set_full(const Open& o) {
        level_[o.column] = 1;
        rest_ = {rest_.a - o.pull.a, rest_.b - o.pull.b};
    }
    void set(const Open& o, double level) { level_[o.column] = std::clamp(level, 0.0, 1.0); }

    bool determined() const {
        return open_.size() < 2 || (open_.size() == 2 && independent(open_[0].pull, open_[1].pull));
    }
    void finish() {
        if (open_.size() == 1) set(open_[0], dot(rest_, open_[0].pull) / dot(open_[0].pull, open_[0].pull));
        if (open_.size() != 2) return;
        const Pair p = open_[0].pull, q = open_[1].pull;
        set(open_[0], cross(rest_, q) / cross(p, q));
        set(open_[1], cross(p, rest_) / cross(p, q));
    }
    // All open ones pull alike along m; what they pull across it tells them apart.
    void spread_evenly() {
        std::vector<double> place;
        for (const Open& o : open_) place.push_back(cross(m_, o.pull));
        const std::vector<double> even = even_levels(place, -dot(m_, rest_), cross(m_, rest_));
        for (std::size_t k = 0; k < open_.size(); ++k) set(open_[k], even[k]);
    }

    std::vector<double> level_;
    std::vector<Open> open_;  // not decided yet
    Pair rest_{0, 0};         // what the open ones have to pull together
    Pair m_{0, 0};            // the multipliers of the last decision
};

}  // namespace

std::vector<double> most_gain(std::span<const Column> columns) {
    return Program(columns).run();
}

}  // namespace tallow::colour
