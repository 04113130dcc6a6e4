#include "compiler/show/cue_header.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <tuple>

#include "runtime/timecode.hpp"

namespace tallow::show {
namespace {

// What the header said so far.
struct Said {
    std::uint64_t fade_time = 0;
    bool fade = false, up = false, down = false, cut = false, colour = false, move = false, beam = false,
         delay = false, curve = false, next = false, timecode = false;
};

bool read_time_word(Reader& reader, Cue& cue, Said& said) {
    Times& t = cue.times;
    const auto time = [&](bool& flag, std::string_view word, std::uint64_t& into) {
        reader.once(flag, word);
        if (const auto value = reader.time()) into = *value;
    };
    if (reader.take(Word::fade))
        time(said.fade, "fade", said.fade_time);
    else if (reader.take(Word::up))
        time(said.up, "up", t.up);
    else if (reader.take(Word::down))
        time(said.down, "down", t.down);
    else if (reader.take(Word::colour) || reader.take(Word::color))
        time(said.colour, "colour", t.colour);
    else if (reader.take(Word::move))
        time(said.move, "move", t.move);
    else if (reader.take(Word::beam))
        time(said.beam, "beam", t.beam);
    else if (reader.take(Word::delay))
        time(said.delay, "delay", t.delay);
    else if (reader.take(Word::cut))
        reader.once(said.cut, "cut");
    else if (reader.take(Word::curve)) {
        reader.once(said.curve, "curve");
        if (reader.take(Word::linear))
            t.curve = runtime::Curve::linear;
        else if (reader.take(Word::ease))
            t.curve = runtime::Curve::ease;
        else if (reader.take(Word::visual))
            t.curve = runtime::Curve::visual;
        else
            reader.expected("`linear`, `ease` or `visual`");
    } else
        return false;
    if (said.cut && (said.fade || said.up || said.down))
        reader
            .fault(Finding::timing_clash, reader.last(),
                   "`cut` is a fade of 0s, and this cue has a fade time too")
            .with_hint("keep one of them");
    return true;
}

// `timecode 01:00:00:00`.
void read_timecode(const Scope& scope, Reader& reader, Cue& cue) {
    if (!reader.next_is(AtomKind::clock)) {
        reader.expected("a timecode such as `00:01:30:00`");
        return;
    }
    const syntax::Atom& atom = reader.take();
    const auto frame = runtime::parse_timecode(reader.text(atom), scope.show.timecode_rate);
    if (frame.ok())
        cue.timecode = *frame;
    else
        reader.fault(Finding::bad_timecode, reader.span(atom), frame.why())
            .with_hint(fmt::format(
                "this show counts {} frames a second{}; the show's line `timecode 30 frames drop` "
                "or the like says otherwise",
                runtime::labels_per_second(scope.show.timecode_rate),
                scope.show.timecode_rate == runtime::TimecodeRate::drop ? ", drop-frame" : ""));
}

bool read_next_word(const Scope& scope, Reader& reader, Cue& cue, RemarkReader& remarks, Said& said) {
    if (reader.take(Word::follow)) {
        reader.once(said.next, "follow or next-at");
        cue.next = runtime::Next::follow;
        if (reader.next_is(AtomKind::number) || reader.next_is(AtomKind::clock))
            cue.next_ms = reader.time().value_or(0);
    } else if (reader.take(Word::next_at)) {
        reader.once(said.next, "follow or next-at");
        cue.next = runtime::Next::next_at;
        cue.next_ms = reader.time().value_or(0);
    } else if (reader.take(Word::timecode)) {
        reader.once(said.timecode, "timecode");
        read_timecode(scope, reader, cue);
    } else if (reader.take(Word::cue_only)) {
        reader.once(cue.cue_only, "cue-only");
    } else if (reader.take(Word::block)) {
        reader.once(cue.block, "block");
    } else if (!remarks.read(reader)) {
        return false;
    }
    return true;
}

constexpr std::array cue_words{Word::fade,     Word::up,       Word::down,    Word::colour,
                               Word::move,     Word::beam,     Word::delay,   Word::cut,
                               Word::curve,    Word::follow,   Word::next_at, Word::block,
                               Word::cue_only, Word::timecode, Word::page,    Word::note};

void report_stray(Reader& reader, bool labelled) {
    if (!labelled && reader.next_is(AtomKind::word) && reader.peek()->word() == Word::none) {
        read_label(reader, cue_words);
    } else if (reader.next_is_bare() || reader.next_is_level()) {
        reader.fault(Finding::unexpected, reader.here(), "a number or a level alone says nothing here")
            .with_hint(reader.next_is_bare()
                           ? fmt::format("for the cue's time, write `fade {}s`", reader.text(*reader.peek()))
                           : "levels stand on the lines below, each behind its fixtures");
    } else {
        reader.expected("a time such as `fade 3s`, or `follow`, `block` and the like", cue_words);
    }
}

// `fade` sets every class; `up` alone sets `down` too, and the rest takes `up`.
void settle(Times& t, const Said& said) {
    const bool fade = said.fade || said.cut;
    const std::uint64_t all = said.cut ? 0 : said.fade ? said.fade_time : t.up;
    if (said.up && !said.down && !fade) t.down = t.up;
    if (said.down && !said.up && !fade) t.up = t.down;
    if (fade && !said.up) t.up = all;
    if (fade && !said.down) t.down = all;
    const std::uint64_t rest = fade ? all : t.up;
    if (!said.colour) t.colour = rest;
    if (!said.move) t.move = rest;
    if (!said.beam) t.beam = rest;
}

}  // namespace

bool RemarkReader::read(Reader& reader) {
    const std::tuple<Word, std::string*, bool*> remarks[] = {
        {Word::on, &cue_.on, &on_}, {Word::note, &cue_.note, &note_}, {Word::page, &cue_.page, &page_}};
    for (const auto& [word, into, said] : remarks) {
        if (!reader.take(word)) continue;
        reader.once(*said, grammar::text(word));
        const bool page = word == Word::page;
        *into = page && reader.next_is_bare()
                    ? std::string(reader.text(reader.take()))
                    : read_text(reader, page ? "a page, such as `page 34`," : "a text between quotes");
        return true;
    }
    return false;
}

void read_cue_header(const Scope& scope, Reader& reader, Cue& cue, RemarkReader& remarks) {
    Said said;
    const std::uint64_t fade = scope.show.default_fade;
    cue.times = {0, fade, fade, fade, fade, fade, runtime::Curve::linear};
    cue.label = read_label(reader, cue_words);
    while (!reader.at_end() && !reader.muted())
        if (!read_time_word(reader, cue, said) && !read_next_word(scope, reader, cue, remarks, said))
            report_stray(reader, !cue.label.empty());
    settle(cue.times, said);
}

}  // namespace tallow::show
