// Turns a function round that never falls.
#pragma once

namespace tallow::track {

// The highest v, 0..1, at which it is still below a bound, to 2⁻⁴⁸.
template <class Function>
double last_below(double bound, Function function) {
    double low = 0, high = 1;
    for (int step = 0; step < 48; ++step) {
        const double middle = (low + high) / 2;
        (function(middle) < bound ? low : high) = middle;
    }
    return low;
}

}  // namespace tallow::track
