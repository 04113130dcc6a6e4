// `look` and `cue`.
#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <utility>

#include "compiler/show/steps.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

namespace limits = runtime::limits;

constexpr std::uint32_t largest_cue = 99'999;
constexpr std::uint64_t look_lines = 100'000;
constexpr std::uint64_t deepest_look = 200;

// ---- looks ----

class LookReader {
  public:
    LookReader(Scope& scope, StatementReader& statements)
        : scope_(scope), statements_(statements), places_(scope.declarations(Word::look)) {}

    void run() {
        for (const Place& place : places_) declare(place);
        for (const auto& [place, index, sound] : declared_) read_lines(*place, index, sound);
        state_.assign(scope_.show.looks.size(), 0);
        size_.assign(scope_.show.looks.size(), 0);
        depth_.assign(scope_.show.looks.size(), 0);
        for (Index i = 0; i < scope_.show.looks.size(); ++i) visit(i);
    }

  private:
    void declare(const Place& place) {
        Reader header = scope_.header(place);
        const auto name = scope_.new_name(header, "the name of the look");
        if (!name) return;
        Look look;
        look.name = *name;
        look.span = header.last();
        look.label = read_label(header);
        header.expect_end();
        if (!scope_.declare(
                scope_.looks, header,
                {Symbol::Kind::look, static_cast<Index>(scope_.show.looks.size()), look.span, *name}))
            return;
        declared_.push_back({&place, static_cast<Index>(scope_.show.looks.size()), !header.muted()});
        scope_.show.looks.push_back(std::move(look));
    }

    void read_lines(const Place& place, Index look, bool sound) {
        bool any = false;
        scope_.each_line(place, [&](Reader& line) {
            any = true;
            if (const auto item = statements_.read(line)) scope_.show.looks[look].items.push_back(*item);
        });
        const Look& l = scope_.show.looks[look];
        if (any || !sound) return;
        scope_.sink.report(Finding::no_setting, l.span, fmt::format("the look `{}` says nothing", l.name))
            .with_hint(
                "its lines stand below it, behind blanks; to use a look in a cue, put blanks before `look`");
    }

    // Walks from look to look without recursion; a look met again on its own way is a cycle, whose line is
    // taken out.
    void visit(Index root) {
        std::vector<std::pair<Index, std::size_t>> way{{root, 0}};
        while (!way.empty()) {
            auto& [look, at] = way.back();
            auto& items = scope_.show.looks[look].items;
            state_[look] = 1;
            if (at >= items.size()) {
                state_[look] = 2;
                measure(look);
                way.pop_back();
                continue;
            }
            const Item item = items[at++];
            if (item.look == none || state_[item.look] == 2) continue;
            if (state_[item.look] == 0) {
                way.emplace_back(item.look, 0);
                continue;
            }
            scope_.sink
                .report(Finding::cycle, item.span,
                        fmt::format("the look `{}` is a part of itself", scope_.show.looks[item.look].name))
                .see(scope_.show.looks[item.look].span, "declared here");
            items.erase(items.begin() + static_cast<std::ptrdiff_t>(--at));
        }
    }

    // Looks of looks of looks can grow without end on few lines.
    void measure(Index look) {
        auto& items = scope_.show.looks[look].items;
        for (const Item& item : items) {
            size_[look] += item.look == none ? 1 : size_[item.look];
            if (item.look != none) depth_[look] = std::max(depth_[look], depth_[item.look] + 1);
        }
        if (size_[look] <= look_lines && depth_[look] <= deepest_look) return;
        if (!std::exchange(told_, true)) report_large(look);
        items.clear();
        size_[look] = depth_[look] = 0;
    }

    void report_large(Index look) {
        const Look& l = scope_.show.looks[look];
        scope_.sink.report(
            Finding::too_many, l.span,
            fmt::format("the look `{}` comes to {} lines, {} looks deep; it may have {} lines, {} deep",
                        l.name, size_[look], depth_[look], look_lines, deepest_look));
    }

    Scope& scope_;
    StatementReader& statements_;
    bool told_ = false;  // of a look that is too large; the rest of a chain would only repeat it
    std::vector<std::uint64_t> size_, depth_;  // lines, with those of the looks in it; how deep those stand
    std::vector<Place> places_;
    struct Declared {
        const Place* place;
        Index look;
        bool sound;  // its first line has no fault
    };
    std::vector<Declared> declared_;
    std::vector<std::uint8_t> state_;
};

