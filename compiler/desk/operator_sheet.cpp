#include <algorithm>
#include <fmt/format.h>
#include <map>

#include "compiler/desk/presets.hpp"
#include "compiler/desk/sheet_makers.hpp"
#include "compiler/show/trigger.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/timecode.hpp"

namespace tallow::desk {
namespace {

using runtime::format_duration;

// What hands do at a cue, and until the next one.
struct Work {
    std::string now, meanwhile;
};

class Maker {
  public:
    Maker(const OnDesk& on, const std::vector<Preset>& presets, const Recordings* recordings,
          const Chases& chases)
        : on_(on),
          show_(on.show),
          layout_(on.layout),
          presets_(presets),
          recordings_(recordings),
          chases_(chases) {}

    emit::Sheet run() {
        std::vector<Work> work = recordings_ == nullptr ? scenes() : submasters();
        add_chases(work);
        for (Work& w : work)
            if (w.now.empty()) w.now = nothing;
        emit::Table table{
            "operator",
            {{"cue", true}, {"label"}, {"listen_for"}, {"do"}, {"time"}, {"meanwhile"}, {"then"}},
            {}};
        for (Index cue = 0; cue < work.size(); ++cue)
            table.rows.push_back({number(cue), show_.cues[cue].label, call(cue), work[cue].now,
                                  work[cue].now == nothing ? "" : fade(cue), work[cue].meanwhile, then(cue)});
        return {"operator", "The operator's page", notes(), {}, {std::move(table)}};
    }

  private:
    static constexpr const char* nothing = "touch nothing";

    std::vector<std::string> notes() const {
        std::vector<std::string> all;
        all.emplace_back(
            layout_.scenes >= 2
                ? "At each cue bring its scene's master up while the other one goes down, in the "
                  "time given. Meanwhile set the faders of the scene that is then dark."
            : recordings_ != nullptr
                ? "At each cue bring up what is named first, then take down the rest, in the time given."
                : "At each cue move the faders that are named, in the time given.");
        if (const std::string words = before_the_show(); !words.empty())
            all.push_back("BEFORE THE SHOW: " + words + ".");
        if (const std::string words = keep_text(on_); !words.empty()) all.push_back(words);
        all.emplace_back(
            "LOST? Leave the light as it is: nobody in the house knows what should come. Find by the words "
            "to "
            "listen for where the play is, make the next cue on this page ready, and go on at its call. If "
            "it is "
            "too dark to be safe on stage, bring the house light up first.");
        if (show_.lists[0].count == 0) all.emplace_back("The show has no cues: there is nothing to do.");
        return all;
    }

    std::string number(Index cue) const { return runtime::cue_number(show_.cues[cue].number); }

    std::string fade(Index cue) const {
        const show::Times& t = show_.cues[cue].times;
        const std::string wait = t.delay == 0 ? "" : fmt::format("wait {}, then ", format_duration(t.delay));
        return wait + (t.up == 0 && t.down == 0 ? "at once" : times_text(t.up, t.down));
    }

    std::string call(Index at) const {
        const show::Cue& cue = show_.cues[at];
        const std::string words = cue.on.empty() ? uncalled(at) : cue.on;
        return cue.page.empty() ? words : fmt::format("{} (page {})", words, cue.page);
    }

    // No manual desk goes on by itself: hands begin what the show would start.
    std::string uncalled(Index at) const {
        std::vector<std::string> when;
        if (const auto& cue = show_.cues[at]; cue.timecode != runtime::no_timecode)
            when.push_back("at timecode " + runtime::format_timecode(cue.timecode, show_.timecode_rate));
        if (const Index before = show::starter(show_, at); before != show::none)
            when.push_back(after(before, "cue " + number(before)));
        return when.empty() ? "GO" : fmt::format("no call: begin {}", fmt::join(when, ", or "));
    }

    std::string then(Index cue) const {
        const Index next = show::next_cue(show_, cue);
        if (next == show::none || show::starter(show_, next) == show::none) return "";
        return fmt::format("begin cue {} without a call, {}", number(next), after(cue, "this one"));
    }

    // When a cue that another one starts has to begin.
    std::string after(Index cue, const std::string& which) const {
        const std::uint64_t ms = show_.cues[cue].next_ms;
        return fmt::format("{} {} {}", ms == 0 ? "as soon as" : format_duration(ms) + " after", which,
                           show_.cues[cue].next == runtime::Next::follow ? "is complete" : "began");
    }

