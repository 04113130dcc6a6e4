// `list` and `cue`.
#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <utility>

#include "compiler/show/cue_header.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

namespace limits = runtime::limits;

constexpr std::uint32_t largest_cue = 99'999;

class CueReader {
  public:
    CueReader(Scope& scope, StatementReader& statements) : scope_(scope), statements_(statements) {}

    void run() {
        read_lists();
        const std::vector<Place> places = scope_.declarations(Word::cue);
        for (const Place& place : places) note_number(place);
        make_room(places);
        for (const Place& place : places) read(place);
        auto& cues = scope_.show.cues;
        const auto before = [](const Cue& a, const Cue& b) {
            return std::pair(a.list, a.number) < std::pair(b.list, b.number);
        };
        if (!std::is_sorted(cues.begin(), cues.end(), before))  // they mostly are
            std::stable_sort(cues.begin(), cues.end(), before);
        if (cues.size() > limits::cues) {
            scope_.sink.report(Finding::too_many, cues[limits::cues].span,
                               fmt::format("a show may have {} cues", limits::cues));
            cues.resize(limits::cues);
        }
        for (Index i = 0; i < cues.size(); ++i) {
            CueList& list = scope_.show.lists[cues[i].list];
            if (list.count++ == 0) list.first = i;
        }
        check_timecodes();
    }

  private:
    // From where on the cues of a file belong to which list.
    struct Beginning {
        const syntax::Document* document;
        std::uint32_t line;
        Index list;
        bool operator<(const Beginning& other) const {
            return std::pair(document, line) < std::pair(other.document, other.line);
        }
    };

    void read_lists() {
        scope_.show.lists.push_back({"main", "", 0, 0, {}});
        scope_.lists.add({Symbol::Kind::list, 0, {}, "main"});
        for (const Place& place : scope_.declarations(Word::list)) {
            Reader header = scope_.header(place);
            const auto name = scope_.new_name(header, "the name of the list");
            const Span span = header.last();
            std::string label = read_label(header);
            header.expect_end();
            scope_.each_line(place, [&](Reader& line) {
                line.fault(Finding::unexpected, line.whole(), "a list has no lines of its own")
                    .with_hint(
                        "the cues below it, to the end of the file, belong to it: write them at the margin");
            });
            beginnings_.push_back({place.document, place.declaration->header,
                                   name ? list_of(header, *name, span, std::move(label)) : no_list});
        }
    }

    // A name that is met again, perhaps in another file, goes on with its list.
    Index list_of(Reader& header, const std::string& name, Span span, std::string label) {
        auto& lists = scope_.show.lists;
        if (const Symbol* known = scope_.lists.find(name)) {
            if (!label.empty()) lists[known->index].label = std::move(label);
            return known->index;
        }
        if (lists.size() == limits::lists) {
            header.fault(Finding::too_many, span, fmt::format("a show may have {} cue lists", limits::lists));
            return no_list;
        }
        const auto index = static_cast<Index>(lists.size());
        if (!scope_.declare(scope_.lists, header, {Symbol::Kind::list, index, span, name})) return no_list;
        lists.push_back({name, std::move(label), 0, 0, span});
        return index;
    }

    // The list that a cue belongs to; no_list under a `list` that is broken.
    Index list_at(const Place& cue) const {
        const Beginning here{cue.document, cue.declaration->header, 0};
        const auto behind = std::lower_bound(beginnings_.begin(), beginnings_.end(), here);
        return behind == beginnings_.begin() || std::prev(behind)->document != cue.document
                   ? 0
                   : std::prev(behind)->list;
    }

    // Two cues of one list cannot start at one timecode.
    void check_timecodes() {
        std::map<std::pair<Index, std::uint64_t>, const Cue*> taken;
        for (const Cue& cue : scope_.show.cues) {
            if (cue.timecode == runtime::no_timecode) continue;
            const auto [at, fresh] = taken.try_emplace({cue.list, cue.timecode}, &cue);
            if (!fresh)
                scope_.sink
                    .report(
                        Finding::timing_clash, cue.span,
                        fmt::format("cue {} and cue {} of one list start at the same timecode",
                                    runtime::cue_number(at->second->number), runtime::cue_number(cue.number)))
                    .with_hint("let the second `follow` the first, or put both into one cue")
                    .see(at->second->span, "the other one");
        }
    }

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
        if (q->unit != Unit::none || q->value <= 0 || q->value > largest_cue * text::million ||
            q->value % 1000 != 0) {
            reader.fault(Finding::cue_number, q->span, fmt::format("`{}` is no cue number", text))
                .with_hint(fmt::format(
                    "a cue number is a bare decimal above 0, up to {}, with three places at the most",
                    largest_cue));
            return std::nullopt;
        }
        if (text.find('.') != std::string_view::npos && text.ends_with('0')) {
            const std::string plain = text::decimal(q->value);
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

    // Most lines of cues are statements of one setting.
    void make_room(const std::vector<Place>& places) {
        std::size_t lines = 0;
        for (const Place& place : places) lines += place.declaration->last - place.declaration->first;
        scope_.show.cues.reserve(places.size());
        scope_.show.statements.reserve(scope_.show.statements.size() + lines);
        scope_.show.settings.reserve(scope_.show.settings.size() + lines);
    }

    // All numbers are known before any is missed, so that a free one can be offered.
    void note_number(const Place& place) {
        Reader header = scope_.header(place);
        header.mute();
        if (const auto number = read_number(header))
            taken_.try_emplace({list_at(place), *number}, header.last());
    }

    std::uint32_t free_number(Index list, std::uint32_t taken) const {
        for (const std::uint32_t step : {500u, 100u, 10u, 1u})
            for (std::uint32_t n = taken + step; n < taken / 1000 * 1000 + 1000 && n % 1000 != 0; n += step)
                if (!taken_.contains({list, n})) return n;
        const auto last = std::prev(taken_.upper_bound({list, none}));
        return (last->first.second / 1000 + 1) * 1000;
    }

    void read(const Place& place) {
        Reader header = scope_.header(place);
        const auto number = read_number(header);
        Cue cue;
        cue.span = header.last();
        cue.list = list_at(place);
        cue.number = number.value_or(0);
        const std::pair key{cue.list, cue.number};
        if (number && cue.list != no_list && taken_.at(key) != cue.span) {
            header
                .fault(Finding::cue_twice, cue.span,
                       fmt::format("there is a cue {} already", runtime::cue_number(*number)))
                .with_hint(fmt::format("a free number behind it: `cue {}`",
                                       runtime::cue_number(free_number(cue.list, *number))))
                .see(taken_.at(key), "here");
        }
        cue.items.reserve(place.declaration->last - place.declaration->first);
        RemarkReader remarks(cue);
        read_cue_header(scope_, header, cue, remarks);
        scope_.each_line(place, [&](Reader& line) { read_line(line, cue, remarks); });
        if (number && cue.list != no_list) scope_.show.cues.push_back(std::move(cue));
    }

    void read_line(Reader& line, Cue& cue, RemarkReader& remarks) {
        if (remarks.read(line)) return line.expect_end();
        if (const auto item = statements_.read(line)) cue.items.push_back(*item);
    }

    Scope& scope_;
    StatementReader& statements_;
    static constexpr Index no_list = none;
    std::vector<Beginning> beginnings_;                      // in their order
    std::map<std::pair<Index, std::uint32_t>, Span> taken_;  // by list and number
};

}  // namespace

void resolve_cues(Scope& scope, StatementReader& statements) {
    CueReader(scope, statements).run();
}

}  // namespace tallow::show
