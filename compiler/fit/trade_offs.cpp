#include "compiler/fit/trade_offs.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>

#include "compiler/fit/clusters.hpp"
#include "compiler/fit/given_up.hpp"
#include "compiler/fit/lossless.hpp"
#include "compiler/text/counted.hpp"

namespace tallow::fit {
namespace {

constexpr int most_trials = 48;  // of modes
// What can be saved for at most so much, of full, is listed whatever it fits.
constexpr double bounds[] = {0.001, 0.01, 0.05, 0.1, 0.2, 0.5};

// A step on the way to fewer channels.
struct Step {
    double loss = 0;  // the largest difference of a level, 0..1, that it makes by itself
    std::vector<Index> fixtures;
    std::optional<Index> mode;  // none: they are ganged
};

class Ladder {
  public:
    Ladder(const Placer& placer, Plan plan)
        : placer_(placer), show_(placer.show()), order_(patch_order(show_)), plan_(std::move(plan)) {
        add_gangs();
        add_modes();
        std::stable_sort(steps_.begin(), steps_.end(),
                         [](const Step& a, const Step& b) { return a.loss < b.loss; });
        drop_clashes();
    }

    std::size_t size() const { return steps_.size(); }
    const std::vector<std::string>& refused() const { return refused_; }

    // The plan after the first `count` steps.
    Plan after(std::size_t count) const {
        Plan plan = plan_;
        for (std::size_t i = 0; i < count; ++i) take(plan, steps_[i]);
        return plan;
    }

    // How many steps it takes until it fits the layout; none where all of them do not suffice.
    std::optional<std::size_t> steps_to(Index layout) const {
        if (!placer_.fits(after(size()), layout)) return std::nullopt;
        std::size_t low = 0, high = size();  // the answer is above low, unless it is 0
        while (low < high) {
            const std::size_t middle = (low + high) / 2;
            placer_.fits(after(middle), layout) ? high = middle : low = middle + 1;
        }
        return high;
    }

    // How many steps of a loss of at most so much there are.
    std::size_t steps_within(double loss) const {
        const auto end = std::upper_bound(steps_.begin(), steps_.end(), loss,
                                          [](double bound, const Step& step) { return bound < step.loss; });
        return static_cast<std::size_t>(end - steps_.begin());
    }

  private:
    void take(Plan& plan, const Step& step) const {
        if (!step.mode) return gang(plan, order_, step.fixtures);
        const std::uint16_t size =
            show_.types[show_.fixtures[step.fixtures.front()].type].modes[*step.mode].footprint;
        std::set<Index> leaders;
        for (const Index f : step.fixtures) leaders.insert(plan.leader[f]);
        for (Index f = 0; f < plan.mode.size(); ++f)
            if (leaders.contains(plan.leader[f]) && footprint(show_, plan, f) > size)
                plan.mode[f] = *step.mode;
    }

    // Leaders of one name and type, in one mode and before in one mode.
    using Kinds = std::map<std::tuple<Index, Index, Index, Index, std::string>, std::vector<Index>>;
    Kinds kinds() const {
        Kinds kinds;
        for (const Index f : order_) {
            const show::Fixture& fixture = show_.fixtures[f];
            if (plan_.leader[f] == f)
                kinds[{fixture.type, plan_.mode[f], fixture.mode, fixture.response, fixture.name}].push_back(
                    f);
        }
        return kinds;
    }

    void add_gangs() {
        const Rows rows(placer_.tester());
        for (const auto& [kind, fixtures] : kinds())
            for (const Merge& merge : merges(rows.of(fixtures)))
                steps_.push_back({merge.difference, {fixtures[merge.first], fixtures[merge.second]}, {}});
    }

    void add_modes() {
        int trials = 0;
        for (const auto& [kind, fixtures] : kinds()) {
            const show::Type& type = show_.types[std::get<0>(kind)];
            for (Index mode = 0; mode < type.modes.size() && trials < most_trials; ++mode) {
                if (!is_smaller(type, std::get<1>(kind), mode)) continue;
                Step step{0, fixtures, mode};
                Plan plan = plan_;
                take(plan, step);
                const Placed placed = placer_.place(plan);
                ++trials;
                if (!placed.trial.compiles) {
                    refuse(step, slots_of(show_, plan_) - slots_of(show_, plan), placed.trial.refused);
                    continue;
                }
                step.loss = given_up(placer_.tester(), placed.trial).worst;
                steps_.push_back(std::move(step));
            }
        }
    }

    // Modes that the show takes one by one, and not together: where each was to do what the others cannot.
    void drop_clashes() {
        Plan plan = plan_;
        std::erase_if(steps_, [&](const Step& step) {
            if (!step.mode) return false;
            Plan next = plan;
            take(next, step);
            const Placed placed = placer_.place(next);
            if (placed.trial.compiles) {
                plan = std::move(next);
                return false;
            }
            refuse(step, slots_of(show_, plan) - slots_of(show_, next), placed.trial.refused);
            return true;
        });
    }

    void refuse(const Step& step, std::uint32_t saved, const std::string& why) {
        const show::Type& type = show_.types[show_.fixtures[step.fixtures.front()].type];
        refused_.push_back(fmt::format("{} in mode {} would save {}, but for the line {}",
                                       numbers_text(show_, step.fixtures), type.modes[*step.mode].name,
                                       text::counted(saved, "channel"), why));
    }

    const Placer& placer_;
    const show::Show& show_;
    std::vector<Index> order_;
    Plan plan_;
    std::vector<Step> steps_;
    std::vector<std::string> refused_;
};

}  // namespace

TradeOffs trade_offs(const Placer& placer, const Plan& plan) {
    std::vector<Index> lacking;
    for (Index l = 0; l < placer.desk().layouts.size(); ++l)
        if (!placer.fits(plan, l)) lacking.push_back(l);
    if (lacking.empty()) return {};
    const Ladder ladder(placer, plan);
    std::set<std::size_t> counts;  // of steps
    for (const Index layout : lacking)
        if (const auto steps = ladder.steps_to(layout)) counts.insert(*steps);
    if (counts.empty()) counts.insert(ladder.size());
    const std::size_t last = *counts.rbegin();
    for (const double bound : bounds)
        if (const std::size_t count = ladder.steps_within(bound); count < last) counts.insert(count);
    TradeOffs out{{}, ladder.refused()};
    for (const std::size_t count : counts)
        if (count > 0) out.plans.push_back(ladder.after(count));
    return out;
}

}  // namespace tallow::fit
