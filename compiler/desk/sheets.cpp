#include "compiler/desk/sheets.hpp"

#include <fmt/format.h>

#include "compiler/desk/addresses.hpp"
#include "compiler/desk/fit.hpp"
#include "compiler/desk/losses.hpp"
#include "compiler/desk/presets.hpp"
#include "compiler/desk/recordings.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"

namespace tallow::desk {
namespace {

using emit::Card;
using emit::Sheet;
using emit::Table;
using runtime::format_duration;
using Row = std::vector<std::string>;

constexpr const char* caution =
    "A planning aid: check every level on the real desk before an audience is in. Mains and work at height "
    "are "
    "for licensed or competent people, by the local code.";

std::string seconds(std::uint64_t ms) {
    return text::decimal(static_cast<std::int64_t>(ms) * 1000);
}
std::string counted(std::size_t n, std::string_view one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
}
std::string scene_name(const Preset& p) {
    return p.scene ? std::string(1, static_cast<char>('A' + *p.scene)) : "";
}

class Maker {
  public:
    Maker(const show::Show& show, track::Book& book, const show::Desk& desk, Index wanted)
        : show_(show),
          desk_(desk),
          pictures_(take_pictures(show, book, desk)),
          fits_(fit_layouts(show, desk, pictures_)),
          best_(best_layout(desk, fits_)),
          layout_(wanted == show::none ? best_ : wanted) {
        if (layout_ == show::none) return;
        looks_ = find_looks(pictures_, layout());
        losses_ = find_losses(show, book, layout(), pictures_);
    }

    emit::SheetSet run() {
        emit::SheetSet set{show_.title, show_.by, desk_.name, "none", "", caution, {}};
        if (!desk_.label.empty()) set.desk += fmt::format(" \"{}\"", desk_.label);
        set.sheets.push_back(fit_sheet());
        if (layout_ == show::none) return set;
        set.layout = fmt::format("{} ({})", layout().name, layout_text(layout()));
        if (layout().scenes > 0) set.sheets.push_back(preset_sheet());
        if (layout().submasters > 0 || layout().scenes == 0) set.sheets.push_back(recording_sheet());
        set.sheets.push_back(loss_sheet());
        set.sheets.push_back(address_sheet(show_, desk_));
        return set;
    }

  private:
    const show::Layout& layout() const { return desk_.layouts[layout_]; }

    static std::string layout_text(const show::Layout& l) {
        std::string words = counted(l.channels, "channel");
        if (l.scenes > 0) words += ", " + counted(l.scenes, "scene");
        if (l.submasters > 0) words += ", " + counted(l.submasters, "submaster");
        if (l.pages > 1) words += ", " + counted(l.pages, "page");
        return words;
    }

    std::string number(Index cue) const { return runtime::cue_number(show_.cues[cue].number); }

    Sheet fit_sheet() const {
        Sheet sheet{"fit", "Which layout the show fits", {}, {}, {}};
        const auto& channels = pictures_.channels;
        sheet.notes.push_back(
            channels.empty()
                ? "The show uses no channel of this desk."
                : fmt::format("The show uses {}; the highest is {}. A channel is a slot of universe {}{}.",
                              counted(channels.size(), "channel"), channels.back().number, desk_.universe,
                              desk_.channels.empty() ? "" : ", but for those marked `*`"));
        if (pictures_.elsewhere > 0)
            sheet.notes.push_back(fmt::format("{} on no channel: this desk does not play {}.",
                                              counted(pictures_.elsewhere, "fixture"),
                                              pictures_.elsewhere == 1 ? "it" : "them"));
        if (show_.lists.size() > 1)
            sheet.notes.push_back(fmt::format(
                "These sheets follow the main cue list; the show has {} more, which hands have to "
                "play beside it.",
                counted(show_.lists.size() - 1, "list")));
        if (show_.lists[0].count == 0)
            sheet.notes.emplace_back("The show has no cues: there is nothing to set.");
        if (best_ == show::none)
            sheet.notes.emplace_back(
                "The desk has no layout: write `layout main 20 channels 2 scenes` under it.");
        else
            sheet.notes.push_back(fmt::format("The layout `{}` loses least.", desk_.layouts[best_].name));
        Table table{
            "fit",
            {{"layout"}, {"best"}, {"fits"}, {"channels", true}, {"lost", true}, {"late", true}, {"why"}},
            {}};
        for (const Fit& f : fits_) {
            const show::Layout& l = desk_.layouts[f.layout];
            table.rows.push_back({l.name, f.layout == best_ ? "*" : "", f.fits() ? "yes" : "no",
                                  std::to_string(l.channels), std::to_string(f.lost), std::to_string(f.late),
                                  f.reason});
        }
        Table hookup{"channels", {{"channel", true}, {"slot"}, {"fader"}, {"what"}}, {}};
        for (const Channel& c : channels) {
            const bool inside = layout_ != show::none && c.number <= layout().channels;
            const bool own = c.universe == desk_.universe && c.slot == c.number;
            hookup.rows.push_back({std::to_string(c.number),
                                   fmt::format("{}/{}{}", c.universe, c.slot, own ? "" : " *"),
                                   !inside  ? "none"
                                   : c.fine ? "blank"
                                            : "yes",
                                   c.name});
        }
        sheet.notes.emplace_back(
            "lost: settings of all cues that the layout cannot show; late: cues for which hands are too "
            "slow.");
        sheet.tables = {std::move(table), std::move(hookup)};
        return sheet;
    }

