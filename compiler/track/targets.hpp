// Which parameters a setting for a selection goes to. Fixtures of one type stand at even distances in the
// rig, so that a selection comes to a few runs, and a line is played in a few tight loops.
#pragma once

#include <span>
#include <vector>

#include "compiler/show/show.hpp"
#include "compiler/track/colours.hpp"

namespace tallow::track {

using show::Index;
using show::Show;

// first, first + step, first + 2·step …; a step backward wraps.
struct Steps {
    Index first;
    Index step = 0;
    Index count = 1;

    Index at(Index i) const { return first + i * step; }
    // Takes a further place in, if it is the next.
    bool extend(Index place) {
        if (count == 1) step = place - first;
        if (at(count) != place) return false;
        ++count;
        return true;
    }
};

// The same part, with emitters or a wheel, of fixtures in one mode that show colours alike.
struct EmitterRun {
    Alike alike;
    const show::Mode* mode;
    const show::Part* part;
    Steps fixtures;  // their first parameters
};

// Lists are made when they are first asked for, and stand in that order, which is that of the cues. What is
// returned is good until the next call.
class Targets {
  public:
    explicit Targets(const Show& show)
        : show_(show), intensities_of_(show.selections.size()), emitters_of_(show.selections.size()) {}

    std::span<const Steps> intensities(Index selection);
    std::span<const EmitterRun> emitters(Index selection);

  private:
    struct Stretch {  // of intensities_ or emitters_
        Index first = show::none, count = 0;
    };
    void add_intensities(const show::Selection& selection, Stretch& stretch);
    void add_emitters(const show::Selection& selection, Stretch& stretch);

    const Show& show_;
    std::vector<Stretch> intensities_of_, emitters_of_;  // by selection
    std::vector<Steps> intensities_;
    std::vector<EmitterRun> emitters_;
};

}  // namespace tallow::track
