// `submaster`.
#include <algorithm>
#include <fmt/format.h>
#include <map>

#include "compiler/show/bounds.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/value_count.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

// What makes no sense under a hand, or "".
std::string_view foreign_to_hand(const Show& show, const Statement& statement) {
    if (statement.fade || statement.delay) return "a time";
    for (Index i = 0; i < statement.setting_count; ++i) {
        const Setting::Kind kind = show.settings[statement.first_setting + i].kind;
        if (kind == Setting::Kind::steady) return "`steady`";
        if (kind == Setting::Kind::chase_off) return "the end of a chase";
    }
    return "";
}

// What makes no sense there is taken out of it.
void drop_foreign(Scope& scope, Submaster& submaster) {
    std::erase_if(submaster.items, [&](const Item& item) {
        const std::string_view foreign = foreign_in(scope.show, item, foreign_to_hand);
        if (foreign.empty()) return false;
        scope.sink.report(Finding::unexpected, item.span, fmt::format("a submaster cannot hold {}", foreign))
            .with_hint("it is raised and lowered by hand, and brings in levels, colours, waves and chases");
        return true;
    });
}

// Before the looks are gone through line by line.
bool in_bounds(Scope& scope) {
    ValueCount count(scope.show);
    std::uint64_t values = 0;
    for (const Submaster& submaster : scope.show.submasters) values += count.of(submaster.items);
    return values <= set_values;
}

}  // namespace

void resolve_submasters(Scope& scope, StatementReader& statements) {
    std::map<std::uint32_t, Span> taken;
    for (const Place& place : scope.declarations(Word::submaster)) {
        Reader header = scope.header(place);
        const auto number = header.count("the number of the submaster", 1, largest_submaster);
        Submaster submaster;
        submaster.number = number.value_or(0);
        submaster.span = header.last();
        submaster.label = read_label(header);
        header.expect_end();
        if (number)
            if (const auto [at, fresh] = taken.try_emplace(*number, submaster.span); !fresh)
                header
                    .fault(Finding::name_taken, submaster.span,
                           fmt::format("there is a submaster {} already", *number))
                    .see(at->second, "here");
        bool any = false;
        scope.each_line(place, [&](Reader& line) {
            any = true;
            if (const auto item = statements.read(line)) submaster.items.push_back(*item);
        });
        if (!any)
            header
                .fault(Finding::no_setting, submaster.span,
                       fmt::format("submaster {} brings in nothing", submaster.number))
                .with_hint("what it brings in stands on the lines below it, behind blanks: `    front full`");
        if (scope.show.submasters.size() == runtime::limits::submasters) {
            header.fault(Finding::too_many, submaster.span,
                         fmt::format("a show may have {} submasters", runtime::limits::submasters));
            break;
        }
        if (number) scope.show.submasters.push_back(std::move(submaster));
    }
    std::stable_sort(scope.show.submasters.begin(), scope.show.submasters.end(),
                     [](const Submaster& a, const Submaster& b) { return a.number < b.number; });
    if (!in_bounds(scope)) return;  // check_bounds tells
    for (Submaster& submaster : scope.show.submasters) drop_foreign(scope, submaster);
}

}  // namespace tallow::show
