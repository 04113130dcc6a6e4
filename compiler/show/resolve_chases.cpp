// `chase`: its name first, its steps when looks are known.
#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <unordered_set>
#include <utility>

#include "compiler/show/bounds.hpp"
#include "compiler/show/element_set.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/value_count.hpp"

namespace tallow::show {
namespace {

bool is_chase(const Show& show, const Statement& line) {
    const Setting::Kind kind = show.settings[line.first_setting].kind;
    return kind == Setting::Kind::chase || kind == Setting::Kind::chase_off;
}

// What a step cannot hold, or "".
std::string_view foreign_to_step(const Show& show, const Statement& line) {
    return is_chase(show, line) ? "another chase" : moving_in(show, line);
}

class ChaseReader {
  public:
    ChaseReader(Scope& scope, StatementReader& statements, Chase& chase)
        : scope_(scope), statements_(statements), chase_(chase) {}

    // What the steps hold, sound or not, goes to `held`.
    void read(const Place& place, Reader& header, std::vector<Item>& held) {
        read_header(header);
        scope_.each_line(place, [&](Reader& line) { read_line(line); });
        for (const auto& [number, step] : steps_)
            held.insert(held.end(), step.items.begin(), step.items.end());
        if (!header.muted()) settle();
    }

  private:
    struct Said {
        Span span;
        std::vector<Item> items;
        std::optional<std::uint64_t> takes, fade;
    };

    void read_header(Reader& reader) {
        chase_.label = read_label(reader);
        while (!reader.at_end() && !reader.muted()) {
            if (reader.take(Word::every))
                read_time(reader, "every", every_);
            else if (reader.take(Word::fade))
                read_time(reader, "fade", fade_);
            else if (reader.take(Word::loop))
                reader.once(chase_.loop, "loop");
            else
                reader.expected("`every 400ms`, `fade 100ms` or `loop`");
        }
    }

    static void read_time(Reader& reader, std::string_view word, std::optional<std::uint64_t>& into) {
        bool said = into.has_value();
        reader.once(said, word);
        into = reader.time();
    }

    // `step 2  SELECTION …`, `step 2  look NAME`, or `step 2  takes 800ms  fade 50ms`.
    void read_line(Reader& line) {
        if (!line.take(Word::step)) {
            line.expected("`step 1` and what it shows");
            return;
        }
        const auto number = line.count("the number of the step", 1, steps_at_most);
        if (!number) return;
        Said& step = steps_.try_emplace(*number, Said{line.since(0), {}, {}, {}}).first->second;
        if (line.next_is(Word::takes) || line.next_is(Word::fade)) return read_times(line, step);
        if (line.at_end()) {
            line.expected("fixtures and what they do, or `takes 800ms`,");
            return;
        }
        if (const auto item = statements_.read(line)) step.items.push_back(*item);
    }

    static void read_times(Reader& line, Said& step) {
        while (!line.at_end() && !line.muted()) {
            if (line.take(Word::takes))
                read_time(line, "takes", step.takes);
            else if (line.take(Word::fade))
                read_time(line, "fade", step.fade);
            else
                line.expected("`takes 800ms` or `fade 50ms`");
        }
    }

    // Steps in order, each with its times.
    void settle() {
        if (steps_.empty()) {
            scope_.sink
                .report(Finding::bad_step, chase_.span,
                        fmt::format("the chase `{}` has no steps", chase_.name))
                .with_hint("its steps stand below it: `    step 1  front 1  full`");
            return;
        }
        std::uint32_t expected = 1;
        for (const auto& [number, step] : steps_) {
            if (number != expected) {
                scope_.sink
                    .report(Finding::bad_step, step.span,
                            fmt::format("step {} stands here, and there is no step {}", number, expected))
                    .with_hint("steps are numbered 1, 2, 3 …");
                return;
            }
            ++expected;
            settle(step);
        }
    }

    void settle(const Said& step) {
        const auto takes = step.takes ? step.takes : every_;
        if (!takes || *takes == 0) {
            scope_.sink
                .report(
                    Finding::bad_step, step.span,
                    takes ? std::string("this step takes no time") : "nothing says how long this step takes")
                .with_hint(fmt::format("give the chase a time for all steps: `chase {} every 400ms`, or this "
                                       "one its own: `step 1 takes 800ms`",
                                       chase_.name));
            return;
        }
        const std::uint64_t fade = step.fade ? *step.fade : fade_.value_or(0);
        if (fade > *takes) {
            scope_.sink
                .report(
                    Finding::bad_step, step.span,
                    fmt::format("the fade of this step takes {} ms, and the step itself {} ms", fade, *takes))
                .with_hint("a fade is a part of its step: make it as long as the step at the most");
            return;
        }
        chase_.steps.push_back({step.items, *takes, fade});
    }