    // The faders of the whole layout, patched or not.
    std::vector<emit::Fader> faders(const std::vector<Percent>& set, const std::vector<bool>& moves) const {
        std::vector<emit::Fader> all;
        for (std::uint32_t n = 1; n <= layout().channels; ++n) all.push_back({n, "", false});
        for (std::size_t c = 0; c < set.size(); ++c) {
            emit::Fader& f = all[pictures_.channels[c].number - 1u];
            f.level = set[c] == 0 ? "" : set[c] == all_of_it ? "F" : text::decimal(set[c]);
            f.moved = moves[c];
        }
        return all;
    }

    std::string fade_text(Index cue) const {
        const show::Times& t = show_.cues[cue].times;
        if (t.up == t.down) return t.up == 0 ? "cut" : format_duration(t.up);
        return fmt::format("up {} down {}", format_duration(t.up), format_duration(t.down));
    }

    std::string fade_words(Index cue) const {
        const std::string time = fade_text(cue);
        return time == "cut" ? time : (layout().scenes >= 2 ? "crossfade " : "fade ") + time;
    }

    std::string title(Index cue) const {
        const show::Cue& c = show_.cues[cue];
        return c.label.empty() ? "CUE " + number(cue) : fmt::format("CUE {}  {}", number(cue), c.label);
    }

    std::vector<std::string> losses_of(Index cue) const {
        std::vector<std::string> all;
        for (const Loss& l : losses_)
            if (l.cue == cue && l.kind != "rounding") all.push_back("! " + l.text);
        return all;
    }

    std::string hands_text(const Preset& p) const {
        if (p.move_count == 0) return "No fader moves.";
        std::string words =
            fmt::format("Move {}: about {}.", counted(p.move_count, "fader"), format_duration(p.work));
        if (!p.room) return words;
        words += fmt::format(" The show leaves {}: {}", format_duration(*p.room),
                             p.in_time() ? "enough." : "TOO SHORT for one pair of hands.");
        return words;
    }

    Card preset_card(const Preset& p) const {
        const show::Cue& cue = show_.cues[p.cue];
        Card card;
        card.corner = fmt::format("{}   {}", p.scene ? "SCENE " + scene_name(p) : "NO SCENE", title(p.cue));
        card.right = fade_words(p.cue);
        if (!cue.on.empty()) card.above.push_back("on: " + cue.on);
        if (!cue.page.empty()) card.above.push_back("page: " + cue.page);
        if (!cue.note.empty()) card.above.push_back("note: " + cue.note);
        if (!p.scene) {
            card.right.clear();
            card.above.emplace_back("The picture stays as it is: touch nothing.");
        } else {
            card.above.push_back(hands_text(p));
            card.faders = faders(p.set, p.moves);
            card.rows = layout().rows;
        }
        card.below = losses_of(p.cue);
        return card;
    }

    void add_channels(Table& table, Row* row, const std::vector<Percent>* set) const {
        for (std::size_t c = 0; c < looks_.width; ++c) {
            if (row == nullptr)
                table.columns.push_back({std::to_string(pictures_.channels[c].number), true});
            else
                row->push_back(pictures_.channels[c].fine ? "" : text::decimal((*set)[c]));
        }
    }

    std::string moved_text(const Preset& p) const {
        std::vector<std::uint32_t> numbers;
        for (std::size_t c = 0; c < p.moves.size(); ++c)
            if (p.moves[c]) numbers.push_back(pictures_.channels[c].number);
        return ranges_text(numbers);
    }

    Sheet preset_sheet() const {
        const bool two = layout().scenes >= 2;
        Sheet sheet{"presets", two ? "Two-scene presets" : "Presets of one scene", {}, {}, {}};
        sheet.notes.emplace_back("blank: zero; F: full; *40: move this fader; *0: take it down");
        sheet.notes.push_back(two ? "Set the scene that is dark, then crossfade to it at the GO."
                                  : "The scene is live: move the marked faders in the time of the cue.");
        if (two && desk_.dips)
            sheet.notes.emplace_back(
                "This crossfader dips: move the incoming master first, then the outgoing one.");
        Table table{"presets",
                    {{"cue", true},
                     {"label"},
                     {"scene"},
                     {"up_s", true},
                     {"down_s", true},
                     {"delay_s", true},
                     {"moves", true},
                     {"moved"},
                     {"work_s", true},
                     {"room_s", true},
                     {"in_time"}},
                    {},
                    false};
        add_channels(table, nullptr, nullptr);
        for (const Preset& p : make_presets(show_, desk_, layout(), pictures_, looks_)) {
            const show::Cue& cue = show_.cues[p.cue];
            Row row{number(p.cue),
                    cue.label,
                    scene_name(p),
                    seconds(cue.times.up),
                    seconds(cue.times.down),
                    seconds(cue.times.delay),
                    std::to_string(p.move_count),
                    moved_text(p),
                    seconds(p.work),
                    p.room ? seconds(*p.room) : "",
                    !p.room       ? ""
                    : p.in_time() ? "yes"
                                  : "no"};
            add_channels(table, &row, &p.set);
            table.rows.push_back(std::move(row));
            sheet.cards.push_back(preset_card(p));
        }
        sheet.tables.push_back(std::move(table));
        return sheet;
    }

