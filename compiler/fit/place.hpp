// Plans with their addresses, tried.
#pragma once

#include "compiler/fit/trial.hpp"

namespace tallow::fit {

struct Placed {
    Plan plan;
    std::vector<Slot> at;
    std::vector<Index> layouts;  // of the desk, that it fits
    Trial trial;
};

class Placer {
  public:
    // Both must outlive this.
    Placer(const Tester& tester, const show::Desk& desk) : tester_(tester), desk_(desk) {}

    // Addresses for the smallest layout that it fits, or for as many universes as it takes. Fixtures that
    // stand aside stay, unless the show is another one then or does not fit.
    Placed place(const Plan& plan) const;
    // Whether nothing is lost.
    bool clean(const Plan& plan) const { return place(plan).trial.clean(); }
    bool fits(const Plan& plan, Index layout) const;

    const show::Show& show() const { return tester_.show(); }
    const Tester& tester() const { return tester_; }
    const show::Desk& desk() const { return desk_; }

  private:
    std::optional<std::vector<Slot>> addresses(const Plan& plan, Index layout, bool keep_asides) const;

    const Tester& tester_;
    const show::Desk& desk_;
};

}  // namespace tallow::fit
