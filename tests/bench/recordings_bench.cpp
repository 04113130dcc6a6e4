// Planning the recordings of a large show on one core, against the time that is allowed.
#include "compiler/desk/submasters/plan.hpp"
#include "tests/bench/bench.hpp"
#include "tests/support/planted.hpp"

namespace tallow::bench {
namespace {

constexpr double allowed_seconds = 5;
constexpr desk::Percent notch = 5'000'000;

Row row(const char* name, const desk::Levels& wanted, std::size_t most) {
    const auto task = test::task_for(wanted, notch, most);
    std::size_t recordings = 0;
    const double spent = once([&] { recordings = desk::submasters::make_plan(task).recordings.rows(); });
    return {name, "s", recordings > 0 ? spent : 1e9, allowed_seconds, Row::Goal::at_most, 1.0};
}

}  // namespace

std::vector<Row> recordings_rows() {
    test::Random random(1);
    const desk::Levels twelve = test::planted(random, 300, 48, 12, notch);
    const desk::Levels forty = test::planted(random, 300, 48, 40, notch, 10);
    return {row("300 cues x 48 channels, of 12 recordings", twelve, 1000),
            row("300 cues x 48 channels, of 40 recordings", forty, 1000),
            row("the same on 12 submasters", forty, 12)};
}

}  // namespace tallow::bench
