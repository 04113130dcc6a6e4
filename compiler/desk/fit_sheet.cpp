#include <fmt/format.h>

#include "compiler/desk/sheet_makers.hpp"

namespace tallow::desk {
namespace {

using emit::Sheet;
using emit::Table;

void add_notes(Sheet& sheet, const show::Show& show, const show::Desk& desk, const Pictures& pictures,
               Index best) {
    const auto& channels = pictures.channels;
    sheet.notes.push_back(
        channels.empty()
            ? "The show uses no channel of this desk."
            : fmt::format(
                  "The show uses {}; the highest is {}. A channel is a slot of universe {}{}.",
                  counted(channels.size(), "channel"), channels.back().number, desk.universe,
                  desk.channels.empty() ? "" : ", but for those that a `channel` line puts elsewhere"));
    if (pictures.elsewhere > 0)
        sheet.notes.push_back(fmt::format("{} on no channel: this desk does not play {}.",
                                          counted(pictures.elsewhere, "fixture"),
                                          pictures.elsewhere == 1 ? "it" : "them"));
    if (show.lists.size() > 1)
        sheet.notes.push_back(
            fmt::format("These sheets follow the main cue list; the show has {} more, which hands have to "
                        "play beside it.",
                        counted(show.lists.size() - 1, "list")));
    if (show.lists[0].count == 0) sheet.notes.emplace_back("The show has no cues: there is nothing to set.");
    if (best == show::none)
        sheet.notes.emplace_back(
            "The desk has no layout: write `layout main 20 channels 2 scenes` under it.");
    else
        sheet.notes.push_back(fmt::format("The layout `{}` loses least.", desk.layouts[best].name));
    sheet.notes.emplace_back(
        "lost: settings of all cues that the layout cannot show; late: cues for which hands are too slow.");
}

Table fit_table(const show::Desk& desk, const std::vector<Fit>& fits, Index best) {
    Table table{"fit",
                {{"layout"}, {"best"}, {"fits"}, {"channels", true}, {"lost", true}, {"late", true}, {"why"}},
                {}};
    for (const Fit& f : fits) {
        const show::Layout& l = desk.layouts[f.layout];
        table.rows.push_back({l.name, f.layout == best ? "*" : "", f.fits() ? "yes" : "no",
                              std::to_string(l.channels), std::to_string(f.lost), std::to_string(f.late),
                              f.reason});
    }
    return table;
}

Table channel_table(const show::Desk& desk, const Pictures& pictures, const show::Layout* layout) {
    // On paper the hookup tells it where there is one.
    Table table{"channels", {{"channel", true}, {"slot"}, {"fader"}, {"what"}}, {}, layout == nullptr};
    for (const Channel& c : pictures.channels) {
        const bool inside = layout != nullptr && c.number <= layout->channels;
        const bool own = c.universe == desk.universe && c.slot == c.number;
        table.rows.push_back({std::to_string(c.number),
                              fmt::format("{}/{}{}", c.universe, c.slot, own ? "" : " *"),
                              !inside  ? "none"
                              : c.fine ? "blank"
                                       : "yes",
                              c.name});
    }
    return table;
}

}  // namespace

Sheet fit_sheet(const show::Show& show, const show::Desk& desk, const Pictures& pictures,
                const std::vector<Fit>& fits, Index best, const show::Layout* layout) {
    Sheet sheet{"fit", "Which layout the show fits", {}, {}, {}};
    add_notes(sheet, show, desk, pictures, best);
    sheet.tables = {fit_table(desk, fits, best), channel_table(desk, pictures, layout)};
    return sheet;
}

}  // namespace tallow::desk
