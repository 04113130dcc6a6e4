#include "compiler/show/bounds.hpp"

#include <fmt/format.h>

namespace tallow::show {
namespace {

// How many values lines set, at the most.
class Counter {
  public:
    explicit Counter(const Show& show)
        : show_(show), looks_(show.looks.size(), unknown), selections_(show.selections.size()) {}

    std::uint64_t count(const Cue& cue) {
        const std::uint64_t lines = count(cue.items);
        return lines + (cue.cue_only ? lines : 0) + (cue.block ? show_.parameters.size() : 0);
    }

    std::uint64_t count(const std::vector<Item>& items) {
        std::uint64_t values = 0;
        for (const Item& item : items) {
            if (item.look != none)
                values += look(item.look);
            else if (item.statement != none)
                values += count(show_.statements[item.statement]);
        }
        return values;
    }

  private:
    static constexpr std::uint64_t unknown = ~std::uint64_t{0};

    // Looks stand in one another to a depth that is bounded.
    std::uint64_t look(Index index) {
        if (looks_[index] == unknown) looks_[index] = count(show_.looks[index].items);
        return looks_[index];
    }

    std::uint64_t count(const Statement& statement) {
        bool level = false, more = false;
        for (Index s = 0; s < statement.setting_count; ++s) {
            const Setting::Kind kind = show_.settings[statement.first_setting + s].kind;
            const bool any = kind == Setting::Kind::wave || kind == Setting::Kind::steady ||
                             kind == Setting::Kind::chase || kind == Setting::Kind::chase_off;
            level = level || any || kind == Setting::Kind::level;
            more = more || any || kind != Setting::Kind::level;
        }
        const Values& values = of_selection(statement.selection);
        return (level ? values.levels : 0) + (more ? values.others : 0);
    }

    struct Values {
        std::uint64_t levels = 0, others = 0;
        bool known = false;
    };
    // Each selection is gone through once.
    const Values& of_selection(Index index) {
        Values& values = selections_[index];
        if (values.known) return values;
        values.known = true;
        for (const Element& e : show_.selections[index].elements) {
            const Part& part = show_.mode_of(show_.fixtures[e.fixture]).parts[e.cell];
            values.levels += part.intensity.size();
            values.others += part.emitters.size() + part.position.size() + part.beam.size();
        }
        return values;
    }

    const Show& show_;
    std::vector<std::uint64_t> looks_;
    std::vector<Values> selections_;
};

}  // namespace

void check_bounds(Scope& scope) {
    const Show& show = scope.show;
    const std::uint64_t pictures = show.cues.size() / runtime::picture_every;
    if (pictures * show.parameters.size() > picture_values)
        scope.sink.report(
            Finding::too_many, show.cues.back().span,
            fmt::format("a rig of {} parameters may have {} cues", show.parameters.size(),
                        (picture_values / show.parameters.size() + 1) * runtime::picture_every - 1));
    Counter counter(show);
    std::uint64_t values = 0;
    const auto add = [&](std::uint64_t more, Span where) {
        values += more;
        if (values > set_values)
            scope.sink.report(Finding::too_many, where,
                              fmt::format("the lines of all cues may set {} values in all", set_values));
        return values <= set_values;
    };
    for (const Cue& cue : show.cues)
        if (!add(counter.count(cue), cue.span)) return;
    for (const Submaster& submaster : show.submasters)
        if (!add(counter.count(submaster.items), submaster.span)) return;
}

}  // namespace tallow::show
