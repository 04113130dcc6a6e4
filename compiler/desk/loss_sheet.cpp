#include "compiler/desk/sheet_makers.hpp"

namespace tallow::desk {

emit::Sheet loss_sheet(const OnDesk& on, const std::vector<Loss>& losses) {
    emit::Sheet sheet{"losses", "What this desk cannot do", {}, {}, {}};
    sheet.notes.emplace_back(losses.empty() ? "It can do all that the show asks for."
                                            : "Each is computed from the show; levels in percent of full.");
    emit::Table table{"losses", {{"cue", true}, {"kind"}, {"what"}}, {}};
    for (const Loss& l : losses) table.rows.push_back({number(on.show, l.cue), l.kind, l.text});
    sheet.tables.push_back(std::move(table));
    return sheet;
}

}  // namespace tallow::desk
