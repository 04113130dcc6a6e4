#include <fmt/format.h>

#include "compiler/desk/sheet_makers.hpp"

namespace tallow::desk {

emit::Sheet fidelity_sheet(const OnDesk& on, const std::vector<Fidelity>& cues) {
    emit::Sheet sheet{"fidelity", "How near the desk comes", {}, {}, {}};
    sheet.notes.push_back(summary(on.show, cues, on.desk.notch));
    sheet.notes.emplace_back(
        "Levels in percent of full. Colours as a distance Δu′v′: under 0.003 is close, above 0.007 is "
        "another "
        "colour.");
    emit::Table table{"fidelity",
                      {{"cue", true},
                       {"level_off", true},
                       {"channel", true},
                       {"colour_off", true},
                       {"fixture"},
                       {"in_time"},
                       {"waves"}},
                      {}};
    for (const Fidelity& f : cues)
        table.rows.push_back({number(on.show, f.cue), error_text(f.level),
                              f.level > 0 ? std::to_string(on.pictures.channels[f.channel].number) : "",
                              f.of ? fmt::format("{:.4f}", f.colour) : "",
                              f.of ? show::element_text(on.show, *f.of) : "", in_time_text(f.room, f.in_time),
                              joined(f.waves)});
    sheet.tables.push_back(std::move(table));
    return sheet;
}

}  // namespace tallow::desk
