// The rules that a roll holds to, part by part, in the order in which the parts refer to each other.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// Each check relies on the parts before it having passed; a failure names the part and what is wrong with it.
class RollCheck {
  public:
    explicit RollCheck(const Roll& roll) : roll_(roll) {}

    Status head();
    Status universes();
    Status parameters();
    Status waveform(std::size_t index);
    Status wave(std::size_t index);
    Status chase(std::size_t index);
    Status list(std::size_t index);
    Status cue(std::size_t index);
    Status picture(std::size_t index);
    Status submaster(std::size_t index);
    Status keeps();
    Status panic();
    Status response(std::size_t index);
    Status whole();  // what can be known only once all parts are there

  private:
    // A part of the roll by its key and its place there, as messages name it.
    struct Part {
        std::string_view key;
        std::size_t index;
    };
    Status slots_of(std::uint32_t parameter);
    Status above(std::uint32_t parameter);
    Status rows(Part part, const std::vector<std::uint32_t>& parameters) const;
    Status texts_and_times(const Cue& cue, std::size_t index) const;
    Status starts(Part part, const std::vector<std::uint32_t>& sources) const;
    Status runs(Part part, const std::vector<Run>& runs);
    Status run(Part part, const Run& run);
    Status still_runs(std::string_view key, const std::vector<Run>& runs);
    Status stretches(Part part, const std::vector<Stretch>& stretches) const;
    Status say_once(Part part, std::uint32_t parameter);
    bool moves(std::uint32_t source, std::uint32_t parameter) const;
    std::size_t list_of(std::size_t cue);

    const Roll& roll_;
    std::vector<bool> taken_;           // slots, 512 for each universe
    std::vector<std::uint32_t> lands_;  // by virtual intensity: the universe of what it scales
    std::vector<std::uint32_t> said_;   // by parameter: the part (as counted by `part_`) that said it last
    std::uint32_t part_ = 0;
    std::uint64_t wave_rows_ = 0, chase_levels_ = 0;
    std::unordered_set<std::string> names_;  // of lists
    std::size_t list_ = 0;                   // the list of the cue that was checked last
    std::size_t pictures_ = 0;               // that lists of at least a picture's cues before it have
};

}  // namespace tallow::runtime
