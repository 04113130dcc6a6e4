// Reads the lines of looks and cues: a selection and its settings, a look or a part of one, a chase.
#pragma once

#include <optional>

#include "compiler/show/selection.hpp"

namespace tallow::show {

class StatementReader {
  public:
    StatementReader(Scope& scope, Selector& selector) : scope_(scope), selector_(selector) {}

    // None after a fault.
    std::optional<Item> read(Reader& reader);
    Selector& selector() { return selector_; }

  private:
    Item keep();
    std::optional<Item> read_look(Reader& reader, Index within);
    static Scale read_scale(Reader& reader);
    std::optional<Item> read_chase(Reader& reader);
    bool read_own_time(Reader& reader);
    void read_wave(Reader& reader);
    void report_misplaced(Reader& reader, const std::string& selection);

    Scope& scope_;
    Selector& selector_;
    Statement now_;
};

// What one of the lines that an item comes to cannot stand here for, as `foreign` says of each; or "".
std::string_view foreign_in(const Show& show, const Item& item,
                            std::string_view (*foreign)(const Show& show, const Statement& line));

// What of a line does not stand still, or "": a time, a wave, a chase.
std::string_view moving_in(const Show& show, const Statement& line);

// Once all looks are read: a part of a look that holds nothing is an error.
void check_look_parts(Scope& scope);

// Reads `period 4s`, `swing 50%`, `travel outward` and the like into a wave's shape.
class ShapeReader {
  public:
    explicit ShapeReader(WaveShape& shape) : shape_(shape) {}

    // False, and nothing taken, when the next atom is none of these words.
    bool read_word(Reader& reader);
    bool has_period() const { return said_[0]; }
    // At the end of the line: a wavelength in metres has an axis, and no other has.
    void settle(Reader& reader) const;

  private:
    void read_wavelength(Reader& reader);

    WaveShape& shape_;
    bool said_[8] = {};  // by word, in the order in which read_word knows them
};

}  // namespace tallow::show
