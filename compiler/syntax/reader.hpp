// Reads one line's atoms from left to right. The first fault of a line is reported; what it brings about
// later in the same line is not.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "compiler/source/diagnostics.hpp"
#include "compiler/syntax/document.hpp"
#include "runtime/engine/integers.hpp"

namespace tallow::syntax {

// A number as it was written: millionths of its unit.
struct Quantity {
    std::int64_t value;
    Unit unit;
    source::Span span;
};

class Reader {
  public:
    Reader(const Document& document, const Line& line, const source::Sources& sources, source::Sink& sink)
        : document_(document),
          sources_(sources),
          sink_(sink),
          atoms_(document.atoms_of(line)),
          muted_(line.broken) {}

    bool at_end() const { return at_ >= atoms_.size(); }
    // The atom `ahead` places on, or null behind the end.
    const Atom* peek(std::size_t ahead = 0) const {
        return at_ + ahead < atoms_.size() ? &atoms_[at_ + ahead] : nullptr;
    }
    bool next_is(AtomKind kind, std::size_t ahead = 0) const {
        return peek(ahead) != nullptr && peek(ahead)->kind == kind;
    }
    bool next_is(Word word, std::size_t ahead = 0) const {
        return peek(ahead) != nullptr && peek(ahead)->word() == word;
    }
    // A number without a unit.
    bool next_is_bare(std::size_t ahead = 0) const {
        return next_is(AtomKind::number, ahead) && peek(ahead)->unit() == Unit::none;
    }
    template <class What>
    bool take(What what) {
        if (!next_is(what)) return false;
        ++at_;
        return true;
    }
    const Atom& take() { return atoms_[at_++]; }
    void skip_rest() { at_ = atoms_.size(); }
    std::size_t place() const { return at_; }
    void go_to(std::size_t place) { at_ = place; }

    std::string_view text(const Atom& atom) const { return sources_.text(span(atom)); }
    source::Span span(const Atom& atom) const {
        return {document_.file, atom.offset, atom.offset + atom.length};
    }
    std::string_view text_since(std::size_t place) const { return sources_.text(since(place)); }
    source::Span here() const;                    // the next atom, or the place behind the last
    source::Span last() const;                    // the atom before
    source::Span since(std::size_t place) const;  // from the atom at `place` to the one before the next
    source::Span whole() const { return since_to(0, atoms_.size()); }

    // Reports, unless the line has a fault already; good until the next report.
    source::Diagnostic& fault(source::Finding finding, source::Span where, std::string message);
    bool muted() const { return muted_; }
    void mute() { muted_ = true; }
    // "a time such as `3s` is missing", or stands in place of what is there; `words` could stand there too.
    source::Diagnostic& expected(std::string_view what, std::span<const Word> words = {});
    // The word of the language that an atom would be in small letters: `FADE`. None for any other atom.
    Word in_small_letters(const Atom& atom) const;
    // "did you mean `fade`?", for a word that is none of the language and near one of these; or empty.
    std::string near_hint(const Atom& atom, std::span<const Word> words) const;
    // Reports a word, the one just taken, that was `said` before; then it is said.
    void once(bool& said, std::string_view word);
    // Reports what is left over on the line.
    void expect_end();

    std::optional<std::string> string();                     // a text, its quotes and escapes taken away
    std::optional<std::string> name(std::string_view what);  // any word, in the form in which names compare
    std::string name_text(const Atom& atom) const;
    std::optional<Quantity> quantity();  // the next atom if it is a number
    // A bare whole number in [min, max].
    std::optional<std::uint32_t> count(std::string_view what, std::uint32_t min, std::uint32_t max);
    // Takes what stands behind a number where `..` and its end should: `-4`, `- 4`, `to 4`; gives the 4.
    std::optional<std::string> dashed_end();
    std::optional<std::uint64_t> time();  // milliseconds
    // A number with this unit, in millionths of it and within [min, max] (whole units); `example` shows one.
    std::optional<std::int64_t> measure(Unit unit, std::string_view what, std::string_view example,
                                        std::int64_t min, std::int64_t max);
    // The same with `min` and `max` in millionths.
    std::optional<std::int64_t> fine_measure(Unit unit, std::string_view what, std::string_view example,
                                             std::int64_t min, std::int64_t max);
    bool next_is_level() const;
    std::optional<runtime::Level> level();  // 60%, full, out, dmx 128, dmx16 40000

  private:
    source::Span since_to(std::size_t first, std::size_t last) const;
    std::optional<std::uint64_t> minutes_and_seconds(const Atom& atom);
    void out_of_range(const Atom& time);
    void wrong_time(const Atom& atom, const Quantity& q);

    const Document& document_;
    const source::Sources& sources_;
    source::Sink& sink_;
    std::span<const Atom> atoms_;
    std::size_t at_ = 0;
    bool muted_;
    std::optional<source::Diagnostic> unheard_;
};

// "the words of the language are written small: `fade`"
std::string small_letters_hint(Word word);

// The level of so many millionths of a percent: floor(65535·v + 1/2).
constexpr runtime::Level level_of_percent(std::int64_t millionths) {
    return static_cast<runtime::Level>((millionths * 2 * 65535 + 100'000'000) / 200'000'000);
}

// The level in percent with at most one place: `60%`.
std::string percent_text(runtime::Level level);

}  // namespace tallow::syntax
