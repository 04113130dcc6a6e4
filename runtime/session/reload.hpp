// Puts a show that was changed in the place of the one that plays.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "runtime/control/operator.hpp"
#include "runtime/session/played.hpp"
#include "runtime/session/session.hpp"
#include "runtime/survival/translation.hpp"

namespace tallow::runtime {

// On the operator's thread. It must outlive the clock's thread, as what that plays may be held here.
class Reload {
  public:
    // Shows take the place of one that sends these universes and follows this script.
    Reload(Revisions& revisions, std::span<const Universe> universes, ScriptText script)
        : revisions_(revisions),
          universes_(universes.begin(), universes.end()),
          script_text_(std::move(script)) {}

    // To be called in each round, with what the present source says, after all others that look at that. True
    // when another show has come: `played` has its roll then.
    bool poll(const Progress& progress, Played& played, Operator& op);

  private:
    void take(Revisions::Revision revision, const Roll& playing, Operator& op);
    void offer(const Progress& progress, const Roll& playing, Operator& op);
    bool settle(bool paused, Played& played, Operator& op);

    Revisions& revisions_;
    const std::vector<Universe> universes_;
    const ScriptText script_text_;
    std::optional<Revisions::Revision> next_;   // that is to come
    Script script_;                             // as it is for that
    std::unique_ptr<Translation> translation_;  // to it
    std::unique_ptr<Line> line_;                // of the present source, where it came from here
    std::unique_ptr<Exchange> exchange_;        // under way
    const Source* offered_ = nullptr;           // by it
    std::string moved_;                         // to which cues it goes, where those are others than before
    std::vector<std::string> lost_;             // light that the new show does not have, a line each
    std::string told_;                          // of universes
};

// What of a roll's universes is not sent, or not in it any more, where these are sent: a sentence, or "".
std::string differing_universes(std::span<const Universe> sent, const Roll& roll);

}  // namespace tallow::runtime