// ---- cues ----

class CueReader {
  public:
    CueReader(Scope& scope, StatementReader& statements) : scope_(scope), statements_(statements) {}

    void run() {
        const std::vector<Place> places = main_cues();
        for (const Place& place : places) note_number(place);
        for (const Place& place : places) read(place);
        std::stable_sort(scope_.show.cues.begin(), scope_.show.cues.end(),
                         [](const Cue& a, const Cue& b) { return a.number < b.number; });
        if (scope_.show.cues.size() > limits::cues) {
            scope_.sink.report(Finding::too_many, scope_.show.cues[limits::cues].span,
                               fmt::format("a show may have {} cues", limits::cues));
            scope_.show.cues.resize(limits::cues);
        }
    }

  private:
    // Cues below a `list` belong to another list, which is refused; they are not counted among these.
    std::vector<Place> main_cues() const {
        std::vector<Place> places = scope_.declarations(Word::cue);
        for (const Place& list : scope_.declarations(Word::list))
            std::erase_if(places, [&](const Place& cue) {
                return cue.document == list.document && cue.declaration->header > list.declaration->header;
            });
        return places;
    }

    struct Said {
        std::uint64_t fade_time = 0;
        bool fade = false, up = false, down = false, cut = false, colour = false, move = false, beam = false,
             delay = false, curve = false, next = false;
    };

    // The number of a cue in thousandths, or none with a fault.
    std::optional<std::uint32_t> read_number(Reader& reader) {
        if (!reader.next_is(AtomKind::number)) {
            reader.expected("the number of the cue, such as `12` or `12.5`,");
            return std::nullopt;
        }
        const syntax::Atom& atom = *reader.peek();
        const auto q = reader.quantity();
        if (!q) return std::nullopt;
        const std::string_view text = reader.text(atom);
        if (reader.take(AtomKind::comma) && reader.next_is_bare()) {
            const std::string_view places = reader.text(reader.take());
            reader
                .fault(Finding::decimal_comma, source::join(q->span, reader.last()),
                       "a comma stands where the decimal point does")
                .with_hint(fmt::format("write `cue {}.{}`", text, places));
            return std::nullopt;
        }
        const std::string plain = text::decimal(q->value);
        if (q->unit != Unit::none || q->value <= 0 || q->value > largest_cue * text::million ||
            q->value % 1000 != 0) {
            reader.fault(Finding::cue_number, q->span, fmt::format("`{}` is no cue number", text))
                .with_hint(fmt::format(
                    "a cue number is a bare decimal above 0, up to {}, with three places at the most",
                    largest_cue));
            return std::nullopt;
        }
        if (text.find('.') != std::string_view::npos && text.ends_with('0')) {
            reader
                .fault(Finding::cue_number, q->span,
                       fmt::format("`{}` could be taken for another number than `{}`", text, plain))
                .with_hint(
                    fmt::format("write `{}`; for the tenth cue behind {}, take a number such as `{}.91`",
                                plain, text.substr(0, text.find('.')), text.substr(0, text.find('.'))));
            return std::nullopt;
        }
        return static_cast<std::uint32_t>(q->value / 1000);
    }

    // All numbers are known before any is missed, so that a free one can be offered.
    void note_number(const Place& place) {
        Reader header = scope_.header(place);
        header.mute();
        if (const auto number = read_number(header)) taken_.try_emplace(*number, header.last());
    }

    std::uint32_t free_number(std::uint32_t taken) const {
        for (const std::uint32_t step : {500u, 100u, 10u, 1u})
            for (std::uint32_t n = taken + step; n < taken / 1000 * 1000 + 1000 && n % 1000 != 0; n += step)
                if (!taken_.contains(n)) return n;
        return (taken_.rbegin()->first / 1000 + 1) * 1000;
    }

    void read(const Place& place) {
        Reader header = scope_.header(place);
        const auto number = read_number(header);
        Cue cue;
        cue.span = header.last();
        cue.number = number.value_or(0);
        if (number && taken_.at(*number) != cue.span) {
            header
                .fault(Finding::cue_twice, cue.span,
                       fmt::format("there is a cue {} already", runtime::cue_number(*number)))
                .with_hint(fmt::format("a free number behind it: `cue {}`",
                                       runtime::cue_number(free_number(*number))))
                .see(taken_.at(*number), "here");
        }
        cue.label = read_label(header);
        read_header(header, cue);
        scope_.each_line(place, [&](Reader& line) { read_line(line, cue); });
        if (number) scope_.show.cues.push_back(std::move(cue));
    }

