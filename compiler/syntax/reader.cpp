#include "compiler/syntax/reader.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <utility>

#include "compiler/text/decimal.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/ascii.hpp"
#include "runtime/duration.hpp"
#include "runtime/limits.hpp"
#include "runtime/nearest.hpp"

namespace tallow::syntax {

using source::Diagnostic;
using source::Finding;
using source::Span;
using text::million;

namespace {

// `1e3`: the language has no such numbers, and takes what follows the digits for a unit.
bool has_exponent(std::string_view number) {
    const std::size_t e = number.find_first_of("eE");
    return e != std::string_view::npos && e > 0 && e + 1 < number.size() && number[e - 1] >= '0' &&
           number[e - 1] <= '9' &&
           std::string_view("+-0123456789").find(number[e + 1]) != std::string_view::npos;
}

bool part_of_number(char c) {
    return runtime::is_digit(c) || c == '-' || c == '.' || c == ',';
}

}  // namespace

Span Reader::since_to(std::size_t first, std::size_t last) const {
    if (atoms_.empty()) return {document_.file, 0, 0};
    const Atom& a = atoms_[std::min(first, atoms_.size() - 1)];
    const Atom& b = atoms_[std::max(first, std::max<std::size_t>(last, 1) - 1)];
    return source::join(span(a), span(b));
}

Span Reader::here() const {
    if (!at_end()) return span(atoms_[at_]);
    const std::uint32_t end = span(atoms_.back()).end;
    return {document_.file, end, end};
}

Span Reader::last() const {
    return span(atoms_[at_ > 0 ? at_ - 1 : 0]);
}

Span Reader::since(std::size_t place) const {
    return since_to(place, at_);
}

Diagnostic& Reader::fault(Finding finding, Span where, std::string message) {
    if (muted_) return unheard_.emplace(Diagnostic{finding, where, std::move(message)});
    muted_ = true;
    return sink_.report(finding, where, std::move(message));
}

Diagnostic& Reader::expected(std::string_view what, std::span<const Word> words) {
    if (at_end()) return fault(Finding::expected, here(), fmt::format("{} is missing here", what));
    Diagnostic& fault = this->fault(Finding::expected, here(),
                                    fmt::format("{} is expected here, not `{}`", what, text(atoms_[at_])));
    if (const Word word = in_small_letters(atoms_[at_]); word != Word::none)
        fault.with_hint(small_letters_hint(word));
    else
        fault.with_hint(near_hint(atoms_[at_], words));
    return fault;
}

Word Reader::in_small_letters(const Atom& atom) const {
    const bool other = atom.kind == AtomKind::word && atom.word() == Word::none && atom.length <= 16;
    return other ? grammar::word_of(text::small_letters(text(atom))) : Word::none;
}

std::string Reader::near_hint(const Atom& atom, std::span<const Word> words) const {
    if (atom.kind != AtomKind::word || atom.word() != Word::none) return {};
    runtime::Nearest nearest(text::small_letters(text(atom)));
    for (const Word word : words) nearest.offer(grammar::text(word));
    return nearest.question();
}

std::string small_letters_hint(Word word) {
    return fmt::format("the words of the language are written small: `{}`", grammar::text(word));
}

void Reader::once(bool& said, std::string_view word) {
    if (std::exchange(said, true))
        fault(Finding::repeated_word, last(), fmt::format("`{}` is said twice", word));
}

void Reader::expect_end() {
    if (at_end()) return;
    const Atom& left = atoms_[at_];
    if (left.kind == AtomKind::word && !next_is(Word::fade) && next_is(AtomKind::string, 1)) {
        fault(Finding::unexpected, span(left), fmt::format("`{}` does not belong here", text(left)));
    } else {
        fault(Finding::unexpected, since_to(at_, atoms_.size()), "the line should end here")
            .with_hint(
                "one thing a line: put what follows on a line of its own, or behind `# ` if it is a remark");
    }
    skip_rest();
}

std::optional<std::string> Reader::string() {
    if (!next_is(AtomKind::string)) return std::nullopt;
    std::string_view raw = text(take());
    std::size_t pos = 0;
    text::decode(raw, pos);  // the opening quote, straight or curly
    std::string out;
    while (pos < raw.size()) {
        const std::size_t start = pos;
        char32_t c = text::decode(raw, pos);
        const bool escaped = c == '\\' && pos < raw.size();
        if (pos >= raw.size() &&
            !escaped) {  // the closing quote, or the last sign of a text that does not close
            const bool closes = c == '"' || (c >= 0x201c && c <= 0x201f) || c == 0x00ab || c == 0x00bb;
            if (!closes) out.append(raw.substr(start, pos - start));
            break;
        }
        if (!escaped) {
            out.append(raw.substr(start, pos - start));
            continue;
        }
        const std::size_t sign = pos;
        c = text::decode(raw, pos);
        if (c != '"' && c != '\\') {
            fault(Finding::unexpected_sign,
                  {document_.file, last().begin + static_cast<std::uint32_t>(start),
                   last().begin + static_cast<std::uint32_t>(pos)},
                  fmt::format("`{}` is no sign of a text", raw.substr(start, pos - start)))
                .with_hint("a text knows `\\\"` for a quote and `\\\\` for a backslash");
        }
        out.append(raw.substr(sign, pos - sign));
    }
    return out;
}

std::string Reader::name_text(const Atom& atom) const {
    return text::canonical_name(text(atom));
}

std::optional<std::string> Reader::name(std::string_view what) {
    if (next_is(AtomKind::word)) return name_text(take());
    if (next_is(AtomKind::string) && !muted_) {
        const std::string_view raw = text(*peek());
        expected(what).with_hint(fmt::format("a name stands without quotes: `{}`",
                                             raw.substr(1, raw.size() > 2 ? raw.size() - 2 : 0)));
    } else {
        expected(what);
    }
    return std::nullopt;
}

std::optional<Quantity> Reader::quantity() {
    if (!next_is(AtomKind::number)) return std::nullopt;
    const Atom& atom = take();
    std::string plain = text::canonical_name(text(atom));
    plain.erase(std::find_if_not(plain.begin(), plain.end(), part_of_number), plain.end());
    std::replace(plain.begin(), plain.end(), ',', '.');
    const auto value = text::millionths(plain);
    if (!value) {
        fault(Finding::bad_number, span(atom),
              fmt::format("`{}` is not a number of the language", text(atom)))
            .with_hint("numbers go to 1000000000 and have at most six places behind the point");
        return std::nullopt;
    }
    return Quantity{*value, atom.unit(), span(atom)};
}

std::optional<std::uint32_t> Reader::count(std::string_view what, std::uint32_t min, std::uint32_t max) {
    if (!next_is(AtomKind::number)) {
        expected(what);
        return std::nullopt;
    }
    const auto q = quantity();
    if (!q) return std::nullopt;
    if (q->unit != Unit::none) {
        fault(Finding::wrong_unit, q->span, fmt::format("{} is a bare number, without a unit", what));
        return std::nullopt;
    }
    if (q->value % million != 0 || q->value < min * million || q->value > max * million) {
        fault(Finding::out_of_range, q->span,
              fmt::format("{} is a whole number from {} to {}", what, min, max));
        return std::nullopt;
    }
    return static_cast<std::uint32_t>(q->value / million);
}

std::optional<std::uint64_t> Reader::minutes_and_seconds(const Atom& atom) {
    const std::string_view all = text(atom);
    const std::size_t split = all.find("min");
    std::string_view minutes = all.substr(0, all.find_first_not_of("0123456789"));
    const auto m = text::millionths(minutes);
    const auto s = text::millionths(all.substr(split + 3, all.size() - split - 4));
    if (!m || !s || *s >= 60 * million) {
        fault(Finding::bad_number, span(atom), fmt::format("`{}` is no time", all))
            .with_hint("the seconds behind minutes go from 0 to 59: `1min30s`");
        return std::nullopt;
    }
    const std::uint64_t ms =
        static_cast<std::uint64_t>(*m / million) * 60000 + static_cast<std::uint64_t>(*s / 1000);
    if (ms <= runtime::limits::time_ms) return ms;
    out_of_range(atom);
    return std::nullopt;
}

void Reader::out_of_range(const Atom& time) {
    fault(Finding::out_of_range, span(time),
          fmt::format("`{}` is out of range: a time goes from 0s to a week", text(time)));
}

std::optional<std::string> Reader::dashed_end() {
    if (next_is_bare()) {
        const std::string number = name_text(*peek());
        if (number[0] != '-') return std::nullopt;
        take();
        return number.substr(1);
    }
    const bool spelt = next_is(AtomKind::dash) || (next_is(AtomKind::word) && text(*peek()) == "to");
    if (!spelt || !next_is_bare(1)) return std::nullopt;
    take();
    return std::string(text(take()));
}

void Reader::wrong_time(const Atom& atom, const Quantity& q) {
    const std::string number = text::decimal(q.value);
    if (q.unit == Unit::none && next_is(AtomKind::comma) && next_is_bare(1)) {
        take();
        const std::string_view places = text(take());
        fault(Finding::decimal_comma, source::join(q.span, last()),
              "a comma stands where the decimal point does")
            .with_hint(fmt::format("write `{}.{}s`", number, places));
        return;
    }
    switch (q.unit) {
        case Unit::none:
            fault(Finding::missing_unit, q.span, fmt::format("the time `{}` has no unit", number))
                .with_hint(fmt::format("for seconds, write `{}s`; for minutes, `{}min`", number, number));
            break;
        case Unit::metre:
            fault(Finding::wrong_unit, q.span,
                  fmt::format("`{}` is a length, and a time is meant here", text(atom)))
                .with_hint(fmt::format("for minutes, write `{}min`", number));
            break;
        case Unit::unknown:
            fault(Finding::unknown_unit, q.span,
                  fmt::format("`{}` has a unit that the language does not know", text(atom)))
                .with_hint(
                    fmt::format("for seconds, write `{}s`; for milliseconds, `{}ms`; for minutes, `{}min`",
                                number, number, number));
            break;
        default:
            fault(Finding::wrong_unit, q.span, fmt::format("`{}` is not a time", text(atom)))
                .with_hint("a time is written like `3s`, `250ms` or `1min30s`");
    }
}

std::optional<std::uint64_t> Reader::time() {
    if (next_is(AtomKind::clock)) {
        const Atom& atom = take();
        const std::string_view all = text(atom);
        const std::size_t colon = all.find(':');
        fault(Finding::wrong_unit, span(atom),
              fmt::format("`{}` is a clock time, and a length of time is meant here", all))
            .with_hint(fmt::format("write it with units, minutes first: `{}min{}s`",
                                   text::decimal(text::millionths(all.substr(0, colon)).value_or(0)),
                                   all.substr(colon + 1, 2)));
        return std::nullopt;
    }
    if (!next_is(AtomKind::number)) {
        expected("a time such as `3s`");
        return std::nullopt;
    }
    const Atom& atom = *peek();
    if (atom.unit() == Unit::minute_second) {
        take();
        return minutes_and_seconds(atom);
    }
    const auto q = quantity();
    if (!q) return std::nullopt;
    const std::int64_t scale = q->unit == Unit::second        ? 1000
                               : q->unit == Unit::millisecond ? 1
                               : q->unit == Unit::minute      ? 60000
                                                              : 0;
    if (scale == 0) {
        wrong_time(atom, *q);
        return std::nullopt;
    }
    const std::int64_t limit = static_cast<std::int64_t>(runtime::limits::time_ms);
    if (q->value < 0 || q->value > limit / scale * million) {
        out_of_range(atom);
        return std::nullopt;
    }
    if (q->value * scale % million != 0) {
        fault(Finding::bad_number, q->span, fmt::format("`{}` is finer than a millisecond", text(atom)))
            .with_hint(fmt::format("write `{}`", runtime::format_duration(static_cast<std::uint64_t>(
                                                     text::rounded(q->value * scale, million)))));
        return std::nullopt;
    }
    return static_cast<std::uint64_t>(q->value * scale / million);
}

std::optional<std::int64_t> Reader::measure(Unit unit, std::string_view what, std::string_view example,
                                            std::int64_t min, std::int64_t max) {
    return fine_measure(unit, what, example, min * million, max * million);
}

std::optional<std::int64_t> Reader::fine_measure(Unit unit, std::string_view what, std::string_view example,
                                                 std::int64_t min, std::int64_t max) {
    if (!next_is(AtomKind::number)) {
        expected(fmt::format("{} such as `{}`", what, example));
        return std::nullopt;
    }
    const Atom& atom = *peek();
    const auto q = quantity();
    if (!q) return std::nullopt;
    if (q->unit != unit) {
        const Finding finding = q->unit == Unit::none      ? Finding::missing_unit
                                : q->unit == Unit::unknown ? Finding::unknown_unit
                                                           : Finding::wrong_unit;
        fault(finding, q->span,
              q->unit == Unit::none ? fmt::format("`{}` has no unit, and {} is meant here", text(atom), what)
                                    : fmt::format("`{}` is not {}", text(atom), what))
            .with_hint(has_exponent(text(atom))
                           ? fmt::format("write the number without an exponent, such as `{}`", example)
                           : fmt::format("write `{}{}`", text::decimal(q->value), grammar::text(unit)));
        return std::nullopt;
    }
    if (q->value < min || q->value > max) {
        const std::string_view sign = grammar::text(unit);
        fault(Finding::out_of_range, q->span,
              fmt::format("`{}` is out of range: {} goes from {}{} to {}{}", text(atom), what,
                          text::decimal(min), sign, text::decimal(max), sign));
        return std::nullopt;
    }
    return q->value;
}

bool Reader::next_is_level() const {
    return next_is(Word::full) || next_is(Word::out) || next_is(Word::dmx) || next_is(Word::dmx16) ||
           (next_is(AtomKind::number) && peek()->unit() == Unit::percent);
}

std::optional<runtime::Level> Reader::level() {
    if (take(Word::full)) return runtime::full;
    if (take(Word::out)) return runtime::Level{0};
    if (take(Word::dmx)) {
        const auto raw = count("a slot value", 0, 255);
        return raw ? std::optional(runtime::widen(static_cast<std::uint8_t>(*raw))) : std::nullopt;
    }
    if (take(Word::dmx16)) {
        const auto raw = count("a 16-bit value", 0, 65535);
        return raw ? std::optional(static_cast<runtime::Level>(*raw)) : std::nullopt;
    }
    if (next_is(AtomKind::word)) {
        constexpr std::array words{Word::full, Word::out, Word::dmx, Word::dmx16};
        expected("a level such as `60%`", words);
        return std::nullopt;
    }
    const auto percent = measure(Unit::percent, "a level", "60%", 0, 100);
    return percent ? std::optional(level_of_percent(*percent)) : std::nullopt;
}

std::string percent_text(runtime::Level level) {
    return text::decimal(text::rounded(std::int64_t{level} * 1000, 65535) * 100'000) + "%";
}

}  // namespace tallow::syntax
