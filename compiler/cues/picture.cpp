#include "compiler/cues/picture.hpp"

#include <algorithm>

namespace tallow::cues {
namespace {

// Takes pictures of fixtures one by one, and puts those together that do the same.
class Photographer {
  public:
    Photographer(const Stage& stage, const std::optional<std::vector<Element>>& only)
        : stage_(stage), only_(only) {
        picture_.cue = stage.tracker.index();
    }

    Picture run() {
        for (Index f = 0; f < stage_.show.fixtures.size(); ++f)
            if (stage_.show.fixtures[f].leader == f) take(f);
        return std::move(picture_);
    }

  private:
    bool wanted(Element element) const { return !only_ || covers(*only_, element); }

    void take(Index fixture) {
        const std::uint16_t cells = stage_.show.mode_of(stage_.show.fixtures[fixture]).cells;
        std::vector<Group> cell_groups;
        bool any = wanted({fixture, 0}), whole = any;
        for (std::uint16_t cell = 1; cell <= cells; ++cell) {
            if (!wanted({fixture, cell})) continue;
            any = true;
            cell_groups.push_back({{{fixture, cell}}, said({fixture, cell})});
        }
        if (!any) return;
        count(fixture);
        std::vector<Aspect> own = said({fixture, 0});
        const bool agree = std::all_of(cell_groups.begin(), cell_groups.end(),
                                       [&](const Group& g) { return g.aspects == cell_groups[0].aspects; });
        if (whole && agree) {
            if (cells > 0)
                own.insert(own.end(), cell_groups[0].aspects.begin(), cell_groups[0].aspects.end());
            cell_groups.clear();
        }
        if (only_ || lit(stage_, {fixture, 0})) add({{{fixture, 0}}, std::move(own)});
        for (Group& group : cell_groups)
            if (only_ || lit(stage_, group.elements[0])) add(std::move(group));
    }

    // What is worth saying of a fixture or cell; who asks for one is told what was stated there at home too.
    std::vector<Aspect> said(Element element) const {
        std::vector<Aspect> all = aspects(stage_, element);
        std::erase_if(all, [&](const Aspect& a) {
            return at_home(stage_, a) && !(only_ && a.from.statement != show::none);
        });
        return all;
    }

    void count(Index fixture) {
        if (lit(stage_, {fixture, 0})) {
            ++picture_.lit;
            return;
        }
        ++picture_.dark;
        bool preset = false, waving = false;
        const std::uint16_t cells = stage_.show.mode_of(stage_.show.fixtures[fixture]).cells;
        for (std::uint16_t cell = 0; cell <= cells; ++cell)
            for (const Aspect& aspect : said({fixture, cell})) {
                waving = waving || aspect.what == "wave";
                preset = preset || (aspect.what != "wave" && aspect.what != "level");
            }
        picture_.preset += preset;
        picture_.waving += waving;
    }

    void add(Group group) {
        if (group.aspects.empty()) return;
        const auto same = std::find_if(picture_.groups.begin(), picture_.groups.end(),
                                       [&](const Group& g) { return g.aspects == group.aspects; });
        if (same == picture_.groups.end())
            picture_.groups.push_back(std::move(group));
        else
            same->elements.push_back(group.elements[0]);
    }

    const Stage& stage_;
    const std::optional<std::vector<Element>>& only_;
    Picture picture_;
};

}  // namespace

bool covers(const std::vector<Element>& selected, Element element) {
    return std::any_of(selected.begin(), selected.end(), [&](const Element& s) {
        return s == element || s == Element{element.fixture, 0};
    });
}

bool touches(const std::vector<Element>& selected, Index fixture) {
    return std::any_of(selected.begin(), selected.end(),
                       [&](const Element& s) { return s.fixture == fixture; });
}

Picture take_picture(const Stage& stage, const std::optional<std::vector<Element>>& only) {
    return Photographer(stage, only).run();
}

}  // namespace tallow::cues
