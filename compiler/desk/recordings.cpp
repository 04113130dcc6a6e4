#include "compiler/desk/recordings.hpp"

namespace tallow::desk {

std::vector<Recording> make_recordings(const Looks& looks, const show::Layout& layout) {
    std::vector<Recording> recordings;
    for (Index look = 0; look < looks.first.size(); ++look) {
        Recording r{looks.first[look], {}, 0, 0};
        if (look < layout.submasters * layout.pages) {
            r.page = look / layout.submasters + 1;
            r.submaster = look % layout.submasters + 1;
        }
        recordings.push_back(std::move(r));
    }
    for (Index cue = 0; cue < looks.of_cue.size(); ++cue)
        if (looks.of_cue[cue] != show::none) recordings[looks.of_cue[cue]].cues.push_back(cue);
    return recordings;
}

std::vector<RunStep> make_run(const Looks& looks) {
    std::vector<RunStep> run;
    Index before = show::none;
    for (Index cue = 0; cue < looks.of_cue.size(); ++cue) {
        const Index look = looks.of_cue[cue];
        if (look == before)
            run.push_back({cue, show::none, show::none});
        else
            run.push_back({cue, look, before});
        before = look;
    }
    return run;
}

}  // namespace tallow::desk
