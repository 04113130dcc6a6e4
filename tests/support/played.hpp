// A show from its text to its slots: compiled in memory, played by the engine, looked at one parameter and
// one instant at a time.
#pragma once

#include <memory>
#include <string>

#include "compiler/command/compilation.hpp"
#include "runtime/engine/engine.hpp"

namespace tallow::test {

class Played {
  public:
    // The text without its `show` line; what stands under that. Fails the test when it has an error.
    explicit Played(const std::string& text, const std::string& under_show = "");

    // Milliseconds from the start of the time line, and ticks beyond them (40 to a millisecond). Time never
    // goes back.
    Played& go(std::uint64_t ms, std::uint64_t ticks = 0);
    Played& at(std::uint64_t ms, std::uint64_t ticks = 0);
    // The next cue of another list; a submaster by its number and the grand master, in percent; the panic
    // look; timecode that comes in from then on.
    Played& go_in(const std::string& list, std::uint64_t ms);
    Played& submaster(std::uint32_t number, int percent, std::uint64_t ms);
    Played& master(int percent, std::uint64_t ms);
    Played& panic(bool on, std::uint64_t ms);
    Played& timecode(const std::string& label, std::uint64_t ms);

    // What the slots of a parameter hold: 0..255, or 0..65535 where it has a fine slot. Keys are those of a
    // roll: `front/1/red`, `cyc/2/3/red`.
    int slot(const std::string& key) const;
    // The number of the present cue, in thousandths; 0 before the first.
    std::uint32_t cue() const;

    // Compares a slot with a fraction of full: to the step, or within what the roll's integers may differ by
    // (1 step of 8 bits, 16 of 16).
    void exactly(const std::string& key, long double value) const;
    void nearly(const std::string& key, long double value) const;

    const runtime::Roll& roll() const { return roll_; }
    const runtime::Engine& engine() const { return *engine_; }
    const command::Compilation& compilation() const { return *compilation_; }

  private:
    std::uint32_t parameter(const std::string& key) const;
    int rounded(const std::string& key, long double value) const;

    std::unique_ptr<command::Compilation> compilation_;
    runtime::Roll roll_;
    std::unique_ptr<runtime::Engine> engine_;
    runtime::Tick now_ = 0;
};

}  // namespace tallow::test
