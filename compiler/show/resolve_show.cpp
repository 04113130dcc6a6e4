// `show`.
#include <fmt/format.h>

#include "compiler/show/response.hpp"
#include "compiler/show/scope.hpp"
#include "compiler/show/steps.hpp"
#include "runtime/limits.hpp"
#include "runtime/timecode.hpp"

namespace tallow::show {
namespace {

constexpr std::uint32_t edition = 1;  // of the language

void read_edition(Reader& reader) {
    const Span where = reader.last();
    const auto wanted = reader.count("the edition of the language", 1, 1000);
    if (wanted && *wanted > edition)
        reader
            .fault(
                Finding::later_edition, source::join(where, reader.last()),
                fmt::format(
                    "this show is written for edition {} of the language, and this program knows edition {}",
                    *wanted, edition))
            .with_hint("take a newer version of the program");
}

// `timecode 25 frames`, `timecode 30 frames drop`.
void read_timecode_rate(Scope& scope, Reader& reader) {
    using Rate = runtime::TimecodeRate;
    const auto labels = reader.count("the frames of timecode in a second", 1, 1000);
    if (!labels) return;
    const Span where = reader.last();
    if (!reader.take(Word::frames)) {
        reader.expected("`frames`");
        return;
    }
    const bool drop = reader.take(Word::drop);
    for (const Rate rate : {Rate::f24, Rate::f25, Rate::f30})
        if (runtime::labels_per_second(rate) == *labels && (!drop || rate == Rate::f30)) {
            scope.show.timecode_rate = drop ? Rate::drop : rate;
            return;
        }
    reader
        .fault(
            Finding::out_of_range, where,
            fmt::format("no timecode counts so: {} frames{}", *labels, drop ? " with drop-frame labels" : ""))
        .with_hint("write `timecode 24 frames`, `25 frames`, `30 frames` or `30 frames drop`");
}

void read_line(Scope& scope, Reader& reader) {
    if (reader.take(Word::by)) {
        scope.show.by = read_text(reader, "a name between quotes");
    } else if (reader.take(Word::refresh)) {
        const auto rate = reader.measure(Unit::hertz, "a refresh rate", "40Hz", runtime::limits::refresh_min,
                                         runtime::limits::refresh_max);
        if (rate && *rate % 1'000'000 != 0)
            reader.fault(Finding::out_of_range, reader.last(), "a refresh rate is a whole number of hertz");
        else if (rate)
            scope.show.refresh = static_cast<std::uint32_t>(*rate / 1'000'000);
    } else if (reader.take(Word::defaults)) {
        if (!reader.take(Word::fade)) reader.expected("`fade` and a time");
        if (const auto fade = reader.time()) scope.show.default_fade = *fade;
    } else if (reader.take(Word::timecode)) {
        read_timecode_rate(scope, reader);
    } else if (reader.take(Word::response)) {
        const auto law = take_law(reader);
        if (!law) reader.expected("`linear`, `square` or `lightness`");
        scope.show.law = law.value_or(Law::square);
    } else {
        reader.expected("`by`, `refresh`, `defaults`, `timecode` or `response`");
    }
    reader.expect_end();
}

}  // namespace

void resolve_show(Scope& scope) {
    for (const syntax::Document& document : scope.documents)
        scope.dropped.insert(document.dropped_names.begin(), document.dropped_names.end());

    const std::vector<Place> shows = scope.declarations(Word::show);
    for (const Place& place : shows) {
        Reader reader = scope.header(place);
        if (&place != &shows.front()) {
            Reader first = scope.reader(*shows.front().document, shows.front().header());
            reader.fault(Finding::name_taken, reader.last(), "a show has one `show` line")
                .see(first.here(), "it is here already");
            continue;
        }
        scope.show.title = read_text(reader, "the show's title between quotes");
        if (reader.take(Word::tallow)) read_edition(reader);
        reader.expect_end();
        scope.each_line(place, [&](Reader& line) { read_line(scope, line); });
    }
}

}  // namespace tallow::show
