// Two ways to be constant. A parameter that nothing takes from home is. So is one that stands under
// intensities, if all that states it gives it one level, and nothing lights it before: the first statement
// finds it dark, so it is there at once. What could light it earlier, or take it home while it is lit, is
// looked for here.
#include "compiler/fit/constants.hpp"

#include <algorithm>
#include <span>

#include "compiler/fit/source_marks.hpp"

namespace tallow::fit {
namespace {

using runtime::Kind;
using runtime::none;
using runtime::Roll;

class Finder {
  public:
    Finder(const Roll& roll, std::vector<History>& histories)
        : roll_(roll),
          rig_(roll.parameters),
          histories_(histories),
          facts_(rig_.size()),
          below_(rig_.size()) {
        for (std::uint32_t p = 0; p < rig_.size(); ++p)
            for (std::uint32_t above = rig_.under[p]; above != none; above = rig_.under[above])
                below_[above].push_back(p);
    }

    void run() {
        for (std::uint32_t p = 0; p < rig_.size(); ++p)
            if (rig_.kind[p] == Kind::intensity && rig_.under[p] == none && rig_.home[p] != 0) light(p);
        for (const runtime::CueList& list : roll_.lists) take_list(list);
        for (const runtime::Submaster& submaster : roll_.submasters) take_submaster(submaster);
        for (const runtime::Run& keep : roll_.keeps) take_floor(keep);
        for (const runtime::Run& look : roll_.panic) take_panic(look);
        find_never_moved();
        find_single();
    }

  private:
    struct Facts {
        bool said = false;
        bool one = true;         // all statements give the same level, and nothing moves it
        Level level = 0;         // of the first
        bool lit_early = false;  // light may show it where it is not at that level
        bool stands = false;     // while a list is gone through: the list states it
    };

    // The level that a statement stands for at all times; none where it moves.
    std::optional<Level> level_of(const runtime::Run& run, std::uint32_t i) const {
        const std::uint32_t source = run.wave.empty() ? none : run.wave[i];
        if (source == none) return run.level[i];
        if (source < roll_.waves.size()) return std::nullopt;
        const runtime::Chase& chase = roll_.chases[source - roll_.waves.size()];
        const std::size_t column = place_in(chase.parameter, run.parameter + i), n = chase.parameter.size();
        for (std::size_t at = column; at < chase.level.size(); at += n)
            if (chase.level[at] != chase.level[column]) return std::nullopt;
        // What stands beneath the chase shows while it comes in and goes out.
        return chase.level[column] == run.level[i] ? std::optional(run.level[i]) : std::nullopt;
    }

    void state(const runtime::Run& run, std::uint32_t i) {
        Facts& f = facts_[run.parameter + i];
        const auto level = level_of(run, i);
        f.one = f.one && level && (!f.said || f.level == *level);
        if (!f.said && level) f.level = *level;
        f.said = true;
        f.stands = true;
    }

    void take_list(const runtime::CueList& list) {
        for (Facts& f : facts_) f.stands = false;
        for (std::uint32_t cue = list.first; cue < list.first + list.count; ++cue) {
            for (const runtime::Set& set : roll_.cues[cue].sets) {
                for (const runtime::Run& run : set.runs)
                    for (std::uint32_t i = 0; i < run.level.size(); ++i) state(run, i);
                for (const runtime::Stretch& s : set.releases)
                    for (std::uint32_t i = 0; i < s.count; ++i) facts_[s.parameter + i].lit_early = true;
            }
            for (const runtime::Set& set : roll_.cues[cue].sets)
                for (const runtime::Run& run : set.runs)
                    for (std::uint32_t i = 0; i < run.level.size(); ++i)
                        if (run.level[i] != 0 || (!run.wave.empty() && run.wave[i] != none))
                            light(run.parameter + i);
        }
        // Timecode may start a cue out of turn, as a whole picture that lets go of all else.
        const auto cues = std::span(roll_.cues).subspan(list.first, list.count);
        if (std::any_of(cues.begin(), cues.end(),
                        [](const runtime::Cue& c) { return c.timecode != runtime::no_timecode; }))
            for (Facts& f : facts_) f.lit_early = true;
    }

    // An intensity gives light: what stands under it should have been stated.
    void light(std::uint32_t intensity) {
        for (const std::uint32_t p : below_[intensity])
            if (!facts_[p].stands) facts_[p].lit_early = true;
    }

    // Raised halfway it mixes with what is beneath.
    void take_submaster(const runtime::Submaster& submaster) {
        for (const runtime::Run& run : submaster.runs)
            for (std::uint32_t i = 0; i < run.level.size(); ++i) {
                state(run, i);
                facts_[run.parameter + i].lit_early = true;
                for (const std::uint32_t p : below_[run.parameter + i]) facts_[p].lit_early = true;
            }
    }

    void take_floor(const runtime::Run& keep) {
        for (std::uint32_t i = 0; i < keep.level.size(); ++i) {
            if (keep.level[i] == 0) continue;
            state(keep, i);
            for (const std::uint32_t p : below_[keep.parameter + i]) facts_[p].lit_early = true;
        }
    }

    // At any time it lights what stands under it, and takes what it states from whatever that was.
    void take_panic(const runtime::Run& look) {
        for (std::uint32_t i = 0; i < look.level.size(); ++i) {
            const std::uint32_t p = look.parameter + i;
            const bool intensity = rig_.kind[p] == Kind::intensity;
            if (intensity && look.level[i] == 0) continue;
            state(look, i);
            if (!intensity) continue;
            for (const std::uint32_t q : below_[p]) facts_[q].lit_early = true;
        }
    }

    // The grand master takes a top intensity to 0, so that one is never constant but at 0.
    void find_never_moved() {
        for (std::uint32_t p = 0; p < rig_.size(); ++p) {
            const Facts& f = facts_[p];
            const bool home = f.one && (!f.said || f.level == rig_.home[p]);
            const bool mastered = rig_.kind[p] == Kind::intensity && rig_.under[p] == none;
            if (home && (!mastered || rig_.home[p] == 0)) histories_[p].always = rig_.home[p];
        }
    }

    void find_single() {
        for (std::uint32_t p = 0; p < rig_.size(); ++p) {
            const Facts& f = facts_[p];
            if (rig_.kind[p] == Kind::intensity || rig_.under[p] == none) continue;
            if (f.said && f.one && !f.lit_early) histories_[p].always = f.level;
        }
    }

    const Roll& roll_;
    const runtime::Parameters& rig_;
    std::vector<History>& histories_;
    std::vector<Facts> facts_;
    std::vector<std::vector<std::uint32_t>> below_;  // by intensity: all that it scales
};

}  // namespace

void find_constants(const Roll& roll, std::vector<History>& histories) {
    Finder(roll, histories).run();
}

}  // namespace tallow::fit
