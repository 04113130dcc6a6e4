#include "tests/bench/hold.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <thread>

#include "runtime/output/e131_output.hpp"
#include "runtime/play/clock_thread.hpp"
#include "runtime/real_time.hpp"
#include "runtime/session/ways_out.hpp"
#include "tests/bench/loop_source.hpp"

namespace tallow::bench {
namespace {

using namespace runtime;

constexpr std::uint64_t second = 1000000000, ahead = second / 10;

// When frames or turns are due.
struct Times {
    std::uint64_t start, refresh;
    std::uint64_t due(std::uint64_t n) const { return start + n * second / refresh; }
};

// Notes when another output, if there is one, has come back from a frame.
class LatenessOutput : public Output {
  public:
    LatenessOutput(Clock& clock, Times times, std::vector<std::uint64_t>& late,
                   std::unique_ptr<Output> output = nullptr)
        : clock_(clock), times_(times), late_(late), output_(std::move(output)) {}
    Status frame(const Frame& frame) override {
        const Status came = output_ ? output_->frame(frame) : Status();
        late_.push_back(clock_.now() - times_.due(frame.number));
        return came;
    }
    Status end(std::uint64_t number) override { return output_ ? output_->end(number) : Status(); }
    Status finish() override { return output_ ? output_->finish() : Status(); }

  private:
    Clock& clock_;
    const Times times_;
    std::vector<std::uint64_t>& late_;
    const std::unique_ptr<Output> output_;
};

NamedOutput timed(NamedOutput output, Clock& clock, Times times, std::vector<std::uint64_t>& late) {
    const auto open = [inner = output.open, &clock, times, &late]() -> Result<std::unique_ptr<Output>> {
        auto opened = inner();
        if (!opened.ok()) return opened.status();
        return std::unique_ptr<Output>(
            std::make_unique<LatenessOutput>(clock, times, late, std::move(*opened)));
    };
    return {output.name, open};
}

void turn(Clock& clock, Times times, std::uint64_t turns, std::vector<std::uint64_t>& late) {
    (void)favour_this_thread(clock_priority);
    for (std::uint64_t n = 0; n < turns; ++n) {
        clock.wait(times.due(n));
        late.push_back(clock.now() - times.due(n));
    }
}

}  // namespace

Held hold(std::uint16_t universes, std::uint32_t refresh, std::uint64_t seconds) {
    Held held;
    const Sink sink;
    Piece piece;
    piece.source = std::make_unique<LoopSource>(universes, refresh);
    const auto clock = system_clock();
    const std::uint64_t frames = seconds * refresh;
    const Times times{clock->now() + ahead, refresh};
    held.late.reserve(frames);
    held.sent.reserve(frames);
    held.bare.reserve(frames);
    piece.outputs.push_back(std::make_unique<LatenessOutput>(*clock, times, held.late));
    E131Options options;
    options.hosts = {{"127.0.0.1", sink.port()}};
    auto e131 = e131_outputs(options, piece.source->universes(), refresh);
    if (!e131.ok()) return held;
    auto output = on_own_thread({timed((*e131)[0], *clock, times, held.sent), {}}, piece.source->universes());
    if (!output.ok()) return held;
    piece.outputs.push_back(std::move(output->output));
    std::thread beside([&] { turn(*clock, times, frames, held.bare); });
    Intercom intercom;
    PlayOptions how;
    how.until = frames;
    how.start_ns = times.start;
    ClockThread thread(piece, *clock, intercom, how);
    const auto counts = thread.finish();
    beside.join();
    if (counts.ok()) held.counts = *counts;
    held.dropped = output->looked_after->health().dropped;
    return held;
}

std::uint64_t percentile(std::vector<std::uint64_t> values, std::size_t percent) {
    if (values.empty()) return 0;
    const std::size_t at = std::min(values.size() * percent / 100, values.size() - 1);
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(at), values.end());
    return values[at];
}

void print_held(const Held& held) {
    constexpr std::uint64_t us = 1000, ms = 1000 * us, none = ~std::uint64_t{0};
    constexpr std::uint64_t up_to[] = {50 * us, 100 * us, 200 * us, 500 * us, ms,       2 * ms,
                                       5 * ms,  10 * ms,  25 * ms,  50 * ms,  100 * ms, none};
    fmt::print("{:>12} {:>10} {:>10} {:>10}\n", "late by", "frames", "sent", "bare loop");
    std::uint64_t from = 0;
    for (const std::uint64_t to : up_to) {
        const auto between = [&](const std::vector<std::uint64_t>& all) {
            return std::ranges::count_if(all, [&](std::uint64_t v) { return v >= from && v < to; });
        };
        const std::string name = to == none ? "more" : fmt::format("< {} us", to / us);
        fmt::print("{:>12} {:>10} {:>10} {:>10}\n", name, between(held.late), between(held.sent),
                   between(held.bare));
        from = to;
    }
    for (const std::size_t percent : {50, 99, 100})
        fmt::print("{:>11}% {:>10} {:>10} {:>10} us\n", percent, percentile(held.late, percent) / us,
                   percentile(held.sent, percent) / us, percentile(held.bare, percent) / us);
    fmt::print("{} frames sent, {} of them more than {} ms late, {} left out, {} not taken by the output\n",
               held.counts.frames, held.counts.late, late_ns / ms, held.counts.dropped, held.dropped);
}

}  // namespace tallow::bench
