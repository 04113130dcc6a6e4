#include "runtime/play/player.hpp"

#include <algorithm>

#include "runtime/monotonic.hpp"
#include "runtime/play/performance.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint64_t look_every_ns = second_ns / 10;  // whether it is to quit, before a far beginning
constexpr unsigned endings = 3;  // E1.31, 6.2.6: the bit that ends a stream goes out three times

class Player {
  public:
    Player(Piece& piece, Clock& clock, Intercom& intercom, const PlayOptions& options)
        : piece_(piece),
          clock_(clock),
          intercom_(intercom),
          line_(&intercom),
          options_(options),
          refresh_(piece.source->refresh()),
          start_(options.start_ns != 0 ? options.start_ns : clock.now()) {}

    Result<PlayCounts> run();

  private:
    std::uint64_t time_of(std::uint64_t n) const {
        return start_ + (n - options_.from) * second_ns / refresh_;
    }
    Tick tick_at(std::uint64_t ns) const;
    Command in_time(const Order& order) const;
    bool asked_to_quit() const { return intercom_.quit.load(std::memory_order_relaxed); }
    bool left_alone() const {
        return options_.until == PlayOptions::open_end && !options_.stays &&
               (options_.fast || intercom_.closed.load());
    }

    std::uint64_t first() const;
    void wait_for(std::uint64_t n);
    void take_orders(std::uint64_t n);
    void exchange(Exchange& with, std::uint64_t n);
    Status show(std::uint64_t n);
    void tell(std::uint64_t n);
    std::uint64_t after(std::uint64_t n);
    Status close(std::uint64_t n);

    Piece& piece_;
    Clock& clock_;
    const Intercom& intercom_;
    Line* line_;  // of the source
    const PlayOptions& options_;
    const std::uint32_t refresh_;
    const std::uint64_t start_;  // the time of frame `from`
    PlayCounts counts_;
};

Tick Player::tick_at(std::uint64_t ns) const {
    return options_.from * ticks_per_frame + ticks_in(std::max(ns, start_) - start_, refresh_);
}

// As of the beginning, what came before it: a tape has run on since.
Command Player::in_time(const Order& order) const {
    Command command = order.command;
    if (command.what == Command::What::tape)
        command.code += ticks_in(start_ - std::min(order.ns, start_), refresh_);
    return command;
}

Result<PlayCounts> Player::run() {
    std::uint64_t n = first();
    while (n < options_.until) {
        piece_.source->prepare(n);
        if (!options_.fast) {
            wait_for(n);
            take_orders(n);
        }
        if (asked_to_quit() || !piece_.source->frame(n)) break;
        if (auto s = show(n); !s.ok()) return s;
        const bool rests = left_alone() && piece_.source->at_rest();
        n = rests ? n + 1 : after(n);
        if (rests) break;
    }
    if (auto s = close(std::min(n, options_.until)); !s.ok()) return s;
    return counts_;
}

// Where a start was given and is over, the first frame that is still to come.
std::uint64_t Player::first() const {
    const std::uint64_t now = clock_.now();
    if (options_.start_ns == 0 || now <= start_) return options_.from;
    return options_.from + ((now - start_) * refresh_ + second_ns - 1) / second_ns;
}

void Player::wait_for(std::uint64_t n) {
    for (std::uint64_t now; !asked_to_quit() && (now = clock_.now()) < time_of(n);)
        clock_.wait(std::min(time_of(n), now + look_every_ns));
}

// Those that came up to frame n.
void Player::take_orders(std::uint64_t n) {
    while (const auto order = line_->orders.take()) {
        if (order->exchange)
            exchange(*order->exchange, n);
        else
            piece_.source->obey(in_time(*order), tick_at(order->ns));
    }
}

void Player::exchange(Exchange& with, std::uint64_t n) {
    const bool came = with.source->take_over(*piece_.source, n * ticks_per_frame);
    if (came) {
        std::swap(with.source, piece_.source);
        line_ = with.line.get();
    }
    with.state.store(came ? Exchange::State::came : Exchange::State::refused, std::memory_order_release);
}

Status Player::show(std::uint64_t n) {
    const Frame frame{n, piece_.source->slots()};
    if (!options_.fast && clock_.now() > time_of(n) + late_ns) ++counts_.late;
    for (const auto& output : piece_.outputs)
        if (auto s = output->frame(frame); !s.ok()) return s;
    ++counts_.frames;
    tell(n);
    return {};
}

void Player::tell(std::uint64_t n) {
    for (const Event& event : piece_.source->events())
        if (options_.tell)
            options_.tell(event);
        else
            line_->heard.put(event);
    Progress& progress = line_->progress.draft();
    if (const Performance* performance = piece_.source->performance()) {
        performance->stand(progress.show);
        progress.paused = performance->paused();
        progress.tape = performance->tape_use();
    }
    progress.frame = n;
    progress.ns = time_of(n);
    progress.counts = counts_;
    line_->progress.hand_over();
}

// The frame to play after frame n: the next, or where time ran away, the last one that is due.
std::uint64_t Player::after(std::uint64_t n) {
    if (options_.fast) return n + 1;
    const std::uint64_t due =
        options_.from + (std::max(clock_.now(), start_) - start_) * refresh_ / second_ns;
    const std::uint64_t next = std::max(n + 1, due);
    counts_.dropped += next - (n + 1);
    return next;
}

// All outputs are finished, whatever becomes of one; a stream that has not begun has no end.
Status Player::close(std::uint64_t n) {
    for (unsigned i = 0; counts_.frames > 0 && i < endings; ++i) {
        while (!options_.fast && clock_.now() < time_of(n + i)) clock_.wait(time_of(n + i));
        for (const auto& output : piece_.outputs)
            if (auto s = output->end(n + i); !s.ok()) return s;
    }
    std::string why;
    for (const auto& output : piece_.outputs)
        if (const auto s = output->finish(); !s.ok()) why += (why.empty() ? "" : "; ") + s.why();
    return why.empty() ? Status() : Status::failure(std::move(why));
}

}  // namespace

Result<PlayCounts> play(Piece& piece, Clock& clock, Intercom& intercom, const PlayOptions& options) {
    return Player(piece, clock, intercom, options).run();
}

}  // namespace tallow::runtime
