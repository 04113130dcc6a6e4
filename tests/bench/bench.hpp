// Ratios of our work to a plain equivalent, both timed in one run.
#pragma once

#include <algorithm>
#include <chrono>
#include <functional>
#include <string>
#include <vector>

namespace tallow::bench {

// One row: `ours` against `theirs`, both in the same unit, and the goal that ours/theirs is held to.
struct Row {
    std::string name, unit;
    double ours = 0, theirs = 0;
    enum class Goal { at_least, at_most } goal = Goal::at_most;
    double limit = 1;

    double ratio() const { return ours / theirs; }
    bool met() const { return goal == Goal::at_least ? ratio() >= limit : ratio() <= limit; }
};

// Each of these measures some rows; main.cpp lists them.
std::vector<Row> check_rows();  // the second against a time that is wanted: `theirs` is no measurement
std::vector<Row> engine_rows();
std::vector<Row> frames_rows();   // an hour's frames file of 8 universes, in time and size, against zstd
std::vector<Row> play_rows();     // the sender against bare sendmmsg, lateness against bare clock_nanosleep
std::vector<Row> program_rows();  // tallow-play as a whole: `theirs` is what is allowed, no measurement
std::vector<Row> recordings_rows();  // against a time that is allowed: `theirs` is no measurement
std::vector<Row> solve_rows();       // colours, against a rate that is wanted: `theirs` is no measurement

// Seconds that one call takes, of work that takes long enough to be timed once.
template <class Work>
double once(Work&& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// Seconds that one call takes: the best of several rounds, each as long as it takes to be measured well.
template <class Work>
double seconds(Work&& work) {
    using Clock = std::chrono::steady_clock;
    double best = 1e9;
    for (int round = 0; round < 7; ++round) {
        const auto start = Clock::now();
        std::chrono::duration<double> spent{};
        std::size_t calls = 0;
        while (spent.count() < 0.04) {
            work();
            ++calls;
            spent = Clock::now() - start;
        }
        best = std::min(best, spent.count() / static_cast<double>(calls));
    }
    return best;
}

}  // namespace tallow::bench
