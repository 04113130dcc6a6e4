#include "runtime/survival/state_keeper.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fmt/format.h>
#include <utility>

#include "runtime/files.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {

std::uint64_t wall_clock_ms() {
    const auto since = std::chrono::system_clock::now().time_since_epoch();
    return static_cast<std::uint64_t>(std::chrono::duration_cast<std::chrono::milliseconds>(since).count());
}

StateKeeper::StateKeeper(std::string path, std::string cid, const Roll& roll, std::uint64_t roll_hash,
                         FileClaim claim)
    : path_(std::move(path)),
      cid_(std::move(cid)),
      claim_(std::move(claim)),
      roll_(&roll),
      roll_hash_(roll_hash),
      thread_([this] { write(); }) {}

StateKeeper::~StateKeeper() {
    {
        const std::lock_guard lock(mutex_);
        ends_ = true;
    }
    wakes_.notify_one();
    thread_.join();
    if (discards_ && claim_.take(path_)) static_cast<void>(std::remove(path_.c_str()));
}

void StateKeeper::set_roll(const Roll& roll, std::uint64_t roll_hash) {
    roll_ = &roll;
    roll_hash_ = roll_hash;
    kept_.reset();
}

void StateKeeper::keep(const Progress& progress, std::uint64_t ns) {
    if (kept_ && ns - kept_at_ < every_ns && kept_->paused == progress.paused &&
        kept_->tape == progress.tape && same_but_for_time(kept_->show, progress.show))
        return;
    kept_ = progress;
    kept_at_ = ns;
    std::string text = write_state({roll_hash_, wall_clock_ms() - progress.age(ns) / 1000000, progress.paused,
                                    progress.show, cid_, progress.tape},
                                   *roll_);
    {
        const std::lock_guard lock(mutex_);
        waiting_ = std::move(text);
    }
    wakes_.notify_one();
}

void StateKeeper::discard() {
    const std::lock_guard lock(mutex_);
    discards_ = true;
    waiting_.reset();
}

std::string StateKeeper::trouble() const {
    const std::lock_guard lock(mutex_);
    return trouble_;
}

// The writing thread.
void StateKeeper::write() {
    std::unique_lock lock(mutex_);
    while (true) {
        wakes_.wait(lock, [&] { return ends_ || waiting_.has_value(); });
        const auto text = std::exchange(waiting_, std::nullopt);
        if (!text) return;
        lock.unlock();
        const Status status = write(*text);
        lock.lock();
        trouble_ = status.why();
    }
}

Status StateKeeper::write(const std::string& text) {
    if (!claim_.take(path_))
        return Status::failure(fmt::format(
            "another player keeps its own in `{}`; give one of them another place with `--state`", path_));
    return write_file(path_, text);
}

Result<State> load_state(const std::string& path, const Roll& roll, std::uint64_t roll_hash) {
    const auto text = read_file(path, limits::state_bytes);
    if (!text.ok()) return text.status();
    auto state = read_state(*text, roll, roll_hash);
    if (!state.ok()) return Status::failure(fmt::format("cannot resume from `{}`: {}", path, state.why()));
    return state;
}

Tick now_after(const State& state, std::uint64_t wall_ms, std::uint32_t refresh) {
    if (state.paused) return state.show.now;
    const std::uint64_t passed = std::max(wall_ms, state.wall_ms) - state.wall_ms;
    return state.show.now + std::min(passed, limits::time_ms) * refresh;
}

}  // namespace tallow::runtime
