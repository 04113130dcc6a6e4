// `look`.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/steps.hpp"

namespace tallow::show {
namespace {

constexpr std::uint64_t look_lines = 100'000;
constexpr std::uint64_t deepest_look = 200;

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

}  // namespace

void resolve_looks(Scope& scope, StatementReader& statements) {
    LookReader(scope, statements).run();
}

}  // namespace tallow::show
