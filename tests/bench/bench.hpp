// What a bench reports: one row for each piece of work, ours against theirs in the same run.
#pragma once

#include <string>
#include <vector>

namespace tallow::tests {

struct Row {
    std::string name;
    double ours = 0, theirs = 0;
    std::string unit;
    double goal = 0;        // for ours / theirs
    bool at_least = false;  // whether the goal is a floor or a ceiling
};

}  // namespace tallow::tests
