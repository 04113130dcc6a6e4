// What each cue really changes: values that are other than before, waves that begin or end.
#pragma once

#include <vector>

#include "compiler/cues/aspects.hpp"

namespace tallow::cues {

// Fixtures or cells that change to the same values in the same times.
struct ChangeGroup {
    std::vector<Element> elements;
    std::vector<Aspect> aspects;     // as they are after the cue; of a wave that ended `NAME ends`
    std::vector<std::string> times;  // where they are not the header's: `fade 4s`, `delay 300ms`
};

// Follows a tracker from cue to cue.
class Changes {
  public:
    explicit Changes(const Stage& stage);

    // Called after each Tracker::next(): how the picture differs from that at the call before, in the order
    // of the patch.
    std::vector<ChangeGroup> take();

  private:
    struct Was {
        runtime::Level level;
        Index wave;
    };
    ChangeGroup of(Element element) const;
    void add_ended(Element element, std::vector<Aspect>& to) const;
    std::vector<std::string> times_of(const track::Change& change) const;

    const Stage& stage_;
    std::vector<Was> was_;                         // by parameter
    std::vector<std::vector<std::string>> times_;  // by parameter, in this cue
};

}  // namespace tallow::cues
