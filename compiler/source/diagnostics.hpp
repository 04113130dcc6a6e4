// Findings about what a user wrote: collected, never thrown.
#pragma once

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "compiler/source/sources.hpp"
#include "compiler/text/wrap.hpp"

namespace tallow::source {

enum class Severity : std::uint8_t { error, warning };

// The registry: X(identifier, "id as printed", severity). Each has a case in tests/suite/.
#define TALLOW_FINDINGS(X)                               \
    /* text and layout */                                \
    X(invalid_utf8, "invalid-utf8", error)               \
    X(unexpected_sign, "unexpected-sign", error)         \
    X(joined_hash, "joined-hash", error)                 \
    X(open_string, "open-string", error)                 \
    X(too_long, "too-long", error)                       \
    X(too_many, "too-many", error)                       \
    X(decimal_comma, "decimal-comma", error)             \
    X(bad_number, "bad-number", error)                   \
    X(unknown_declaration, "unknown-declaration", error) \
    X(line_outside, "line-outside", error)               \
    X(at_margin, "at-margin", error)                     \
    X(commented_header, "commented-header", error)       \
    X(expected, "expected", error)                       \
    X(unexpected, "unexpected", error)                   \
    X(label_quotes, "label-quotes", error)               \
    X(repeated_word, "repeated-word", error)             \
    /* values */                                         \
    X(missing_unit, "missing-unit", error)               \
    X(wrong_unit, "wrong-unit", error)                   \
    X(unknown_unit, "unknown-unit", error)               \
    X(out_of_range, "out-of-range", error)               \
    X(range_dots, "range-dots", error)                   \
    X(bad_colour, "bad-colour", error)                   \
    /* names */                                          \
    X(bad_name, "bad-name", error)                       \
    X(reserved_name, "reserved-name", error)             \
    X(name_taken, "name-taken", error)                   \
    X(unknown_name, "unknown-name", error)               \
    X(ambiguous_name, "ambiguous-name", error)           \
    X(cycle, "cycle", error)                             \
    /* show and files */                                 \
    X(no_file, "no-file", error)                         \
    X(used_twice, "used-twice", error)                   \
    X(later_edition, "later-edition", error)             \
    /* types and patch */                                \
    X(no_mode, "no-mode", error)                         \
    X(slot_twice, "slot-twice", error)                   \
    X(fine_alone, "fine-alone", error)                   \
    X(bad_range, "bad-range", error)                     \
    X(overlap, "overlap", error)                         \
    X(past_end, "past-end", error)                       \
    X(number_gap, "number-gap", error)                   \
    X(no_such_fixture, "no-such-fixture", error)         \
    X(no_such_cell, "no-such-cell", error)               \
    X(bad_places, "bad-places", error)                   \
    X(no_position, "no-position", error)                 \
    /* lines and cues */                                 \
    X(no_setting, "no-setting", error)                   \
    X(empty_selection, "empty-selection", error)         \
    X(cannot_take, "cannot-take", error)                 \
    X(cue_twice, "cue-twice", error)                     \
    X(cue_number, "cue-number", error)                   \
    X(empty_wave, "empty-wave", error)                   \
    X(timing_clash, "timing-clash", error)               \
    X(bad_timecode, "bad-timecode", error)               \
    X(bad_step, "bad-step", error)                       \
    X(desk_universe, "desk-universe", error)             \
    X(placed_twice, "placed-twice", error)               \
    /* what a cue list does */                           \
    X(out_of_gamut, "out-of-gamut", warning)             \
    X(no_colour_yet, "no-colour-yet", warning)           \
    X(visible_steps, "visible-steps", warning)           \
    X(wave_over_nothing, "wave-over-nothing", warning)   \
    X(no_light, "no-light", warning)

enum class Finding : std::uint16_t {
#define TALLOW_FINDING(identifier, id, severity) identifier,
    TALLOW_FINDINGS(TALLOW_FINDING)
#undef TALLOW_FINDING
};

struct FindingInfo {
    std::string_view id;
    Severity severity;
};

inline constexpr auto findings = std::to_array<FindingInfo>({
#define TALLOW_FINDING(identifier, id, severity) {id, Severity::severity},
    TALLOW_FINDINGS(TALLOW_FINDING)
#undef TALLOW_FINDING
});

constexpr const FindingInfo& info(Finding f) {
    return findings[static_cast<std::size_t>(f)];
}

// Another place that the finding is about.
struct Related {
    Span where;
    std::string text;
};

struct Diagnostic {
    Finding finding;
    Span where;
    std::string message;
    std::string hint{};  // what to do; corrected words in backticks
    std::vector<Related> related{};

    Diagnostic& with_hint(std::string text) {
        hint = std::move(text);
        return *this;
    }
    Diagnostic& see(Span place, std::string text) {
        related.push_back({place, std::move(text)});
        return *this;
    }
};

class Sink {
  public:
    // The reference is good until the next report.
    Diagnostic& report(Finding finding, Span where, std::string message);
    // No further error is kept: nobody reads on, and bad input is not to fill the memory. The first one too
    // many becomes a closing error. Of the warnings as many are kept, and all are counted.
    bool full() const { return errors_ > at_most; }
    // In the order of files and places.
    std::vector<Diagnostic> sorted() const;
    std::size_t count(Severity severity) const {
        return severity == Severity::warning ? warnings_ : std::min(errors_, at_most + 1);
    }
    bool has(Finding finding) const;
    // Forgets all other findings: what they are about cannot be judged.
    void keep_only(Finding finding);
    bool failed() const { return count(Severity::error) > 0; }

  private:
    static constexpr std::size_t at_most = 1000;
    std::size_t errors_ = 0, warnings_ = 0;  // reported
    std::vector<Diagnostic> all_;
    Diagnostic unkept_{};
};

// `path:line:column: error: message [id]`, the line with the span marked, the related places, the hint; words
// are broken into lines of `width` columns, at least 40.
std::string render(const Diagnostic& diagnostic, const Sources& sources, std::size_t width = text::unwrapped);

// `path:line:column: error: message [id]; hint`, for where there is room for a line of each, and the text is
// at hand: no line end.
std::string render_line(const Diagnostic& diagnostic, const Sources& sources);

// A JSON array of all findings, a final line end; keys in fixed order.
std::string render_json(const std::vector<Diagnostic>& diagnostics, const Sources& sources);

}  // namespace tallow::source
