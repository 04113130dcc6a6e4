// What moves values by itself: the waves and chases of all lists and submasters, numbered as a roll numbers
// them.
#pragma once

#include <span>
#include <vector>

#include "compiler/track/tracker.hpp"
#include "runtime/roll.hpp"

namespace tallow::lower {

using show::Index;

// Waves stand before chases in a roll, and how many there will be is known at the end alone: until number()
// chases are counted from first_chase on.
class Sources {
  public:
    Sources(const show::Show& show, track::Colours& colours, runtime::Roll& roll)
        : show_(show), colours_(colours), roll_(roll) {}

    // Takes in the instances that a tracker made since the last call for it; a new tracker begins with
    // begin().
    void begin() { of_.clear(); }
    void add(const std::vector<track::WaveInstance>& instances);
    // The number of an instance that was taken in; none for none.
    std::uint32_t of(Index instance) const { return instance == show::none ? runtime::none : of_[instance]; }

    // Gives chases their numbers behind the waves, wherever the roll speaks of them.
    void number();

  private:
    static constexpr std::uint32_t first_chase = 0x80000000u;
    std::uint32_t wave(const track::WaveInstance& instance);
    std::uint32_t chase(const track::WaveInstance& instance);
    std::uint32_t waveform(const show::WaveShape& shape);

    const show::Show& show_;
    track::Colours& colours_;
    runtime::Roll& roll_;
    std::vector<std::uint32_t> of_;  // by the present tracker's instance
};

}  // namespace tallow::lower
