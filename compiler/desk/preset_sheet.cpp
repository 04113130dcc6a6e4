#include <algorithm>
#include <fmt/format.h>

#include "compiler/desk/presets.hpp"
#include "compiler/desk/sheet_makers.hpp"
#include "runtime/duration.hpp"

namespace tallow::desk {
namespace {

using emit::Card;
using emit::Sheet;
using emit::Table;
using runtime::format_duration;

std::string scene_name(const Preset& p) {
    return p.scene ? std::string(1, static_cast<char>('A' + *p.scene)) : "";
}

std::string fade_words(const OnDesk& on, Index cue) {
    const std::string time = fade_text(on.show, cue);
    return time == "cut" ? time : (on.layout.scenes >= 2 ? "crossfade " : "fade ") + time;
}

// Whether two masters make a fade that takes time.
bool crossfades_by_masters(const OnDesk& on, const Preset& p) {
    const show::Times& times = on.show.cues[p.cue].times;
    return on.desk.dips && on.layout.scenes >= 2 && p.scene && std::max(times.up, times.down) > 0;
}

// How to crossfade where two masters make it.
std::string masters_text(const OnDesk& on, const Preset& p) {
    if (p.dips.empty()) return "Both masters together: nothing dips by more than a notch.";
    std::vector<std::uint32_t> channels;
    for (const std::size_t c : p.dips) channels.push_back(on.pictures.channels[c].number);
    const show::Times& times = on.show.cues[p.cue].times;
    const std::uint64_t half = std::max(times.up, times.down) / 2;
    return fmt::format(
        "Split the masters: bring the incoming one up in {0}, then take the outgoing one down in {0}. "
        "Together they would dip by {1}% ({2}).",
        format_duration(half), error_text(p.dip), channels_text(channels));
}

std::string moves_text(const std::vector<Preset>& presets) {
    std::size_t moves = 0, scenes = 0;
    for (const Preset& p : presets) {
        moves += p.move_count;
        scenes += p.scene.has_value();
    }
    return fmt::format("In all: {} for {}. A fader whose light is out stays where it is.",
                       counted(moves, "move"), counted(scenes, "picture"));
}

std::string hands_text(const Preset& p) {
    if (p.move_count == 0) return "No fader moves.";
    return fmt::format("Move {}: about {}.", counted(p.move_count, "fader"), format_duration(p.work)) +
           room_text(p.room, p.in_time());
}

Card card_of(const OnDesk& on, const Preset& p, const std::vector<Loss>& losses, const Chases& chases) {
    const show::Cue& cue = on.show.cues[p.cue];
    const std::string chase_moves = chase_moves_text(chases, p.cue);
    Card card;
    card.corner =
        fmt::format("{}   {}", p.scene ? "SCENE " + scene_name(p) : "NO SCENE", title(on.show, p.cue));
    card.right = fade_words(on, p.cue);
    if (!cue.on.empty()) card.above.push_back("on: " + cue.on);
    if (!cue.page.empty()) card.above.push_back("page: " + cue.page);
    if (!cue.note.empty()) card.above.push_back("note: " + cue.note);
    if (!p.scene) {
        card.right.clear();
        card.above.emplace_back(chase_moves.empty() ? "The picture stays as it is: touch nothing."
                                                    : "The picture stays as it is.");
    } else {
        card.above.push_back(hands_text(p));
        if (crossfades_by_masters(on, p)) card.above.push_back(masters_text(on, p));
        card.faders = faders(on, p.set, p.moves);
        card.rows = on.layout.rows;
    }
    if (!chase_moves.empty()) card.above.push_back("At the GO: " + chase_moves + ".");
    if (const std::string words = chases_text(chases, on.pictures, p.cue); !words.empty())
        card.above.push_back(words);
    for (const Loss& l : losses)
        if (l.cue == p.cue && l.kind != "rounding") card.below.push_back("! " + l.text);
    return card;
}

std::string moved_text(const OnDesk& on, const Preset& p) {
    std::vector<std::uint32_t> numbers;
    for (std::size_t c = 0; c < p.moves.size(); ++c)
        if (p.moves[c]) numbers.push_back(on.pictures.channels[c].number);
    return ranges_text(numbers);
}

SheetRow row_of(const OnDesk& on, const Preset& p) {
    const show::Cue& cue = on.show.cues[p.cue];
    SheetRow row{number(on.show, p.cue),
                 cue.label,
                 scene_name(p),
                 seconds(cue.times.up),
                 seconds(cue.times.down),
                 seconds(cue.times.delay),
                 std::to_string(p.move_count),
                 moved_text(on, p),
                 seconds(p.work),
                 p.room ? seconds(*p.room) : "",
                 in_time_text(p.room, p.in_time()),
                 crossfades_by_masters(on, p) ? error_text(p.dip) : ""};
    add_channel_levels(row, on, p.set);
    return row;
}

}  // namespace

Sheet preset_sheet(const OnDesk& on, const std::vector<Preset>& presets, const std::vector<Loss>& losses,
                   const Chases& chases) {
    const bool two = on.layout.scenes >= 2;
    Sheet sheet{"presets", two ? "Two-scene presets" : "Presets of one scene", {}, {}, {}};
    sheet.notes.emplace_back("blank: zero; F: full; *40: move this fader; *0: take it down");
    sheet.notes.emplace_back(two ? "Set the scene that is dark, then crossfade to it at the GO."
                                 : "The scene is live: move the marked faders in the time of the cue.");
    if (two && on.desk.dips)
        sheet.notes.emplace_back(
            "Two masters make the crossfade, and the highest counts: moved together, they let light dip that "
            "is on both scenes. Each cue says by how much, and how to split them.");
    sheet.notes.push_back(moves_text(presets));
    if (const std::string words = keep_text(on); !words.empty()) sheet.notes.push_back(words);
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
                 {"in_time"},
                 {"dip", true}},
                {},
                false};
    add_channel_columns(table, on);
    for (const Preset& p : presets) {
        table.rows.push_back(row_of(on, p));
        sheet.cards.push_back(card_of(on, p, losses, chases));
    }
    sheet.tables.push_back(std::move(table));
    return sheet;
}

}  // namespace tallow::desk
