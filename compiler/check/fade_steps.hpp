// Fades so slow that the steps of an 8-bit slot would be seen one by one.
#pragma once

#include <map>
#include <vector>

#include "compiler/show/show.hpp"
#include "compiler/source/diagnostics.hpp"
#include "compiler/track/tracker.hpp"

namespace tallow::check {

// Follows lists, cue by cue. Fixtures are looked at whose patch or type says how their light follows the
// slot. Filaments smooth steps by their own heat (common practice, no source): what is preheated is passed
// over.
class FadeSteps {
  public:
    FadeSteps(const show::Show& show) : show_(show) {}

    void begin_list();
    // After each cue that the tracker has played, in turn.
    void look(const track::Tracker& tracker);
    // A warning for each response, at the cue with its coarsest step.
    void report(source::Sink& sink) const;

  private:
    using Index = show::Index;
    // A step of a slot that is large enough to be seen.
    struct Step {
        double from, to;   // levels, 0..1, between which the slot stands at the lower value
        double lightness;  // ΔL* to the next value
    };
    struct Seen {
        double seconds = 0, lightness = 0;
    };
    // Fixtures of one response.
    struct Kind {
        std::vector<Step> steps;
        Seen worst;
        Index cue = show::none, parameter = show::none;  // of the worst
        Index last = show::none;                         // cue with steps
        std::size_t cues = 0;
    };
    Kind* kind_of(Index parameter);
    static std::vector<Step> steps_of(show::Law law, const show::Response& response);
    static Seen coarsest(const std::vector<Step>& steps, double from, double to,
                         const runtime::Timing& timing);

    const show::Show& show_;
    std::vector<runtime::Level> before_;  // by parameter
    std::map<Index, Kind> kinds_;         // by response
};

}  // namespace tallow::check
