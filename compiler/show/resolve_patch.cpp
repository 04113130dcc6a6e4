// `patch`: which fixtures there are, and where they listen.
#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <utility>

#include "compiler/show/bounds.hpp"
#include "compiler/show/response.hpp"
#include "compiler/show/scope.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/values.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

namespace limits = runtime::limits;

constexpr std::uint16_t unplaced = 0;  // the universe of fixtures whose place was lost to a fault

struct Numbers {
    std::uint32_t first = 0, last = 0;  // 0, 0: a single fixture
};

// `1..4`, `3`, or nothing; `1-4` and `1 to 4` are told how a range is written.
std::optional<Numbers> read_numbers(Reader& reader) {
    if (!reader.next_is(AtomKind::number)) return Numbers{};
    const std::size_t place = reader.place();
    const auto first = reader.count("a fixture's number", 1, 99'999);
    if (!first) return std::nullopt;
    if (const auto end = reader.dashed_end()) {
        reader.fault(Finding::range_dots, reader.since(place), "a row of numbers is written with two dots")
            .with_hint(fmt::format("write `{}..{}`", *first, *end));
        return std::nullopt;
    }
    if (!reader.take(AtomKind::dots)) return Numbers{*first, *first};
    const auto last = reader.count("a fixture's number", 1, 99'999);
    if (!last) return std::nullopt;
    if (*last < *first) {
        reader
            .fault(Finding::out_of_range, reader.since(place),
                   "fixtures are patched from the lower number to the higher")
            .with_hint(fmt::format("write `{}..{}`", *last, *first));
        return std::nullopt;
    }
    return Numbers{*first, *last};
}

class PatchReader {
  public:
    explicit PatchReader(Scope& scope) : scope_(scope) {}

    void read(const Place& place) {
        Reader header = scope_.header(place);
        patch_ = header.last();
        const auto start = read_address(header);
        header.expect_end();
        next_ = start.value_or(Address{});
        placed_ = start.has_value();
        scope_.each_line(place, [&](Reader& line) { read_line(line); });
    }

    void finish() {
        for (const Symbol& symbol : scope_.rig.all())
            if (symbol.kind == Symbol::Kind::fixtures) check_numbers(symbol);
        join_gangs();
        check_overlaps();
        number_parameters();
    }

  private:
    // A line of a patch; even when it is broken its name is declared, so that it is not missed elsewhere.
    void read_line(Reader& reader) {
        if (reader.next_is(AtomKind::number) && reader.next_is(AtomKind::word, 1)) {
            const std::string name = reader.name_text(*reader.peek(1));
            scope_.dropped.insert(name);
            reader.expected("the name of a fixture")
                .with_hint(fmt::format("the name comes first, its numbers behind it: `{} 1..{}`", name,
                                       reader.text(*reader.peek())));
            return;
        }
        if (reader.next_is(Word::at)) {
            reader.expected("the name of a fixture");
            return;
        }
        const auto name = reader.name("the name of a fixture");
        if (!name || full(reader, *name)) return;
        const Span name_span = reader.last();
        if (!reader.at_end() && scope_.excused(reader.text(*reader.peek()))) reader.mute();
        const auto numbers = read_numbers(reader);
        const Type* type = nullptr;
        Index mode = 0;
        if (numbers) {
            type = read_type(reader);
            if (type != nullptr) mode = read_mode(reader, *type);
        }
        std::optional<Address> at;
        bool ganged = false;
        ResponseReader response(
            type == nullptr || type->response == none ? Response{} : scope_.show.responses[type->response]);
        bool own_response = false;
        while (!reader.at_end() && !reader.muted()) {
            if (reader.take(Word::at))
                at = read_address(reader);
            else if (reader.take(Word::ganged))
                ganged = true;
            else if (response.read_words(reader))
                own_response = true;
            else if (reader.next_is(AtomKind::number) && reader.next_is(AtomKind::slash, 1)) {
                reader
                    .fault(Finding::expected, reader.here(),
                           "an address on a fixture's own line has `at` before it")
                    .with_hint(fmt::format("write `at {}/{}`", reader.text(*reader.peek()),
                                           reader.next_is_bare(2) ? reader.text(*reader.peek(2)) : "1"));
            } else
                reader.expect_end();
        }
        FixtureSet* set = set_of(reader, *name, name_span);
        if (set == nullptr) return;
        if (reader.muted() || type == nullptr || type->broken)
            return add_broken(*set, *name, numbers.value_or(Numbers{}), name_span);
        const Index first = static_cast<Index>(scope_.show.fixtures.size());
        add(reader, *set, *name, *numbers, type, mode, at, ganged);
        const Index responds = own_response ? response.add(scope_.show, reader, *type) : type->response;
        for (Index f = first; f < scope_.show.fixtures.size(); ++f)
            scope_.show.fixtures[f].response = responds;
    }

    bool full(Reader& reader, const std::string& name) {
        if (scope_.show.fixtures.size() <= fixtures_at_most) return false;
        if (!std::exchange(told_, true))
            reader.fault(Finding::too_many, reader.whole(),
                         fmt::format("a show may have {} fixtures", fixtures_at_most));
        scope_.dropped.insert(name);
        return true;
    }

    const Type* read_type(Reader& reader) {
        const Symbol* symbol = scope_.look_up(scope_.types, reader, "type",
                                              [](const Symbol& s) { return s.kind == Symbol::Kind::type; });
        return symbol == nullptr ? nullptr : &scope_.show.types[symbol->index];
    }

    // The mode that is named, else the first.
    static Index read_mode(Reader& reader, const Type& type) {
        for (const Word word : {Word::at, Word::ganged, Word::response, Word::preheat, Word::floor})
            if (reader.next_is(word)) return 0;
        if (!reader.next_is(AtomKind::word)) return 0;
        const std::string name = reader.name_text(reader.take());
        std::string known;
        for (Index i = 0; i < type.modes.size(); ++i) {
            if (type.modes[i].name == name) return i;
            known += (i == 0 ? "`" : ", `") + type.modes[i].name + "`";
        }
        if (!type.broken)
            reader
                .fault(Finding::unknown_name, reader.last(),
                       fmt::format("the type `{}` has no mode `{}`", type.name, name))
                .with_hint(fmt::format("it has {}", known))
                .see(type.span, "the type");
        return 0;
    }

    FixtureSet* set_of(Reader& reader, const std::string& name, Span span) {
        if (const Symbol* known = scope_.rig.find(name);
            known != nullptr && known->kind == Symbol::Kind::fixtures)
            return &scope_.sets[known->index];
        if (!scope_.declare(scope_.rig, reader,
                            {Symbol::Kind::fixtures, static_cast<Index>(scope_.sets.size()), span, name}))
            return nullptr;
        scope_.sets.emplace_back();
        return &scope_.sets.back();
    }

    void add_broken(FixtureSet& set, const std::string& name, Numbers numbers, Span span) {
        set.broken = true;
        if (numbers.last - numbers.first > limits::slots) numbers.last = numbers.first;
        for (std::uint32_t n = numbers.first; n <= numbers.last; ++n) {
            Fixture f;
            f.name = name;
            f.number = n;
            f.span = span;
            f.leader = static_cast<Index>(scope_.show.fixtures.size());
            set.members.push_back(f.leader);
            scope_.show.fixtures.push_back(std::move(f));
        }
    }

    void add(Reader& reader, FixtureSet& set, const std::string& name, Numbers numbers, const Type* type,
             Index mode, std::optional<Address> at, bool ganged) {
        if (numbers.first == 0 || set.single) {
            if (!set.members.empty()) {
                reader
                    .fault(Finding::name_taken, reader.whole(), fmt::format("`{}` is patched already", name))
                    .with_hint(fmt::format("several fixtures of one name carry numbers: `{} 1..2`", name))
                    .see(scope_.show.fixtures[set.members.front()].span, "it is here");
                return;
            }
            set.single = true;
        }
        Address own = at.value_or(next_);
        const std::uint32_t footprint = type->modes[mode].footprint;
        const Index leader = static_cast<Index>(scope_.show.fixtures.size());
        for (std::uint32_t n = numbers.first; n <= numbers.last; ++n) {
            if (!ganged || n == numbers.first) {
                if (!fits(reader, own, footprint, name, n))
                    return add_broken(set, name, {n, numbers.last}, reader.whole());
            }
            Fixture f;
            f.name = name;
            f.number = n;
            f.type = static_cast<Index>(type - scope_.show.types.data());
            f.mode = mode;
            f.universe = placed_ || at ? static_cast<std::uint16_t>(own.universe) : unplaced;
            f.address = static_cast<std::uint16_t>(own.slot);
            f.aside = at.has_value();
            f.leader = ganged ? leader : static_cast<Index>(scope_.show.fixtures.size());
            f.span = reader.whole();
            origin_.resize(scope_.show.fixtures.size() + 1);
            origin_.back() = at ? f.span : patch_;
            set.members.push_back(static_cast<Index>(scope_.show.fixtures.size()));
            scope_.show.fixtures.push_back(std::move(f));
            if (!ganged || n == numbers.last) own.slot += footprint;
        }
        if (!at) next_ = own;
        if (ganged) gangs_.push_back(leader);
    }

    // Whether the slots end within the universe; after the first that does not, the rest of the patch is not
    // measured.
    bool fits(Reader& reader, Address own, std::uint32_t footprint, const std::string& name,
              std::uint32_t number) {
        if (own.slot + footprint - 1 <= limits::slots || !placed_) return true;
        {
            const std::string which = number == 0 ? name : fmt::format("{} {}", name, number);
            reader
                .fault(Finding::past_end, reader.whole(),
                       fmt::format("`{}` takes {} slots and would run from {} past slot {}", which, footprint,
                                   text_of(own), limits::slots))
                .with_hint(
                    fmt::format("a fixture never straddles two universes: open the next one, `patch {}/1`",
                                own.universe + 1));
            placed_ = false;
        }
        return false;
    }

    void check_numbers(const Symbol& symbol) {
        FixtureSet& set = scope_.sets[symbol.index];
        auto& fixtures = scope_.show.fixtures;
        std::stable_sort(set.members.begin(), set.members.end(),
                         [&](Index a, Index b) { return fixtures[a].number < fixtures[b].number; });
        if (set.broken) return;
        set.gapless = !set.single && !set.members.empty();
        for (std::size_t i = 1; i < set.members.size(); ++i) {
            const Fixture& before = fixtures[set.members[i - 1]];
            const Fixture& after = fixtures[set.members[i]];
            if (after.number == before.number + 1) continue;
            set.gapless = false;
            if (after.number == before.number) {
                const auto [first, second] = std::minmax(before.span, after.span);
                scope_.sink
                    .report(Finding::name_taken, second,
                            fmt::format("`{}` is patched already", fixture_text(after)))
                    .see(first, "it is here");
                return;
            }
            scope_.sink
                .report(Finding::number_gap, after.span,
                        fmt::format("the numbers of `{}` jump from {} to {}", symbol.name, before.number,
                                    after.number))
                .with_hint(fmt::format("fixtures of one name are numbered without gaps: go on with {}",
                                       before.number + 1))
                .see(before.span, fmt::format("`{} {}` is here", symbol.name, before.number));
        }
    }

    // Ganged lines of one kind at one address are one gang, if all but one of them at the most stand aside
    // there.
    void join_gangs() {
        auto& fixtures = scope_.show.fixtures;
        std::map<std::pair<std::uint16_t, std::uint16_t>, std::vector<Index>> by_address;
        for (const Index gang : gangs_)
            by_address[{fixtures[gang].universe, fixtures[gang].address}].push_back(gang);
        std::map<Index, Index> leader;  // of gangs that join another
        for (const auto& [address, gangs] : by_address) {
            const Fixture& first = fixtures[gangs.front()];
            const auto alike = [&](Index g) {
                const Fixture& f = fixtures[g];
                return f.type == first.type && f.mode == first.mode && f.response == first.response;
            };
            const auto aside = [&](Index g) { return fixtures[g].aside; };
            const auto asides = std::count_if(gangs.begin(), gangs.end(), aside);
            if (static_cast<std::size_t>(asides) + 1 < gangs.size() ||
                !std::all_of(gangs.begin(), gangs.end(), alike))
                continue;
            for (const Index gang : gangs) leader[gang] = gangs.front();
        }
        for (Fixture& f : fixtures)
            if (const auto to = leader.find(f.leader); to != leader.end()) f.leader = to->second;
    }

    // All fixtures that hold slots, by address.
    std::vector<Index> by_address() const {
        const auto& fixtures = scope_.show.fixtures;
        std::vector<Index> order;
        for (Index i = 0; i < fixtures.size(); ++i)
            if (fixtures[i].type != none && fixtures[i].leader == i) order.push_back(i);
        std::stable_sort(order.begin(), order.end(), [&](Index a, Index b) {
            return std::pair(fixtures[a].universe, fixtures[a].address) <
                   std::pair(fixtures[b].universe, fixtures[b].address);
        });
        return order;
    }

    std::uint32_t end_of(const Fixture& f) const { return f.address + scope_.show.mode_of(f).footprint - 1u; }

    void check_overlaps() {
        const std::vector<Index> order = by_address();
        std::map<std::pair<Span, Span>, bool> told;  // what placed both; a patch that clashes is told of once
        Index reaches = none;                        // the fixture whose slots go furthest
        for (const Index i : order) {
            const Fixture& f = scope_.show.fixtures[i];
            if (reaches != none) {
                const Fixture& r = scope_.show.fixtures[reaches];
                const bool clash =
                    r.universe == f.universe && end_of(r) >= f.address && f.universe != unplaced;
                if (clash && !std::exchange(told[std::pair(std::min(origin_[i], origin_[reaches]),
                                                           std::max(origin_[i], origin_[reaches]))],
                                            true))
                    report_overlap(order, i > reaches ? f : r, i > reaches ? r : f);
                if (r.universe == f.universe && end_of(r) > end_of(f)) continue;
            }
            reaches = i;
        }
    }

    void report_overlap(const std::vector<Index>& order, const Fixture& later, const Fixture& earlier) {
        const std::uint32_t slot = std::max(later.address, earlier.address);
        auto& fault = scope_.sink.report(
            Finding::overlap, later.span,
            fmt::format("`{}` at {} takes slot {}, which `{}` at {} has", fixture_text(later),
                        text_of({later.universe, later.address}), text_of({later.universe, slot}),
                        fixture_text(earlier), text_of({earlier.universe, earlier.address})));
        fault.see(earlier.span, fmt::format("`{}` holds {} to {}", fixture_text(earlier),
                                            text_of({earlier.universe, earlier.address}),
                                            text_of({earlier.universe, end_of(earlier)})));
        const std::uint32_t size = slots_of_line(order, later);
        const auto place = static_cast<Index>(&later - scope_.show.fixtures.data());
        if (const std::uint32_t free = next_free(order, later.universe, size); free != 0)
            fault.with_hint(fmt::format("{} from {} on: write `{} {}`",
                                        size == 1 ? "a slot is free" : fmt::format("{} slots are free", size),
                                        text_of({later.universe, free}),
                                        origin_[place] == later.span ? "at" : "patch",
                                        text_of({later.universe, free})));
        else
            fault.with_hint(
                fmt::format("universe {} has no {} free slots in a row; `at {}/1` is in the next one",
                            later.universe, size, later.universe + 1));
    }

    // The slots of all fixtures on the line of one.
    std::uint32_t slots_of_line(const std::vector<Index>& order, const Fixture& one) const {
        std::uint32_t size = 0;
        for (const Index i : order)
            if (scope_.show.fixtures[i].span == one.span)
                size += scope_.show.mode_of(scope_.show.fixtures[i]).footprint;
        return size;
    }

    // The first slot from which `size` slots are free; 0 when there is none.
    std::uint32_t next_free(const std::vector<Index>& order, std::uint32_t universe,
                            std::uint32_t size) const {
        std::uint32_t at = 1;
        for (const Index i : order) {
            const Fixture& f = scope_.show.fixtures[i];
            if (f.universe != universe) continue;
            if (f.address >= at + size) break;
            at = std::max(at, end_of(f) + 1);
        }
        return at + size - 1 <= limits::slots ? at : 0;
    }

    void number_parameters() {
        Show& show = scope_.show;
        bool over = false;  // what comes after too many is lost
        for (const Index i : by_address()) {
            Fixture& f = show.fixtures[i];
            const auto count = static_cast<std::uint16_t>(show.mode_of(f).parameters.size());
            if (show.parameters.size() + count > limits::parameters && !std::exchange(over, true))
                scope_.sink.report(Finding::too_many, f.span,
                                   fmt::format("a rig may have {} parameters", limits::parameters));
            if (over) {
                f.type = none;
                continue;
            }
            f.first_parameter = static_cast<Index>(show.parameters.size());
            for (std::uint16_t p = 0; p < count; ++p) show.parameters.push_back({i, p});
        }
        for (Fixture& f : show.fixtures) {
            f.first_parameter = show.fixtures[f.leader].first_parameter;
            if (f.first_parameter == none) f.type = none;
        }
    }

    Scope& scope_;
    Address next_;
    std::vector<Index> gangs_;  // the first fixture of each ganged line
    bool told_ = false;         // of too many fixtures
    bool placed_ = true;        // whether it is known where the patch goes on
    Span patch_{};
    std::vector<Span> origin_;  // of each fixture: what placed it, its own `at` line or its patch
};

}  // namespace

void resolve_patch(Scope& scope) {
    PatchReader reader(scope);
    for (const Place& place : scope.declarations(Word::patch)) reader.read(place);
    reader.finish();
}

}  // namespace tallow::show
