// Where frames go. A failure says what was tried and what the system said.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <string>

#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// One frame on its way out: its number, and the slots of each universe.
struct Frame {
    std::uint64_t number = 0;  // it stands at number / refresh seconds
    std::span<const std::span<const std::uint8_t>> slots;
};

// Told the frames in growing order, then the end once or more (E1.31 asks for three), then to finish.
class Output {
  public:
    virtual ~Output() = default;
    virtual Status frame(const Frame& frame) = 0;
    virtual Status end(std::uint64_t number) = 0;  // the stream ends; in the place of frame `number`
    virtual Status finish() = 0;                   // everything is on its way or on the disk after this
};

// Opens an output, as often as it is called. It owns what it needs: it may be called, or still run, after
// everything else has ended.
using OpenOutput = std::function<Result<std::unique_ptr<Output>>()>;

// An output that is not open yet, and what people call it.
struct NamedOutput {
    std::string name;
    OpenOutput open;
};

// Sends nothing.
std::unique_ptr<Output> null_output();

}  // namespace tallow::runtime
