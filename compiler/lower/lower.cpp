#include "compiler/lower/lower.hpp"

#include "compiler/lower/cues.hpp"
#include "compiler/lower/hands.hpp"
#include "compiler/lower/rig.hpp"

namespace tallow::lower {

runtime::Roll lower(const show::Show& show, track::Book& book) {
    runtime::Roll roll;
    roll.title = show.title;
    roll.by = show.by;
    roll.refresh = show.refresh;
    roll.timecode_rate = show.timecode_rate;
    add_rig(show, roll);
    Sources sources(show, book, roll);
    for (Index list = 0; list < show.lists.size(); ++list) add_list(show, book, list, sources, roll);
    add_submasters(show, book, sources, roll);
    add_keeps(book.floors, roll);
    add_panic(show, book, sources, roll);
    sources.number();
    return roll;
}

}  // namespace tallow::lower