    static std::string place_text(const Recording& r, bool pages) {
        if (r.page == 0) return "no room";
        return pages ? fmt::format("page {} sub {}", r.page, r.submaster)
                     : fmt::format("sub {}", r.submaster);
    }

    std::string cues_text(const Recording& r) const {
        std::string words;
        for (const Index cue : r.cues) words += (words.empty() ? "" : ", ") + number(cue);
        return words;
    }

    Card recording_card(const Recording& r, std::vector<Percent>& held) const {
        std::vector<Percent> set = pictures_.cues[r.first_cue].set;
        set.resize(looks_.width);
        std::vector<bool> moves;
        for (std::size_t c = 0; c < set.size(); ++c) moves.push_back(set[c] != held[c]);
        Card card;
        card.corner = fmt::format("RECORD {}   {}", place_text(r, layout().pages > 1), title(r.first_cue));
        card.right = "cues " + cues_text(r);
        card.faders = faders(set, moves);
        card.rows = layout().rows;
        held = std::move(set);
        return card;
    }

    Table run_table(const std::vector<Recording>& recordings) const {
        Table run{"run", {{"cue", true}, {"up"}, {"down"}, {"up_s", true}, {"down_s", true}, {"label"}}, {}};
        const auto place = [&](Index look) {
            return look == show::none ? std::string() : place_text(recordings[look], layout().pages > 1);
        };
        for (const RunStep& step : make_run(looks_)) {
            const show::Cue& cue = show_.cues[step.cue];
            run.rows.push_back({number(step.cue), place(step.up), place(step.down), seconds(cue.times.up),
                                seconds(cue.times.down), cue.label});
        }
        return run;
    }

    Sheet recording_sheet() const {
        const auto recordings = make_recordings(looks_, layout());
        const std::size_t room = std::size_t{layout().submasters} * layout().pages;
        Sheet sheet{"recordings", "Recordings and run list", {}, {}, {}};
        sheet.notes.push_back(
            fmt::format("{}, room for {}{}", counted(recordings.size(), "distinct look"), room,
                        recordings.size() > room ? fmt::format(": {} too many; those cues cannot be "
                                                               "played from this desk's submasters",
                                                               recordings.size() - room)
                                                 : "."));
        sheet.notes.emplace_back("blank: zero; F: full; *40: move this fader before you record");
        sheet.notes.emplace_back(
            "On each channel the highest raised submaster counts: bring the new one up before the old one "
            "goes "
            "down. While both are up, colours mix and are brighter than either look.");
        if (layout().pages > 1)
            sheet.notes.emplace_back(
                "Before a cue on another page, check that this desk holds a raised submaster over a page "
                "change.");
        Table table{
            "recordings", {{"page", true}, {"submaster", true}, {"first_cue", true}, {"cues"}}, {}, false};
        add_channels(table, nullptr, nullptr);
        std::vector<Percent> held(looks_.width, 0);
        for (const Recording& r : recordings) {
            Row row{r.page == 0 ? "" : std::to_string(r.page), r.page == 0 ? "" : std::to_string(r.submaster),
                    number(r.first_cue), cues_text(r)};
            add_channels(table, &row, &pictures_.cues[r.first_cue].set);
            table.rows.push_back(std::move(row));
            sheet.cards.push_back(recording_card(r, held));
        }
        sheet.tables = {std::move(table), run_table(recordings)};
        return sheet;
    }

    Sheet loss_sheet() const {
        Sheet sheet{"losses", "What this desk cannot do", {}, {}, {}};
        sheet.notes.push_back(losses_.empty() ? "It can do all that the show asks for."
                                              : "Each is computed from the show; levels in percent of full.");
        Table table{"losses", {{"cue", true}, {"kind"}, {"what"}}, {}};
        for (const Loss& l : losses_) table.rows.push_back({number(l.cue), l.kind, l.text});
        sheet.tables.push_back(std::move(table));
        return sheet;
    }

    const show::Show& show_;
    const show::Desk& desk_;
    Pictures pictures_;
    std::vector<Fit> fits_;
    Index best_, layout_;
    Looks looks_;
    std::vector<Loss> losses_;
};

}  // namespace

emit::SheetSet make_sheets(const show::Show& show, track::Book& book, const show::Desk& desk,
                           show::Index layout) {
    return Maker(show, book, desk, layout).run();
}

}  // namespace tallow::desk