    // `1-3 at F, 7 at 40`: the faders that move.
    std::string settings(const Preset& p) const {
        std::map<Percent, std::vector<std::uint32_t>, std::greater<>> by_level;
        for (std::size_t c = 0; c < p.moves.size(); ++c)
            if (p.moves[c]) by_level[p.set[c]].push_back(on_.pictures.channels[c].number);
        std::string words;
        for (const auto& [level, channels] : by_level)
            words += fmt::format("{}{} at {}", words.empty() ? "" : "; ", ranges_text(channels),
                                 level == all_of_it ? "F" : text::decimal(level));
        return words;
    }

    std::vector<Work> scenes() const {
        const bool two = layout_.scenes >= 2;
        std::vector<Work> all(presets_.size());
        const Preset* next = nullptr;
        for (std::size_t i = presets_.size(); i-- > 0;) {
            const Preset& p = presets_[i];
            if (!p.scene) continue;
            all[i].now = two ? std::string("master to ") + static_cast<char>('A' + *p.scene) : settings(p);
            if (two && next != nullptr)
                all[i].meanwhile = next->move_count == 0 ? fmt::format("{} for cue {} stands ready",
                                                                       scene(*next), number(next->cue))
                                                         : set_text(*next);
            next = &p;
        }
        return all;
    }

    static char scene(const Preset& p) { return static_cast<char>('A' + *p.scene); }

    // What rises, then what falls; and the page that the next cue is on.
    std::vector<Work> submasters() const {
        std::vector<Work> all;
        std::uint32_t page = 1;
        for (const RunStep& step : recordings_->run) {
            Work work;
            // What rises comes first, but for a submaster that is still up on another page.
            work.now = submaster_moves_text(on_, *recordings_, step, !step.taken_over);
            const std::string then = submaster_moves_text(on_, *recordings_, step, step.taken_over);
            const std::uint32_t next = step.moves.empty() ? page : page_of(step);
            const std::string turn = next == page ? "" : fmt::format("turn to page {}", next);
            if (step.taken_over)
                work.now += fmt::format(", {}, then {}", turn.empty() ? "turn the page" : turn, then);
            else if (!then.empty())
                work.now += (work.now.empty() ? "" : ", then ") + then;
            if (!step.taken_over && !all.empty()) all.back().meanwhile = turn;
            page = next;
            all.push_back(std::move(work));
        }
        return all;
    }

    void add_chases(std::vector<Work>& work) const {
        for (Index cue = 0; cue < work.size(); ++cue)
            if (const std::string words = chase_moves_text(chases_, cue); !words.empty())
                work[cue].now += (work[cue].now.empty() ? "" : "; ") + words;
    }

    // What has to stand ready at the first GO: the first scene, or the page of the first submaster.
    std::string before_the_show() const {
        if (recordings_ == nullptr) {
            const auto first =
                std::find_if(presets_.begin(), presets_.end(), [](const Preset& p) { return p.scene; });
            if (layout_.scenes < 2 || first == presets_.end()) return {};
            return set_text(*first);
        }
        for (const RunStep& step : recordings_->run)
            if (!step.moves.empty()) {
                const std::uint32_t page = page_of(step);
                return page == 1 ? std::string() : fmt::format("turn to page {}", page);
            }
        return {};
    }

    // `set B for cue 2: 3 at F; 1-2 at 50`.
    std::string set_text(const Preset& p) const {
        return fmt::format("set {} for cue {}: {}", scene(p), number(p.cue), settings(p));
    }

    // That the first move of a step needs.
    std::uint32_t page_of(const RunStep& step) const {
        return recordings_->recordings[step.moves.front().recording].place.page;
    }

    const OnDesk& on_;
    const show::Show& show_;
    const show::Layout& layout_;
    const std::vector<Preset>& presets_;
    const Recordings* recordings_;
    const Chases& chases_;
};

}  // namespace

emit::Sheet operator_sheet(const OnDesk& on, const std::vector<Preset>& presets, const Recordings* recordings,
                           const Chases& chases) {
    return Maker(on, presets, recordings, chases).run();
}

}  // namespace tallow::desk
