#include "compiler/desk/sheets.hpp"

#include <fmt/format.h>

#include "compiler/desk/addresses.hpp"
#include "compiler/desk/cue_data.hpp"
#include "compiler/desk/sheet_makers.hpp"
#include "compiler/desk/staging.hpp"
#include "compiler/desk/strip.hpp"

namespace tallow::desk {
namespace {

constexpr const char* caution =
    "A planning aid: check every level on the real desk before an audience is in. Mains and work at height "
    "are for licensed or competent people, by the local code.";

void add_sheets(emit::SheetSet& set, const OnDesk& on, track::Book& book, const Fit& fit,
                const Chases& chases) {
    // One scene alone is moved in sight: submasters that keep every cue are better.
    const bool recorded =
        fit.recordings && (on.layout.scenes == 0 || (on.layout.scenes == 1 && fit.recordings->kept));
    const Recordings* by_submasters = recorded ? &*fit.recordings : nullptr;
    const std::vector<Preset> presets =
        make_presets(on.show, on.desk, on.layout, on.pictures, find_looks(on.pictures, on.layout));
    const Given given = recorded ? given_by(*by_submasters, on.width) : given_by(presets);
    const std::vector<Loss> losses =
        find_losses(on.show, book, on.layout, on.pictures, chases, given, by_submasters);
    if (!presets.empty()) set.sheets.push_back(preset_sheet(on, presets, losses, chases));
    if (fit.recordings) {
        set.sheets.push_back(recording_sheet(on, *fit.recordings));
        set.sheets.push_back(run_sheet(on, *fit.recordings, chases));
    }
    if (!chases.chases.empty()) set.sheets.push_back(chase_sheet(on, chases));
    set.sheets.push_back(
        fidelity_sheet(on, judge(on.show, on.pictures, chases, given, presets, by_submasters)));
    set.sheets.push_back(loss_sheet(on, losses));
    set.sheets.push_back(operator_sheet(on, presets, by_submasters, chases));
    set.sheets.push_back(address_sheet(on.show, on.desk));
    set.sheets.push_back(strip_sheet(on.layout, on.pictures));
    set.cues = cue_data(on.show, on.pictures, on.width);
}

}  // namespace

emit::SheetSet make_sheets(const show::Show& show, track::Book& book, const show::Desk& desk,
                           show::Index wanted) {
    const Stagings stagings(show, book, desk);
    const std::vector<Fit> fits = fit_layouts(show, desk, stagings);
    const Index best = best_layout(desk, fits);
    const Index at = wanted == show::none ? best : wanted;
    const show::Layout* layout = at == show::none ? nullptr : &desk.layouts[at];

    emit::SheetSet set{show.title, show.by, desk.name, "none", "", caution, {}};
    if (!desk.label.empty()) set.desk += fmt::format(" \"{}\"", desk.label);
    set.sheets.push_back(fit_sheet(show, desk, stagings.pictures(), fits, best, layout));
    if (layout == nullptr) return set;
    set.layout = fmt::format("{} ({})", layout->name, layout_text(*layout));
    const auto& [pictures, chases] = stagings.on(*layout);
    const std::size_t width = width_of(pictures, *layout);
    add_sheets(set, {show, desk, *layout, pictures, width}, book, fits[at], chases);
    return set;
}

}  // namespace tallow::desk
