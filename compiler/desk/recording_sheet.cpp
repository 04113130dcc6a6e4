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

constexpr std::size_t reason_on_paper = 8;  // cells: more have no room on a line

class Maker {
  public:
    Maker(const OnDesk& on, const Recordings& plan, const Chases& chases)
        : on_(on), plan_(plan), chases_(chases) {}

    Sheet run() {
        Sheet sheet{"recordings", "Recordings and run list", {}, {}, {}};
        add_count(sheet);
        add_how(sheet);
        add_mixing(sheet);
        add_recordings(sheet);
        sheet.tables.push_back(run_table());
        sheet.tables.push_back(move_table());
        sheet.tables.push_back(reason_table());
        return sheet;
    }

  private:
    void add_count(Sheet& sheet) const {
        const std::string needed =
            plan_.can_be_kept ? fmt::format("{} give{} every cue within half a notch",
                                            counted(plan_.needed, "recording"), plan_.needed == 1 ? "s" : "")
                              : "No number of recordings was found that gives every cue within half a notch";
        sheet.notes.push_back(fmt::format("{}; the desk has room for {}.", needed, plan_.room));
        if (!plan_.kept) {
            Percent worst = 0;
            for (const RunStep& s : plan_.run) worst = std::max(worst, s.error);
            sheet.notes.push_back(
                fmt::format("TOO FEW: with {} levels are off by up to {}%; the run list says by how much "
                            "in each cue.",
                            counted(plan_.recordings.size(), "recording"), error_text(worst)));
        }
        if (plan_.reason.size() > 1) sheet.notes.push_back(reason_text());
    }

    std::string reason_text() const {
        std::vector<std::string> cells;
        for (const ReasonCell& r : plan_.reason)
            cells.push_back(fmt::format("cue {} channel {}", number(on_.show, r.cue),
                                        on_.pictures.channels[r.channel].number));
        return fmt::format(
            "No plan has fewer than {}, for each of these needs one of its own: {}. The table `reason` shows "
            "it: with each cue's least level on its own channel and the most that the cue allows on the "
            "other channels, the product of the least levels of any two is more than the product of the two "
            "levels across.",
            plan_.reason.size(), joined(cells));
    }

    void add_how(Sheet& sheet) const {
        sheet.notes.emplace_back("blank: zero; F: full; *40: move this fader before you record");
        sheet.notes.emplace_back(
            "On each channel the highest raised submaster counts: bring up what rises before you take down "
            "what falls. On the way, what is up mixes and may be brighter than either look.");
        if (on_.layout.pages > 1)
            sheet.notes.emplace_back(
                "Before a cue on another page, check that this desk holds a raised submaster over a page "
                "change.");
        if (!plan_.not_levels.empty())
            sheet.notes.push_back(fmt::format(
                "No levels: {}. Positions, speeds and the like go through other values while "
                "submasters move; where the desk can take them out of highest takes precedence, do.",
                channels_text(plan_.not_levels)));
    }

    void add_mixing(Sheet& sheet) const {
        std::vector<Index> cues, clashes;
        for (const RunStep& s : plan_.run) {
            if (!s.mixed.empty()) cues.push_back(s.cue);
            if (s.clash) clashes.push_back(s.cue);
        }
        if (!cues.empty())
            sheet.notes.push_back(
                fmt::format("COLOURS: in cue{} {} two raised submasters hold colour of one fixture. Its "
                            "colour is right only while both stand where they should; move them together.",
                            cues.size() == 1 ? "" : "s", numbers(on_.show, cues)));
        if (!clashes.empty())
            sheet.notes.push_back(
                fmt::format("PAGES: in cue{} {} one submaster would have to be up on two pages at once.",
                            clashes.size() == 1 ? "" : "s", numbers(on_.show, clashes)));
    }

    std::string place_text(std::size_t recording) const {
        const Place p = plan_.recordings[recording].place;
        return on_.layout.pages > 1 ? fmt::format("page {} sub {}", p.page, p.submaster)
                                    : fmt::format("sub {}", p.submaster);
    }

    void add_recordings(Sheet& sheet) const {
        Table table{
            "recordings", {{"page", true}, {"submaster", true}, {"first_cue", true}, {"cues"}}, {}, false};
        add_channel_columns(table, on_);
        std::vector<Percent> held(on_.width, 0);
        for (std::size_t i = 0; i < plan_.recordings.size(); ++i) {
            const Recording& r = plan_.recordings[i];
            SheetRow row{std::to_string(r.place.page), std::to_string(r.place.submaster),
                         number(on_.show, r.cues.front()), numbers(on_.show, r.cues)};
            add_channel_levels(row, on_, r.set);
            table.rows.push_back(std::move(row));
            std::vector<bool> moves;
            for (std::size_t c = 0; c < on_.width; ++c) moves.push_back(r.set[c] != held[c]);
            held = r.set;
            sheet.cards.push_back(
                {fmt::format("RECORD {}   from {}", place_text(i), title(on_.show, r.cues.front())),
                 "cues " + numbers(on_.show, r.cues),
                 {},
                 faders(on_, r.set, moves),
                 on_.layout.rows,
                 {}});
        }
        sheet.tables.push_back(std::move(table));
    }

    std::string moves_text(const RunStep& step, bool rising) const {
        std::vector<std::string> words;
        for (const SubmasterMove& m : step.moves)
            if ((m.to > m.from) == rising)
                words.push_back(fmt::format("{} to {}", place_text(m.recording),
                                            m.to == all_of_it ? "full" : text::decimal(m.to)));
        return joined(words);
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
                  {}};
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
                const Place p = plan_.recordings[m.recording].place;
                moves.rows.push_back({number(on_.show, step.cue), std::to_string(p.page),
                                      std::to_string(p.submaster), text::decimal(m.from),
                                      text::decimal(m.to)});
            }
        }
        return moves;
    }

    Table reason_table() const {
        Table reason{
            "reason", {{"cue", true}, {"channel", true}}, {}, plan_.reason.size() <= reason_on_paper};
        for (const ReasonCell& r : plan_.reason)
            reason.columns.push_back({std::to_string(on_.pictures.channels[r.channel].number), true});
        for (std::size_t i = 0; i < plan_.reason.size(); ++i) {
            const ReasonCell& r = plan_.reason[i];
            SheetRow row{number(on_.show, r.cue), std::to_string(on_.pictures.channels[r.channel].number)};
            for (std::size_t j = 0; j < r.highest.size(); ++j)
                row.push_back(text::decimal(i == j ? r.lowest : r.highest[j]));
            reason.rows.push_back(std::move(row));
        }
        return reason;
    }

    const OnDesk& on_;
    const Recordings& plan_;
    const Chases& chases_;
};

}  // namespace

Sheet recording_sheet(const OnDesk& on, const Recordings& plan, const Chases& chases) {
    return Maker(on, plan, chases).run();
}

}  // namespace tallow::desk
