// An output that does what a test wants of it, and notes what it is told.
#pragma once

#include <atomic>
#include <cstdint>
#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "runtime/output/keeper.hpp"

namespace tallow::test {

// What a test and the output both hold; it outlives a thread that is left behind.
class Wanted {
  public:
    std::atomic<bool> opens{true}, sends{true}, finishes{true};
    std::atomic<bool> hangs{false};  // in the next call, until this is false again

    // "open", "7", "end 8", "finish", "close"; and the first slot of each frame.
    std::vector<std::string> told() const {
        const std::lock_guard lock(mutex_);
        return told_;
    }
    std::vector<int> levels() const {
        const std::lock_guard lock(mutex_);
        return levels_;
    }
    void note(std::string what, int level = -1) {
        const std::lock_guard lock(mutex_);
        told_.push_back(std::move(what));
        if (level >= 0) levels_.push_back(level);
    }
    void hang() const { hangs.wait(true); }
    void let_go() {
        hangs = false;
        hangs.notify_all();
    }

  private:
    mutable std::mutex mutex_;
    std::vector<std::string> told_;
    std::vector<int> levels_;
};

class WantingOutput : public runtime::Output {
  public:
    explicit WantingOutput(std::shared_ptr<Wanted> wanted) : wanted_(std::move(wanted)) {}
    ~WantingOutput() override { wanted_->note("close"); }
    runtime::Status frame(const runtime::Frame& frame) override {
        return take(std::to_string(frame.number), frame.slots[0][0]);
    }
    runtime::Status end(std::uint64_t number) override { return take("end " + std::to_string(number), -1); }
    runtime::Status finish() override {
        wanted_->note("finish");
        return wanted_->finishes ? runtime::Status() : runtime::Status::failure("the disk is full");
    }

  private:
    runtime::Status take(std::string what, int level) {
        wanted_->hang();
        if (!wanted_->sends) return runtime::Status::failure("the cable is out");
        wanted_->note(std::move(what), level);
        return {};
    }
    std::shared_ptr<Wanted> wanted_;
};

inline runtime::OpenOutput opener(std::shared_ptr<Wanted> wanted) {
    return [wanted]() -> runtime::Result<std::unique_ptr<runtime::Output>> {
        wanted->note("open");
        if (!wanted->opens) return runtime::Status::failure("nobody is there");
        return std::unique_ptr<runtime::Output>(std::make_unique<WantingOutput>(wanted));
    };
}

}  // namespace tallow::test
