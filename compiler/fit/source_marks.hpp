// What a wave or a chase does to one parameter, as a mark (history.hpp).
#pragma once

#include "compiler/fit/history.hpp"

namespace tallow::fit {

class SourceMarks {
  public:
    // The roll must outlive this.
    explicit SourceMarks(const runtime::Roll& roll);

    // `source` as in Run::wave, not none; the parameter is one of its own.
    Mark on(std::uint32_t source, std::uint32_t parameter) const;

  private:
    void mark_starts();
    void mark_waves();
    void mark_chases();

    const runtime::Roll& roll_;
    std::vector<Mark> starts_;  // by source: which cues and submasters begin it
    std::vector<Mark> whole_;   // by source: what all its parameters have in common
};

// The row of a wave, or the column of a chase, that a parameter of it has.
std::size_t place_in(const std::vector<std::uint32_t>& parameters, std::uint32_t parameter);

}  // namespace tallow::fit
