// How light follows levels and slots.
#pragma once

#include "compiler/show/show.hpp"

namespace tallow::track {

// Relative light, 0..1, of a level or a slot v, 0..1. Linear: v. Square: v² (the square law of dimmers,
// common practice, no source). Lightness: the Y whose CIE L* is 100·v (CIE 15). Points: straight lines
// between them. Unsaid: as linear.
double light_at(show::Law law, const std::vector<show::Point>& points, double v);

// What slots send for levels on fixtures of one response, all 0..1 of full.
class Dimming {
  public:
    // `law`: how light follows a level on all such fixtures.
    Dimming(show::Law law, const show::Response& response)
        : law_(response.law == show::Law::unsaid ? show::Law::unsaid : law), response_(response) {}

    // The light that a level stands for.
    double light(double level) const { return light_at(law_, {}, level); }
    // The slot that gives this light: between the lower end and full; 0 for none under a floor.
    double slot(double light) const;

  private:
    show::Law law_;
    const show::Response& response_;  // outlives this
};

}  // namespace tallow::track
