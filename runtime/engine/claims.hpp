// Which list has its way where several state one parameter: of an intensity the highest, of everything else
// the list whose GO stated it latest.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/engine/stage.hpp"

namespace tallow::runtime {

class Claims {
  public:
    Claims(const Roll& roll, const Rows& rows, Stage& stage);

    // What is said from here on is said later than all before.
    void next_go() { ++go_; }
    // A list sends a parameter to a level with a wave or chase (or none) on its passage.
    void state(std::uint32_t list, std::uint32_t p, Level level, std::uint32_t source, Passage& passage,
               bool at_once);
    // A list no longer stands for a parameter. An intensity goes out, if another list stands for it; another
    // parameter goes to what the list that stated it latest among the others has there; else both go home.
    void release(std::uint32_t list, std::uint32_t p, Passage& passage, bool at_once);

    bool any() const { return !held_.empty(); }
    // Which of several lists was the latest, told and taken over: by claim, the number of the GO that stated
    // it. set_orders() puts what another list owns then where that has it, at tick g.
    void orders(std::vector<std::uint64_t>& out) const;
    void set_orders(const std::vector<std::uint64_t>& orders, Tick g);
    // Puts the highest of what counts into the levels (by parameter) of shared intensities.
    void merge(Level* levels) const;
    // The same for whether they are dark.
    void merge_dark(std::uint8_t* dark) const;

  private:
    // What a list has in a shared parameter; beside Rows::claims.
    struct Held {
        bool stands = false;
        Level level = 0;
        std::uint32_t source = none;
        std::uint64_t go = 0;  // that stated it
    };
    std::uint32_t claim_of(std::uint32_t list, std::uint32_t p) const;
    bool counts(std::uint32_t claim) const {
        return held_[claim].stands || stage_.in_fade(rows_.claims[claim].row);
    }
    void enter(std::uint32_t claim, Passage& passage);
    std::uint32_t latest(std::uint32_t p) const;
    template <class Each>
    void each_shared_intensity(Each each) const;

    const Parameters& rig_;
    const Rows& rows_;
    Stage& stage_;
    std::vector<Held> held_;
    std::uint64_t go_ = 0;
};

}  // namespace tallow::runtime
