#include "compiler/cues/cue_list.hpp"

#include "compiler/cues/picture.hpp"

namespace tallow::cues {

std::vector<ListedCue> list_cues(const show::Show& show, const source::Sources& sources, track::Book& book,
                                 Index list, const std::optional<std::vector<Element>>& only) {
    track::Tracker tracker(show, book, list, track::Origins::keep);
    const Stage stage{show, sources, book, tracker};
    Changes changes(stage);
    std::vector<ListedCue> all;
    while (tracker.next()) {
        ListedCue cue{tracker.index(), changes.take()};
        if (only)
            for (ChangeGroup& group : cue.changes)
                std::erase_if(group.elements, [&](const Element& e) {
                    return !covers(*only, e) && !(e.cell == 0 && touches(*only, e.fixture));
                });
        std::erase_if(cue.changes, [](const ChangeGroup& group) { return group.elements.empty(); });
        if (!only || !cue.changes.empty()) all.push_back(std::move(cue));
    }
    return all;
}

}  // namespace tallow::cues
