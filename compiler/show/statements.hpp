// Reads the lines of looks and cues: a selection and its settings, or a whole look.
#pragma once

#include <optional>

#include "compiler/show/selection.hpp"

namespace tallow::show {

class StatementReader {
  public:
    StatementReader(Scope& scope, Selector& selector) : scope_(scope), selector_(selector) {}

    // None after a fault.
    std::optional<Item> read(Reader& reader);
    const Selector& selector() const { return selector_; }

  private:
    std::optional<Item> read_look(Reader& reader);
    std::optional<Item> read_chase(Reader& reader);
    void refuse_chase(Reader& reader, const std::string& selection);
    void read_setting(Reader& reader, const std::string& selection);
    void read_own_time(Reader& reader, std::string_view word, std::optional<std::uint64_t>& time);
    void read_word(Reader& reader, const std::string& selection);
    void read_colour_setting(Reader& reader);
    void note_colour(Reader& reader, Span span);
    void read_emitter(Reader& reader);
    void read_wave(Reader& reader);
    void report_no_setting(Reader& reader, const std::string& selection);
    void report_bare(Reader& reader, const std::string& selection);
    void check_positions(Reader& reader, const Selection& selection, const Setting& setting);
    void check_taken(Reader& reader, const Selection& selection, const Statement& statement);

    Scope& scope_;
    Selector& selector_;
    Statement now_;
    bool levelled_ = false, coloured_ = false;  // the line gave a level, a colour already
};

// Whether a setting can be taken by an element at all.
bool can_take(const Show& show, Element element, const Setting& setting);

// Reads `period 4s`, `swing 50%`, `travel outward` and the like into a wave's shape; false when the next atom
// is none.
bool read_shape_word(Reader& reader, WaveShape& shape);
// A wavelength in metres has an axis, and no other has.
void check_along(Reader& reader, const WaveShape& shape);

}  // namespace tallow::show
