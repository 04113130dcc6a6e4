// `chase`: its name first, its steps when looks are known.
#include <algorithm>
#include <fmt/format.h>
#include <map>

#include "compiler/show/bounds.hpp"
#include "compiler/show/steps.hpp"

namespace tallow::show {
namespace {

// What a step cannot hold, or "".
std::string_view foreign_to_step(const Show& show, const Statement& statement) {
    if (statement.fade || statement.delay) return "a time of its own line";
    for (Index i = 0; i < statement.setting_count; ++i) {
        const Setting::Kind kind = show.settings[statement.first_setting + i].kind;
        if (kind == Setting::Kind::wave) return "a wave";
        if (kind == Setting::Kind::steady) return "`steady`";
        if (kind == Setting::Kind::chase || kind == Setting::Kind::chase_off) return "another chase";
    }
    return "";
}

class ChaseReader {
  public:
    ChaseReader(Scope& scope, StatementReader& statements, Index chase)
        : scope_(scope), statements_(statements), chase_(scope.show.chases[chase]) {}

    void read(const Place& place, Reader& header) {
        read_header(header);
        scope_.each_line(place, [&](Reader& line) { read_line(line); });
        if (!header.muted()) settle();
        select();
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
                chase_.loop = true;
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
        const auto item = statements_.read(line);
        if (!item) return;
        std::string_view foreign;
        for_each_statement(scope_.show, {*item}, [&](const Statement& s) {
            if (foreign.empty()) foreign = foreign_to_step(scope_.show, s);
        });
        if (!foreign.empty())
            line.fault(Finding::bad_step, item->span,
                       fmt::format("a step of a chase cannot hold {}", foreign))
                .with_hint(
                    "it holds levels, colours and other values; how long it takes and fades stands on a line "
                    "such as `step 1 takes 800ms fade 50ms`");
        else
            step.items.push_back(*item);
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

    // All that the steps name, in the order of the steps.
    void select() {
        Selection& selection = scope_.show.selections[chase_.selection];
        for (const auto& [number, step] : steps_)
            for_each_statement(scope_.show, step.items, [&](const Statement& s) {
                const auto& elements = scope_.show.selections[s.selection].elements;
                selection.elements.insert(selection.elements.end(), elements.begin(), elements.end());
            });
        statements_.selector().unify(selection.elements);
    }

    Scope& scope_;
    StatementReader& statements_;
    Chase& chase_;
    std::optional<std::uint64_t> every_, fade_;
    std::map<std::uint32_t, Said> steps_;
};

}  // namespace

void declare_chases(Scope& scope) {
    for (const Place& place : scope.declarations(Word::chase)) {
        Reader header = scope.header(place);
        const auto name = scope.new_name(header, "the name of the chase");
        if (!name) continue;
        Chase chase;
        chase.name = *name;
        chase.span = header.last();
        if (!scope.declare(
                scope.chases, header,
                {Symbol::Kind::chase, static_cast<Index>(scope.show.chases.size()), chase.span, *name}))
            continue;
        if (scope.show.chases.size() == chases_at_most) {
            header.fault(Finding::too_many, chase.span,
                         fmt::format("a show may have {} chases", chases_at_most));
            return;
        }
        chase.selection = static_cast<Index>(scope.show.selections.size());
        scope.show.selections.push_back({{}, *name, false});
        scope.show.chases.push_back(std::move(chase));
    }
}

void resolve_chases(Scope& scope, StatementReader& statements) {
    std::uint64_t values = 0;
    Index next = 0;  // declarations come again in the same order, without those that could not be declared
    for (const Place& place : scope.declarations(Word::chase)) {
        if (next == scope.show.chases.size()) return;
        Reader header = scope.header(place);
        header.take();
        if (header.last() != scope.show.chases[next].span) continue;
        ChaseReader(scope, statements, next).read(place, header);
        Chase& chase = scope.show.chases[next++];
        for (const Element& e : scope.show.selections[chase.selection].elements)
            values +=
                scope.show.mode_of(scope.show.fixtures[e.fixture]).parameters.size() * chase.steps.size();
        if (values <= step_values) continue;
        scope.sink.report(Finding::too_many, chase.span,
                          fmt::format("the steps of all chases may come to {} values", step_values));
        return;
    }
}

}  // namespace tallow::show
