// tallow-bench [PART OF A NAME]: prints each row as a ratio.
// tallow-bench hold [SECONDS [UNIVERSES [REFRESH]]]: plays in real time, and prints how late frames were.
#include <cstdlib>
#include <fmt/format.h>
#include <iterator>
#include <string_view>

#include "tests/bench/bench.hpp"
#include "tests/bench/hold.hpp"

int main(int count, char** words) {
    using namespace tallow::bench;
    const std::string_view wanted = count > 1 ? words[1] : "";
    if (wanted == "hold") {
        const auto number = [&](int i, int otherwise) { return count > i ? std::atoi(words[i]) : otherwise; };
        print_held(hold(static_cast<std::uint16_t>(number(3, 100)), static_cast<std::uint32_t>(number(4, 44)),
                        static_cast<std::uint64_t>(number(2, 600))));
        return 0;
    }
    const struct {
        std::string_view name;
        std::vector<Row> (*measure)();
    } parts[] = {{"check", check_rows}, {"engine", engine_rows},   {"frames", frames_rows},
                 {"play", play_rows},   {"program", program_rows}, {"recordings", recordings_rows},
                 {"solve", solve_rows}};

    fmt::print("{:<48} {:>12} {:>12} {:<9} {:>7} {:>8}\n", "work", "ours", "theirs", "unit", "ratio", "goal");
    for (const auto& part : parts) {
        if (part.name.find(wanted) == std::string_view::npos) continue;
        for (const Row& row : part.measure())
            fmt::print("{:<48} {:>12.4g} {:>12.4g} {:<9} {:>7.4f} {:>3} {:<5} {}\n", row.name, row.ours,
                       row.theirs, row.unit, row.ratio(),
                       row.goal == Row::Goal::at_least ? ">=" : "<=", row.limit,
                       row.met() ? "met" : "MISSED");
    }
}
