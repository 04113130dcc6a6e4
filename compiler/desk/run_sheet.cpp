#include <fmt/format.h>

#include "compiler/desk/sheet_makers.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/duration.hpp"

namespace tallow::desk {
namespace {

using emit::Card;
using emit::Sheet;
using emit::Table;
using runtime::format_duration;

constexpr const char* taken_over_words =
    "! one submaster falls on one page and rises on another: DOWN first, and its light is out between";

class Maker {
  public:
    Maker(const OnDesk& on, const Recordings& plan, const Chases& chases)
        : on_(on), plan_(plan), chases_(chases) {}

    Sheet run() {
        Sheet sheet{"run", "Run list", {}, {}, {}};
        sheet.notes.emplace_back(
            "Bring up what rises before you take down what falls: on each channel the highest raised "
            "submaster counts. On the way, what is up mixes and may be brighter than either look.");
        if (on_.layout.pages > 1)
            sheet.notes.emplace_back(
                "Before a cue on another page, check that this desk holds a raised submaster over a page "
                "change.");
        add_mixing(sheet);
        for (const RunStep& step : plan_.run) sheet.cards.push_back(card_of(step));
        sheet.tables = {run_table(), move_table()};
        return sheet;
    }

  private:
    void add_mixing(Sheet& sheet) const {
        std::vector<Index> cues, clashes, taken_over;
        for (const RunStep& s : plan_.run) {
            if (!s.mixed.empty()) cues.push_back(s.cue);
            if (s.clash) clashes.push_back(s.cue);
            if (s.taken_over) taken_over.push_back(s.cue);
        }
        if (!cues.empty())
            sheet.notes.push_back(
                fmt::format("COLOURS: in {} two raised submasters hold colour of one fixture. Its "
                            "colour is right only while both stand where they should; move them together.",
                            cues_text(cues)));
        if (!taken_over.empty())
            sheet.notes.push_back(
                fmt::format("PAGES: in {} one submaster falls on one page and rises on another. Take it down "
                            "first, turn the "
                            "page, then bring it up: its light is out between.",
                            cues_text(taken_over)));
        if (!clashes.empty())
            sheet.notes.push_back(fmt::format(
                "PAGES: in {} one submaster would have to be up on two pages at once.", cues_text(clashes)));
    }

    std::string cues_text(const std::vector<Index>& cues) const {
        return (cues.size() == 1 ? "cue " : "cues ") + numbers(on_.show, cues);
    }

    Card card_of(const RunStep& step) const {
        const show::Cue& cue = on_.show.cues[step.cue];
        Card card;
        card.corner = title(on_.show, step.cue);
        card.right = fade_text(on_.show, step.cue);
        if (!cue.on.empty()) card.above.push_back("on: " + cue.on);
        const std::string up = moves_text(step, true), down = moves_text(step, false);
        if (!up.empty()) card.above.push_back("UP    " + up);
        if (!down.empty()) card.above.push_back("DOWN  " + down);
        card.above.push_back(hands_text(step));
        if (const std::string words = chase_moves_text(chases_, step.cue); !words.empty())
            card.above.push_back("At the GO: " + words + ".");
        if (const std::string words = chases_text(chases_, on_.pictures, step.cue); !words.empty())
            card.above.push_back(words);
        if (!step.mixed.empty()) card.below.push_back("! colour in two submasters: " + joined(step.mixed));
        if (step.taken_over) card.below.emplace_back(taken_over_words);
        if (step.clash) card.below.emplace_back("! one submaster would have to be up on two pages at once");
        if (!step.glow.empty())
            card.below.push_back(fmt::format("! {} should be dark and will glow at up to {}%",
                                             channels_text(step.glow), error_text(step.brightest_glow)));
        if (!plan_.kept)
            card.below.push_back(fmt::format("! levels are off by up to {}%", error_text(step.error)));
        return card;
    }

    static std::string hands_text(const RunStep& step) {
        if (step.moves.empty()) return "No submaster moves.";
        return fmt::format("{}: about {}.", counted(step.moves.size(), "move"), format_duration(step.work)) +
               room_text(step.room, step.in_time());
    }

    std::string moves_text(const RunStep& step, bool rising) const {
        return submaster_moves_text(on_, plan_, step, rising);
    }

    Table run_table() const {
        Table run{"run",
                  {{"cue", true},
                   {"up"},
                   {"down"},
                   {"up_s", true},
                   {"down_s", true},
                   {"moves", true},
                   {"work_s", true},
                   {"room_s", true},
                   {"in_time"},
                   {"off", true},
                   {"chases"},
                   {"label"}},
                  {},
                  false};
        for (const RunStep& step : plan_.run) {
            const show::Cue& cue = on_.show.cues[step.cue];
            run.rows.push_back({number(on_.show, step.cue), moves_text(step, true), moves_text(step, false),
                                seconds(cue.times.up), seconds(cue.times.down),
                                std::to_string(step.moves.size()), seconds(step.work),
                                step.room ? seconds(*step.room) : "", in_time_text(step.room, step.in_time()),
                                error_text(step.error), chases_in(step.cue), cue.label});
        }
        return run;
    }

    std::string chases_in(Index cue) const {
        std::vector<std::string> numbers;
        for (const Chase& c : chases_.chases)
            if (std::binary_search(c.cues.begin(), c.cues.end(), cue))
                numbers.push_back(std::to_string(c.number));
        return joined(numbers);
    }

    Table move_table() const {
        Table moves{"moves",
                    {{"cue", true}, {"page", true}, {"submaster", true}, {"from", true}, {"to", true}},
                    {},
                    false};
        for (const RunStep& step : plan_.run) {
            for (const SubmasterMove& m : step.moves) {
                const submasters::Place p = plan_.recordings[m.recording].place;
                moves.rows.push_back({number(on_.show, step.cue), std::to_string(p.page),
                                      std::to_string(p.submaster), text::decimal(m.from),
                                      text::decimal(m.to)});
            }
        }
        return moves;
    }

    const OnDesk& on_;
    const Recordings& plan_;
    const Chases& chases_;
};

}  // namespace

Sheet run_sheet(const OnDesk& on, const Recordings& plan, const Chases& chases) {
    return Maker(on, plan, chases).run();
}

}  // namespace tallow::desk
