// Which parameters a setting for a selection goes to: flat lists, so that a line is played in one loop.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::track {

using show::Index;
using show::Show;

struct EmitterTarget {
    Index parameter;
    Index emitter;  // into Type::emitters
};

// Emitters of neighbouring elements that are the same part of the same mode.
struct EmitterRun {
    Index type;
    std::span<const EmitterTarget> emitters;
};

// Each list is made when it is first asked for. What is returned is good as long as the book.
class Targets {
  public:
    explicit Targets(const Show& show) : show_(show), of_(show.selections.size()) {}

    const std::vector<Index>& intensities(Index selection);
    const std::vector<EmitterRun>& emitters(Index selection);

  private:
    struct Lists {
        std::optional<std::vector<Index>> intensities;
        std::optional<std::vector<EmitterRun>> runs;
        std::vector<EmitterTarget> emitters;  // of all runs
    };
    void find_intensities(const show::Selection& selection, Lists& lists) const;
    void find_emitters(const show::Selection& selection, Lists& lists) const;

    const Show& show_;
    std::vector<Lists> of_;  // by selection
};

}  // namespace tallow::track
