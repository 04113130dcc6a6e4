#include "compiler/desk/submasters/nearest.hpp"

#include <tuple>

#include "compiler/desk/submasters/reach.hpp"

namespace tallow::desk::submasters {
namespace {

constexpr int rounds = 2;
constexpr Percent most_settings = 32;  // that are tried of one span

using Product = std::int64_t;  // parts of 10⁻¹⁶

// How good a setting is: the less, the better.
struct Cost {
    Percent worst = 0, sum = 0;
    void add(Product has, Percent wanted) {
        if (wanted == any_setting) return;
        const Percent error = std::abs((has + all_of_it / 2) / all_of_it - wanted);
        worst = std::max(worst, error);
        sum += error;
    }
    bool operator<(const Cost& other) const {
        return std::tie(worst, sum) < std::tie(other.worst, other.sum);
    }
};

class Tuner {
  public:
    Tuner(const Levels& wanted, const Bounds& bounds, Percent notch, Levels& positions, Levels& recordings)
        : wanted_(wanted),
          notch_(notch),
          positions_(positions),
          recordings_(recordings),
          reach_(bounds, positions, recordings, notch) {}

    void run() {
        for (std::size_t r = 0; r < recordings_.rows(); ++r) raise(r);
        for (int round = 0; round < rounds; ++round) {
            for (std::size_t r = 0; r < recordings_.rows(); ++r)
                for (std::size_t j = 0; j < recordings_.columns(); ++j) tune_level(r, j);
            for (std::size_t r = 0; r < recordings_.rows(); ++r)
                for (std::size_t c = 0; c < positions_.rows();) c = tune_stay(r, c);
        }
    }

  private:
    // What the others bring to a cell.
    Product others(std::size_t cue, std::size_t recording, std::size_t channel) const {
        Product most = 0;
        for (std::size_t r = 0; r < recordings_.rows(); ++r)
            if (r != recording) most = std::max(most, positions_.at(cue, r) * recordings_.at(r, channel));
        return most;
    }

    template <class CostOf>
    Percent best_of(Between span, CostOf&& cost_of) const {
        const Percent step = std::max(notch_, setting_below((span.high - span.low) / most_settings, notch_));
        Percent best = span.low;
        Cost least = cost_of(span.low);
        for (Percent x = span.low; x < span.high;) {
            x = std::min(x + step, span.high);
            if (const Cost cost = cost_of(x); cost < least) {
                least = cost;
                best = x;
            }
        }
        return best;
    }

    // All positions in proportion, and levels to them; or nothing, where that does not keep the bounds.
    void raise(std::size_t r) {
        std::vector<Percent> stood, had;
        for (std::size_t c = 0; c < positions_.rows(); ++c) stood.push_back(positions_.at(c, r));
        for (std::size_t j = 0; j < recordings_.columns(); ++j) had.push_back(recordings_.at(r, j));
        const Percent top = stood.empty() ? 0 : *std::max_element(stood.begin(), stood.end());
        if (top == 0 || top == all_of_it) return;
        for (std::size_t c = 0; c < stood.size(); ++c)
            reach_.set_position(c, r, nearest_setting(stood[c] * all_of_it / top, notch_));
        bool kept = true;
        for (std::size_t j = 0; j < had.size() && kept; ++j) kept = tune_level(r, j);
        if (kept) return;
        for (std::size_t c = 0; c < stood.size(); ++c) reach_.set_position(c, r, stood[c]);
        for (std::size_t j = 0; j < had.size(); ++j) reach_.set_level(r, j, had[j]);
    }

    // False where no level keeps the bounds.
    bool tune_level(std::size_t r, std::size_t j) {
        const Between span = reach_.levels(r, j);
        if (span.low > span.high) return false;
        std::vector<std::size_t> cues;
        std::vector<Product> beside;
        for (std::size_t c = 0; c < positions_.rows(); ++c) {
            if (positions_.at(c, r) == 0) continue;
            cues.push_back(c);
            beside.push_back(others(c, r, j));
        }
        reach_.set_level(r, j, best_of(span, [&](Percent level) {
                             Cost cost;
                             for (std::size_t n = 0; n < cues.size(); ++n)
                                 cost.add(std::max(beside[n], positions_.at(cues[n], r) * level),
                                          wanted_.at(cues[n], j));
                             return cost;
                         }));
        return true;
    }

    // From a cue on, for as long as the submaster stays; gives the cue after that.
    std::size_t tune_stay(std::size_t r, std::size_t from) {
        const Percent stands = positions_.at(from, r);
        Between span{0, all_of_it};
        std::size_t end = from;
        for (; end < positions_.rows() && positions_.at(end, r) == stands; ++end) {
            const Between here = reach_.positions(end, r);
            span = {std::max(span.low, here.low), std::min(span.high, here.high)};
        }
        if (stands == 0 || span.low > span.high) return end;
        std::vector<Product> beside;
        for (std::size_t c = from; c < end; ++c)
            for (std::size_t j = 0; j < recordings_.columns(); ++j) beside.push_back(others(c, r, j));
        const Percent best = best_of(span, [&](Percent position) {
            Cost cost;
            std::size_t n = 0;
            for (std::size_t c = from; c < end; ++c)
                for (std::size_t j = 0; j < recordings_.columns(); ++j)
                    cost.add(std::max(beside[n++], position * recordings_.at(r, j)), wanted_.at(c, j));
            return cost;
        });
        for (std::size_t c = from; c < end; ++c) reach_.set_position(c, r, best);
        return end;
    }

    const Levels& wanted_;
    Percent notch_;
    Levels& positions_;
    Levels& recordings_;
    Reach reach_;
};

}  // namespace

std::vector<Percent> errors_of(const Levels& wanted, const Levels& positions, const Levels& recordings) {
    std::vector<Percent> errors;
    for (std::size_t c = 0; c < wanted.rows(); ++c) {
        Cost cost;
        for (std::size_t j = 0; j < wanted.columns(); ++j) {
            Product most = 0;
            for (std::size_t r = 0; r < recordings.rows(); ++r)
                most = std::max(most, positions.at(c, r) * recordings.at(r, j));
            cost.add(most, wanted.at(c, j));
        }
        errors.push_back(cost.worst);
    }
    return errors;
}

void bring_nearer(const Levels& wanted, const Bounds& bounds, Percent notch, Levels& positions,
                  Levels& recordings) {
    Tuner(wanted, bounds, notch, positions, recordings).run();
}

}  // namespace tallow::desk::submasters
