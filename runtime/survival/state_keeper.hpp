// Keeps the state of a show in a file, so that a restart can go on from there.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "runtime/file_claim.hpp"
#include "runtime/play/intercom.hpp"
#include "runtime/survival/state.hpp"

namespace tallow::runtime {

// Milliseconds since 1970, by the system's clock.
std::uint64_t wall_clock_ms();

class StateKeeper {
  public:
    // Writes with a thread of its own, the file whole each time: a slow disk holds nobody up. Never over what
    // another player keeps: `claim` is of the path, or taken when that is free.
    // `cid`: that of State.
    StateKeeper(std::string path, std::string cid, const Roll& roll, std::uint64_t roll_hash,
                FileClaim claim = {});
    // Writes what was given last.
    ~StateKeeper();
    StateKeeper(const StateKeeper&) = delete;
    StateKeeper& operator=(const StateKeeper&) = delete;

    static constexpr std::uint64_t every_ns = 1000000000;
    // Has it written if anything but the time changed, or a second is over. `ns`: now, by the player's clock.
    void keep(const Progress& progress, std::uint64_t ns);
    // Another roll is played from here on; it must outlive this.
    void set_roll(const Roll& roll, std::uint64_t roll_hash);
    // The show has ended in order: there is nothing to go on from. Nothing is kept after it.
    void discard();
    // Why the last writing failed, or "".
    std::string trouble() const;

  private:
    void write();
    Status write(const std::string& text);

    const std::string path_, cid_;
    FileClaim claim_;  // the writing thread's
    const Roll* roll_;
    std::uint64_t roll_hash_;
    std::optional<Progress> kept_;
    std::uint64_t kept_at_ = 0;

    mutable std::mutex mutex_;  // over all below
    std::condition_variable wakes_;
    std::optional<std::string> waiting_;  // text that is not written yet
    std::string trouble_;
    bool ends_ = false, discards_ = false;
    std::thread thread_;
};

// The state in a file, for a roll; a failure names the file.
Result<State> load_state(const std::string& path, const Roll& roll, std::uint64_t roll_hash);

// The show's time now, in ticks, when a state is taken up again: time has gone on meanwhile, unless it was
// paused. A clock that was put back counts as no time.
Tick now_after(const State& state, std::uint64_t wall_ms, std::uint32_t refresh);

}  // namespace tallow::runtime
