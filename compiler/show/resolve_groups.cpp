// `group`: named selections, in whatever order they are declared.

#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/steps.hpp"

namespace tallow::show {
namespace {

enum class Progress : std::uint8_t { untouched, open, done, broken };

class GroupReader {
  public:
    GroupReader(Scope& scope, Selector& selector)
        : scope_(scope), selector_(selector), places_(scope.declarations(Word::group)) {}

    void run() {
        for (Index i = 0; i < places_.size(); ++i) {
            Reader header = scope_.header(places_[i]);
            const auto name = scope_.new_name(header, "the name of the group");
            if (name) scope_.declare(scope_.rig, header, {Symbol::Kind::group, i, header.last(), *name});
        }
        progress_.resize(places_.size(), Progress::untouched);
        selector_.need_group = [this](Index group, Reader& user) { return need(group, user); };
        for (const Index i : in_order()) resolve(i);
        selector_.need_group = [](Index, Reader&) { return true; };
        for (Index i = 0; i < places_.size(); ++i)
            if (progress_[i] == Progress::broken) kill(i);
    }

  private:
    Reader name_reader(Index group) const { return scope_.header(places_[group]); }

    // The groups that a group's lines name.
    std::vector<Index> needs(Index group) const {
        std::vector<Index> needed;
        const syntax::Document& document = *places_[group].document;
        const syntax::Declaration& d = *places_[group].declaration;
        for (std::uint32_t i = d.header; i < d.last; i = i == d.header ? std::max(d.first, i + 1) : i + 1) {
            const Reader line = scope_.reader(document, document.lines[i]);
            for (std::size_t a = i == d.header ? 2 : 0; line.peek(a) != nullptr; ++a) {
                if (!line.next_is(AtomKind::word, a)) continue;
                const Symbol* symbol = scope_.rig.find(line.name_text(*line.peek(a)));
                if (symbol != nullptr && symbol->kind == Symbol::Kind::group) needed.push_back(symbol->index);
            }
        }
        return needed;
    }

    // Every group behind those that it names, found without recursion. One that is still to come when it is
    // named stands in a circle.
    std::vector<Index> in_order() const {
        struct Step {
            Index group;
            std::vector<Index> needs;
        };
        std::vector<Index> order;
        std::vector<bool> seen(places_.size());
        for (Index root = 0; root < places_.size(); ++root) {
            std::vector<Step> way;
            if (!seen[root]) way.push_back({root, needs(root)});
            seen[root] = true;
            while (!way.empty()) {
                if (way.back().needs.empty()) {
                    order.push_back(way.back().group);
                    way.pop_back();
                    continue;
                }
                const Index next = way.back().needs.back();
                way.back().needs.pop_back();
                if (!seen[next]) way.push_back({next, needs(next)});
                seen[next] = true;
            }
        }
        return order;
    }

    void kill(Index group) {
        Reader header = name_reader(group);
        if (const auto name = header.name("")) scope_.rig.kill(*name);
    }

    bool need(Index group, Reader& user) {
        if (progress_[group] == Progress::open || progress_[group] == Progress::untouched) {
            Reader header = name_reader(group);
            user.fault(Finding::cycle, user.last(),
                       fmt::format("the group `{}` is a part of itself", user.text(*header.peek())))
                .see(header.here(), "declared here");
            return false;
        }
        return progress_[group] == Progress::done;
    }

    void resolve(Index group) {
        progress_[group] = Progress::open;
        bool broken = false;
        balanced_ = false;
        std::vector<Element> all;
        Reader header = name_reader(group);
        const std::string name = header.next_is(AtomKind::word) ? header.name_text(header.take()) : "";
        if (header.next_is(AtomKind::string)) header.string();
        bool goes_on = false;
        scope_.each_line(places_[group], [&](Reader&) { goes_on = true; });
        if (!goes_on && header.at_end()) header.expected("a selection such as `front, side`");
        if (!header.at_end()) all = read_row(header, broken);
        scope_.each_line(places_[group], [&](Reader& line) {
            const bool takes_away = line.take(Word::except);
            const std::vector<Element> row = read_row(line, broken);
            if (takes_away)
                Selector::take_away(all, row);
            else
                all.insert(all.end(), row.begin(), row.end());
        });
        selector_.unify(all);
        if (balanced_) balance(header, name, all);
        selector_.add_group(group, std::move(all));
        progress_[group] = broken || header.muted() ? Progress::broken : Progress::done;
    }

    std::vector<Element> read_row(Reader& reader, bool& broken) {
        std::vector<Element> row = selector_.evaluate(reader, broken, true);
        if (!broken && reader.take(Word::balanced)) reader.once(balanced_, "balanced");
        if (!broken) reader.expect_end();
        broken = broken || reader.muted();
        return row;
    }

    // `balanced`: from now on, whatever line colours them.
    void balance(Reader& header, const std::string& name, const std::vector<Element>& elements) {
        Show& show = scope_.show;
        const auto index = static_cast<Index>(show.balances.size());
        const Span span = header.whole();
        Balance balance{name, {}, span};
        for (const Element& e : elements) {
            Fixture& fixture = show.fixtures[e.fixture];
            if (fixture.balance != none && fixture.balance != index) {
                const Balance& other = show.balances[fixture.balance];
                header
                    .fault(Finding::placed_twice, span,
                           fmt::format("`{}` is in the balanced group `{}` already", fixture_text(fixture),
                                       other.group))
                    .see(other.span, "here");
                break;
            }
            if (std::exchange(fixture.balance, index) == index) continue;
            if (std::find(balance.types.begin(), balance.types.end(), fixture.type) == balance.types.end())
                balance.types.push_back(fixture.type);
        }
        show.balances.push_back(std::move(balance));
    }

    Scope& scope_;
    Selector& selector_;
    std::vector<Place> places_;
    std::vector<Progress> progress_;
    bool balanced_ = false;  // the group that is being resolved
};

}  // namespace

void resolve_groups(Scope& scope, Selector& selector) {
    GroupReader(scope, selector).run();
}

}  // namespace tallow::show
