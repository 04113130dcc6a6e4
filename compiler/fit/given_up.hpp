// What a plan loses, as it is tried: which light differs from that of the show, where, and by how much.
#pragma once

#include <string>
#include <vector>

#include "compiler/fit/trial.hpp"

namespace tallow::fit {

struct GivenUp {
    std::vector<std::string> lines;  // a sentence for each name of fixtures and kind of loss
    double worst = 0;                // the largest difference of a level or value, 0..1 of full
};

// The trial compiles.
GivenUp given_up(const Tester& tester, const Trial& trial);

// `front 1..4, 7` of fixtures of one name, by their numbers.
std::string numbers_text(const show::Show& show, const std::vector<Index>& fixtures);

}  // namespace tallow::fit
