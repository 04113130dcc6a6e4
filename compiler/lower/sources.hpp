// What moves values by itself: the waves and chases of all lists and submasters, numbered as a roll numbers
// them.
#pragma once

#include <map>
#include <vector>

#include "compiler/track/tracker.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::lower {

using show::Index;

// Waves stand before chases in a roll, and how many there will be is known at the end alone: until number()
// chases are counted from first_chase on.
class Sources {
  public:
    Sources(const show::Show& show, track::Book& book, runtime::Roll& roll)
        : show_(show), book_(book), roll_(roll) {}

    // Takes in the instances that a tracker made since the last call for it; a new tracker begins with
    // begin().
    void begin() { of_.clear(); }
    void add(const std::vector<track::WaveInstance>& instances);
    // The number of what an instance that was taken in does to a parameter; none for none.
    std::uint32_t of(Index instance, Index parameter) const;
    // All numbers of an instance: a wave that turns the hue is one wave for each emitter of a type.
    const std::vector<std::uint32_t>& all_of(Index instance) const { return of_[instance].numbers; }

    // Gives chases their numbers behind the waves, wherever the roll speaks of them.
    void number();

  private:
    static constexpr std::uint32_t first_chase = 0x80000000u;
    struct Parts {
        std::vector<std::uint32_t> numbers;
        std::map<Index, std::uint32_t> by_parameter;  // where there are several
    };
    Parts wave(const track::WaveInstance& instance);
    Parts chase(const track::WaveInstance& instance);
    std::uint32_t waveform(runtime::Waveform wanted);
    std::vector<std::uint32_t> waveforms(const track::WaveInstance& instance);

    const show::Show& show_;
    track::Book& book_;
    runtime::Roll& roll_;
    std::map<runtime::Waveform, std::uint32_t> waveforms_;  // where each stands in the roll
    std::vector<Parts> of_;                                 // by the present tracker's instance
};

}  // namespace tallow::lower
