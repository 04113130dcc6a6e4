// Puts a show that was changed in the place of the one that plays.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string_view>

#include "runtime/play/intercom.hpp"
#include "runtime/play/player.hpp"
#include "runtime/session/played.hpp"
#include "runtime/session/session.hpp"
#include "runtime/survival/translation.hpp"

namespace tallow::runtime {

// On the operator's thread.
class Reload {
  public:
    Reload(Revisions& revisions, Intercom& intercom, Clock& clock)
        : revisions_(revisions), intercom_(intercom), clock_(clock) {}

    void set_source(const Source& source) { source_ = &source; }
    // The one that plays.
    const Source& source() const { return *source_; }
    // To be called in each round. True when another show has come: `played` has its roll then.
    bool poll(const Progress& progress, Played& played, const PlayOptions& options,
              const std::function<void(std::string_view)>& say);

  private:
    void offer(const Progress& progress, const Played& played);
    bool settle(Played& played, const std::function<void(std::string_view)>& say);

    Revisions& revisions_;
    Intercom& intercom_;
    Clock& clock_;
    const Source* source_ = nullptr;
    std::optional<Revisions::Revision> next_;   // that is to come
    std::unique_ptr<Translation> translation_;  // to it
    std::unique_ptr<Exchange> exchange_;        // under way
    const Source* offered_ = nullptr;           // by it
};

}  // namespace tallow::runtime
