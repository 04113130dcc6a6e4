// Plays along with a show that another machine plays, by the states that come from it: so that all is ready
// to go on from the last one.
#pragma once

#include <memory>
#include <vector>

#include "runtime/play/performance.hpp"
#include "runtime/survival/state.hpp"

namespace tallow::runtime {

// Each state is taken as what has happened since the one before: a GO that was given there is given here, at
// its own tick, so that fades are the same. Where that does not lead to the same standing, because a state
// was lost or it is the first, the show is put where the state says.
class Follower {
  public:
    // The roll must outlive this.
    explicit Follower(const Roll& roll) : roll_(roll) {}

    // Of the roll, and no older than the one before.
    void follow(const State& state);
    // What plays along; null before the first state. Its clock shows the show's own time.
    const Performance* performance() const { return performance_.get(); }
    // The same, for good.
    std::unique_ptr<Performance> take() { return std::move(performance_); }

  private:
    void put(const State& state);
    void play_to(const State& state);
    // A GO of a list, and the cue that was present before; or a stop in so many milliseconds.
    struct Told {
        Command::What what;
        Tick at;
        std::uint32_t list, cue, before;
        std::uint64_t ms;
    };
    std::vector<Told> news(const Standing& to) const;
    void do_told(const Told& told);
    void take_masters(const Standing& to);
    Standing::List standing_of(std::uint32_t list) const { return performance_->standing().lists[list]; }
    void obey(Command::What what, std::uint32_t index, Tick t, Command command = {});

    const Roll& roll_;
    std::unique_ptr<Performance> performance_;
};

}  // namespace tallow::runtime
