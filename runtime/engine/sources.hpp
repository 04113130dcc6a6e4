// What moves a parameter by itself: the waves and the chases of a roll, under one numbering (Run::wave).
#pragma once

#include "runtime/engine/running_chases.hpp"
#include "runtime/engine/running_waves.hpp"

namespace tallow::runtime {

// Rows of waves come first, then those of chases.
class Sources {
  public:
    explicit Sources(const Roll& roll)
        : waves(roll), chases(roll), first_chase_(static_cast<std::uint32_t>(roll.waves.size())) {}

    // The row of a parameter in a source that moves it; none for no source.
    std::uint32_t row(std::uint32_t source, std::uint32_t parameter) const {
        if (source == none) return none;
        if (source < first_chase_) return waves.row(source, parameter);
        return waves.rows() + chases.row(source - first_chase_, parameter);
    }
    bool is_chase(std::uint32_t row) const { return row != none && row >= waves.rows(); }
    std::uint32_t chase_row(std::uint32_t row) const { return row - waves.rows(); }

    void start(std::uint32_t source, Tick g) {
        if (source < first_chase_)
            waves.start(source, g);
        else
            chases.start(source - first_chase_, g);
    }
    bool has_run(std::uint32_t source) const {
        return source < first_chase_ ? waves.has_run(source) : chases.has_run(source - first_chase_);
    }

    // Whether anything is moved by it, as last planned.
    bool runs(std::uint32_t source) const {
        return source < first_chase_ ? waves.wanted(source) : chases.wanted(source - first_chase_);
    }
    SourceTime time(std::uint32_t source) const {
        return source < first_chase_ ? waves.time(source)
                                     : SourceTime{chases.began(source - first_chase_), 0};
    }
    void set_time(std::uint32_t source, const SourceTime& time) {
        if (source < first_chase_)
            waves.set_time(source, time);
        else
            chases.set_began(source - first_chase_, time.began);
    }

    void want_none() {
        waves.want_none();
        chases.want_none();
    }
    void evaluate(Tick t) {
        waves.evaluate(t);
        chases.evaluate(t);
    }

    RunningWaves waves;
    RunningChases chases;

  private:
    std::uint32_t first_chase_;
};

}  // namespace tallow::runtime
