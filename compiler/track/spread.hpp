// Spreads: values and times that go over a selection in its order.
#pragma once

#include <cstdint>

#include "compiler/show/show.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::track {

// How far a member of a selection stands on the way between the ends of a spread: place i of n − 1.
struct Share {
    std::int64_t place = 0, last = 0;
    // a + (b − a)·i/(n − 1), rounded once.
    template <class Number>
    Number between(Number a, Number b) const {
        const std::int64_t first = static_cast<std::int64_t>(a), way = static_cast<std::int64_t>(b) - first;
        return last == 0 ? a : static_cast<Number>(first + text::rounded(way * place, last));
    }
    // The same of two levels that a look scales, rounded once.
    show::Level scaled(show::Level a, show::Level b, show::Scale scale) const;
};

show::Scale product(show::Scale a, show::Scale b);

// Whether a line has a value or a time of its own for each member.
bool is_spread(const show::Show& show, const show::Statement& line);

// A line's own fade and delay replace the header's for all that the line does.
show::Times times_of(const show::Times& header, const show::Statement& line, Share share);

}  // namespace tallow::track
