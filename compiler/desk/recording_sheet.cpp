#include <fmt/format.h>

#include "compiler/desk/sheet_makers.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::desk {
namespace {

using emit::Sheet;
using emit::Table;

constexpr std::size_t reason_on_paper = 8;  // cells: more have no room on a line

class Maker {
  public:
    Maker(const OnDesk& on, const Recordings& plan) : on_(on), plan_(plan) {}

    Sheet run() {
        Sheet sheet{"recordings", "Recordings", {}, {}, {}};
        add_count(sheet);
        add_how(sheet);
        add_recordings(sheet);
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
                fmt::format("NOT EXACT: with {} levels are off by up to {}%; the run list says by how much "
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
        sheet.notes.emplace_back("On each channel the highest raised submaster counts.");
        if (const std::string words = keep_text(on_); !words.empty()) sheet.notes.push_back(words);
        if (!plan_.not_levels.empty())
            sheet.notes.push_back(fmt::format(
                "No levels: {}. Positions, speeds and the like go through other values while "
                "submasters move; where the desk can take them out of highest takes precedence, do.",
                channels_text(plan_.not_levels)));
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
            sheet.cards.push_back({fmt::format("RECORD {}   from {}", place_text(on_, r.place),
                                               title(on_.show, r.cues.front())),
                                   "cues " + numbers(on_.show, r.cues),
                                   {},
                                   faders(on_, r.set, moves),
                                   on_.layout.rows,
                                   {}});
        }
        sheet.tables.push_back(std::move(table));
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
                row.push_back(text::decimal(text::rounded(i == j ? r.lowest : r.highest[j], 1000) * 1000));
            reason.rows.push_back(std::move(row));
        }
        return reason;
    }

    const OnDesk& on_;
    const Recordings& plan_;
};

}  // namespace

Sheet recording_sheet(const OnDesk& on, const Recordings& plan) {
    return Maker(on, plan).run();
}

}  // namespace tallow::desk