    Scope& scope_;
    StatementReader& statements_;
    Chase& chase_;
    std::optional<std::uint64_t> every_, fade_;
    std::map<std::uint32_t, Said> steps_;
};

// All that the steps name, in the order of the steps; what another chase names is not known yet, and no step
// can hold one.
void select(Show& show, const Chase& chase) {
    std::vector<Element> elements;
    std::unordered_set<std::uint64_t> met;  // never walked
    const auto add = [&](const Element& e) {
        if (met.insert(std::uint64_t{e.fixture} << 16 | e.cell).second) elements.push_back(e);
    };
    for (const Chase::Step& step : chase.steps)
        for_each_line(show, step.items, [&](const Statement& line, const ElementSet* within) {
            if (is_chase(show, line)) return;
            std::vector<Element> common;
            for (const Element& e : show.selections[line.selection].elements) {
                if (within == nullptr)
                    add(e);
                else
                    within->common(e, common);
            }
            std::for_each(common.begin(), common.end(), add);
        });
    show.selections[chase.selection].elements = std::move(elements);
}

// Once all selections of chases are known, and so which lines of a look concern a part of it.
void drop_foreign(Scope& scope, const std::vector<Item>& held) {
    bool any = false;
    for (const Item& item : held) {
        const std::string_view foreign = foreign_in(scope.show, item, foreign_to_step);
        if (foreign.empty()) continue;
        any = true;
        scope.sink
            .report(Finding::bad_step, item.span, fmt::format("a step of a chase cannot hold {}", foreign))
            .with_hint(
                "it holds levels, colours and other values; how long it takes and fades stands on a line "
                "such as `step 1 takes 800ms fade 50ms`");
    }
    if (!any) return;
    for (Chase& chase : scope.show.chases)
        for (Chase::Step& step : chase.steps)
            std::erase_if(step.items, [&](const Item& item) {
                return !foreign_in(scope.show, item, foreign_to_step).empty();
            });
}

// Whether all is within its bounds, before any look is gone through line by line and after.
bool in_bounds(Scope& scope, const std::vector<Item>& held) {
    const Show& show = scope.show;
    ValueCount count(show);
    std::uint64_t said = count.of(held), values = 0;
    for (const Chase& chase : show.chases) values += chase_values(show, chase);
    if (said <= step_values && values <= step_values) return true;
    scope.sink.report(Finding::too_many, show.chases.back().span,
                      fmt::format("the steps of all chases may come to {} values", step_values));
    return false;
}

}  // namespace

std::vector<Place> declare_chases(Scope& scope) {
    std::vector<Place> places;
    bool full = false;
    for (const Place& place : scope.declarations(Word::chase)) {
        Reader header = scope.header(place);
        const auto name = scope.new_name(header, "the name of the chase");
        if (!name) continue;
        Chase chase;
        chase.name = *name;
        chase.span = header.last();
        if (scope.show.chases.size() == chases_at_most) {
            if (!std::exchange(full, true))
                header.fault(Finding::too_many, chase.span,
                             fmt::format("a show may have {} chases", chases_at_most));
            scope.dropped.insert(*name);
            continue;
        }
        if (!scope.declare(
                scope.chases, header,
                {Symbol::Kind::chase, static_cast<Index>(scope.show.chases.size()), chase.span, *name}))
            continue;
        chase.selection = static_cast<Index>(scope.show.selections.size());
        scope.show.selections.push_back({{}, *name, false});
        scope.show.chases.push_back(std::move(chase));
        places.push_back(place);
    }
    return places;
}

void resolve_chases(Scope& scope, StatementReader& statements, const std::vector<Place>& places) {
    auto& chases = scope.show.chases;
    std::vector<Item> held;
    for (std::size_t i = 0; i < places.size(); ++i) {
        Reader header = scope.header(places[i]);
        header.take();  // the name that it was declared by
        ChaseReader(scope, statements, chases[i]).read(places[i], header, held);
    }
    if (in_bounds(scope, held)) {
        for (const Chase& chase : chases) select(scope.show, chase);
        drop_foreign(scope, held);
        if (in_bounds(scope, held)) return;
    }
    for (Chase& chase : chases) chase.steps.clear();
}

}  // namespace tallow::show
