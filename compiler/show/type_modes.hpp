// The modes of a type, slot by slot.
#pragma once

#include "compiler/show/mode_layout.hpp"
#include "compiler/show/scope.hpp"

namespace tallow::show {

// A mode as it is listed.
struct Listing {
    Mode mode;
    std::vector<Slot> slots;
};

class ModeReader {
  public:
    explicit ModeReader(Scope& scope) : scope_(scope) {}

    // `mode rgb  red green blue`, behind its word. True when further lines may go on with it.
    bool read(Reader& reader);
    // A further line of the mode that was read last; true.
    bool go_on(Reader& reader) {
        read_slots(reader, modes_.back());
        return true;
    }
    std::vector<Listing>& modes() { return modes_; }

  private:
    void read_slots(Reader& reader, Listing& listing);
    void read_cells(Reader& reader, Listing& listing, std::uint32_t cells);
    static std::optional<std::uint32_t> read_repeat(Reader& reader);
    std::optional<Slot> read_slot(Reader& reader);

    Scope& scope_;
    std::vector<Listing> modes_;
};

}  // namespace tallow::show
