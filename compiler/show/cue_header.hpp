// What stands behind a cue's number: its label, its times, and how the list goes on.
#pragma once

#include "compiler/show/scope.hpp"

namespace tallow::show {

// `on "…"`, `page 34`, `note "…"` of one cue, each once: in its header or on a line.
class RemarkReader {
  public:
    explicit RemarkReader(Cue& cue) : cue_(cue) {}
    // False, and nothing taken, when the next atom is none of them.
    bool read(Reader& reader);

  private:
    Cue& cue_;
    bool on_ = false, note_ = false, page_ = false;
};

void read_cue_header(const Scope& scope, Reader& reader, Cue& cue, RemarkReader& remarks);

}  // namespace tallow::show