    void read_header(Reader& reader, Cue& cue) {
        Said said;
        const std::uint64_t fade = scope_.show.default_fade;
        cue.times = {0, fade, fade, fade, fade, fade, runtime::Curve::linear};
        while (!reader.at_end() && !reader.muted())
            if (!read_time_word(reader, cue, said) && !read_next_word(reader, cue, said))
                report_stray(reader);
        settle(cue.times, said);
    }

    static void once(Reader& reader, bool& said, std::string_view word) {
        if (std::exchange(said, true))
            reader.fault(Finding::repeated_word, reader.last(), fmt::format("`{}` is said twice", word));
    }

    static bool read_time_word(Reader& reader, Cue& cue, Said& said) {
        Times& t = cue.times;
        const auto time = [&](bool& flag, std::string_view word, std::uint64_t& into) {
            once(reader, flag, word);
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
            once(reader, said.cut, "cut");
        else if (reader.take(Word::curve)) {
            once(reader, said.curve, "curve");
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

    static bool read_next_word(Reader& reader, Cue& cue, Said& said) {
        if (reader.take(Word::follow)) {
            once(reader, said.next, "follow or next-at");
            cue.next = runtime::Next::follow;
            if (reader.next_is(AtomKind::number) || reader.next_is(AtomKind::clock))
                cue.next_ms = reader.time().value_or(0);
        } else if (reader.take(Word::next_at)) {
            once(reader, said.next, "follow or next-at");
            cue.next = runtime::Next::next_at;
            cue.next_ms = reader.time().value_or(0);
        } else if (reader.next_is(Word::timecode)) {
            not_built(reader, reader.here(), "timecode");
        } else if (reader.take(Word::cue_only)) {
            cue.cue_only = true;
        } else if (reader.take(Word::block)) {
            cue.block = true;
        } else if (!read_remark(reader, cue)) {
            return false;
        }
        return true;
    }

    // `on "…"`, `page 34`, `note "…"`: in the header or on a line.
    static bool read_remark(Reader& reader, Cue& cue) {
        std::string* into = nullptr;
        if (reader.take(Word::on))
            into = &cue.on;
        else if (reader.take(Word::note))
            into = &cue.note;
        else if (!reader.take(Word::page))
            return false;
        if (into == nullptr && reader.next_is_bare()) {
            cue.page = reader.text(reader.take());
            return true;
        }
        (into == nullptr ? cue.page : *into) =
            read_text(reader, into == nullptr ? "a page, such as `page 34`," : "a text between quotes");
        return true;
    }

    static void report_stray(Reader& reader) {
        if (reader.next_is(AtomKind::word) && reader.peek()->word() == Word::none) {
            const std::size_t place = reader.place();
            while (reader.next_is(AtomKind::word) && reader.peek()->word() == Word::none) reader.take();
            reader.fault(Finding::label_quotes, reader.since(place), "a label stands between quotes")
                .with_hint(fmt::format("write `\"{}\"`", reader.text_since(place)));
        } else if (reader.next_is_bare() || reader.next_is_level()) {
            reader.fault(Finding::unexpected, reader.here(), "a number or a level alone says nothing here")
                .with_hint(
                    reader.next_is_bare()
                        ? fmt::format("for the cue's time, write `fade {}s`", reader.text(*reader.peek()))
                        : "levels stand on the lines below, each behind its fixtures");
        } else {
            reader.expected("a time such as `fade 3s`, or `follow`, `block` and the like");
        }
    }

    // `fade` sets every class; `up` alone sets `down` too, and the rest takes `up`.
    static void settle(Times& t, const Said& said) {
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

    void read_line(Reader& line, Cue& cue) {
        if (read_remark(line, cue)) return line.expect_end();
        if (const auto item = statements_.read(line)) cue.items.push_back(*item);
    }

    Scope& scope_;
    StatementReader& statements_;
    std::map<std::uint32_t, Span> taken_;
};

}  // namespace

void resolve_looks(Scope& scope, StatementReader& statements) {
    LookReader(scope, statements).run();
}

void resolve_cues(Scope& scope, StatementReader& statements) {
    CueReader(scope, statements).run();
}

}  // namespace tallow::show
