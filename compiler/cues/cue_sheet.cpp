#include "compiler/cues/cue_sheet.hpp"

#include <fmt/format.h>

#include "compiler/cues/cue_list.hpp"
#include "compiler/cues/words.hpp"
#include "compiler/show/trigger.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"

namespace tallow::cues {
namespace {

std::string seconds(std::uint64_t ms) {
    return text::decimal(static_cast<std::int64_t>(ms) * 1000);
}

void add(std::string& to, const std::string& more) {
    if (!to.empty() && !more.empty()) to += "; ";
    to += more;
}

std::string changes_text(const show::Show& show, const ListedCue& listed) {
    std::string words;
    for (const ChangeGroup& group : listed.changes) add(words, change_text(show, group));
    return words.empty() ? "nothing" : words;
}

std::string also_text(const show::Cue& cue) {
    std::string words = class_times_text(cue);
    add(words, manner_text(cue));
    if (!cue.page.empty()) add(words, "page " + cue.page);
    add(words, cue.note);
    return words;
}

emit::Sheet cue_sheet(const show::Show& show, const std::string& id, const std::string& title,
                      const std::vector<ListedCue>& cues) {
    emit::Table table{id,
                      {{"cue", true},
                       {"label"},
                       {"trigger"},
                       {"up_s", true},
                       {"down_s", true},
                       {"delay_s", true},
                       {"next"},
                       {"also"},
                       {"changes"}},
                      {}};
    for (const ListedCue& listed : cues) {
        const show::Cue& cue = show.cues[listed.cue];
        table.rows.push_back({runtime::cue_number(cue.number), cue.label,
                              show::trigger_text(show, listed.cue), seconds(cue.times.up),
                              seconds(cue.times.down), seconds(cue.times.delay), show::next_text(cue),
                              also_text(cue), changes_text(show, listed)});
    }
    emit::Sheet sheet{id, title, {}, {}, {std::move(table)}};
    if (cues.empty()) sheet.notes.emplace_back("The list has no cues.");
    return sheet;
}

}  // namespace

std::vector<emit::Sheet> cue_sheets(const show::Show& show, const source::Sources& sources,
                                    track::Book& book) {
    std::vector<emit::Sheet> all;
    for (Index list = 0; list < show.lists.size(); ++list) {
        const show::CueList& l = show.lists[list];
        const std::string id = list == 0 ? "cues" : "cues-" + l.name;
        const std::string title = list == 0 ? "Cue sheet" : fmt::format("Cue sheet of the list {}", l.name);
        all.push_back(cue_sheet(show, id, title, list_cues(show, sources, book, list, std::nullopt)));
    }
    return all;
}

}  // namespace tallow::cues
