// What came of something that the surroundings can refuse: opening, reading, writing, sending.
#pragma once

#include <optional>
#include <string>
#include <utility>

namespace tallow::runtime {

// Empty when all went well; else one sentence with what was tried, what the system or the file said, and what
// to do.
class [[nodiscard]] Status {
  public:
    Status() = default;
    static Status failure(std::string why) {
        Status s;
        s.why_ = std::move(why);
        return s;
    }
    bool ok() const { return why_.empty(); }
    const std::string& why() const { return why_; }

  private:
    std::string why_;
};

// A value, or why there is none.
template <class T>
class [[nodiscard]] Result {
  public:
    Result(T value) : value_(std::move(value)) {}
    Result(Status status) : status_(std::move(status)) {}
    bool ok() const { return value_.has_value(); }
    const std::string& why() const { return status_.why(); }
    const Status& status() const { return status_; }
    T& operator*() { return *value_; }
    const T& operator*() const { return *value_; }
    T* operator->() { return &*value_; }
    const T* operator->() const { return &*value_; }

  private:
    std::optional<T> value_;
    Status status_;
};

}  // namespace tallow::runtime
