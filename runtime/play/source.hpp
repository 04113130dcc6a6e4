// What the player plays: frames in growing order, from a roll by its engine or from a frames file.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/frames/frames.hpp"
#include "runtime/play/script.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Source {
  public:
    virtual ~Source() = default;
    virtual std::uint32_t refresh() const = 0;
    virtual std::span<const Universe> universes() const = 0;
    // Does what can be done ahead for frame n, in the pause before it.
    virtual void prepare(std::uint64_t n) = 0;
    // Makes slots() those of frame n, which lies after all earlier ones. False when there is no such frame.
    virtual bool frame(std::uint64_t n) = 0;
    virtual std::span<const std::span<const std::uint8_t>> slots() const = 0;
    // Obeys a command of the operator (command.hpp) at tick t. What there is to say about it, or "".
    virtual std::string obey(std::string_view command, Tick t) = 0;
    // What happened since the last call, one line each: the cues that began.
    virtual std::vector<std::string> news() = 0;
    // Whether nothing more begins or ends without a command.
    virtual bool at_rest() const = 0;
    // What was wrong with the source, so far: one sentence, or "".
    virtual std::string damage() const = 0;
};

// The reader must outlive the source.
std::unique_ptr<Source> frames_source(FramesReader& reader);

// The roll must have passed validate() and outlive the source.
std::unique_ptr<Source> roll_source(const Roll& roll, Script script);

}  // namespace tallow::runtime
