#include "compiler/desk/fit.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>
#include <tuple>

#include "compiler/desk/dark.hpp"
#include "compiler/text/counted.hpp"

namespace tallow::desk {
namespace {

// What lies past the last channel or on none, and, where the desk has no scene, what submasters are off by
// too much.
std::uint64_t count_lost(const Pictures& pictures, const Masters& masters, std::size_t width, const Fit& fit,
                         bool scenes) {
    std::uint64_t lost = scenes ? 0 : fit.recordings->lost;
    for (const auto& pushed : pictures.pushed_lit) lost += pushed.size();
    for (const Picture& p : pictures.cues)
        for (std::size_t c = width; c < pictures.channels.size(); ++c) lost += lights(p, masters, c);
    return lost;
}

std::size_t count_late(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
                       const Pictures& pictures, const Looks& looks, const Fit& fit) {
    std::size_t late = 0;
    for (const Preset& p : make_presets(show, desk, layout, pictures, looks)) late += !p.in_time();
    if (layout.scenes == 0)
        for (const RunStep& step : fit.recordings->run) late += !step.in_time();
    return late;
}

std::string submasters_text(const Recordings& r) {
    if (!r.can_be_kept) return fmt::format("; no number of submasters gives every cue (it has {})", r.room);
    return fmt::format("; {} needed for every cue, {} there{}", text::counted(r.needed, "submaster"), r.room,
                       r.kept ? "" : ": too few");
}

// Lit slots that `channel` lines took off the desk.
std::size_t count_pushed(const Pictures& pictures) {
    std::set<Index> lit;
    for (const auto& cue : pictures.pushed_lit) lit.insert(cue.begin(), cue.end());
    return lit.size();
}

std::string reason(const show::Layout& layout, const Fit& fit) {
    std::string words =
        fit.outside.empty()
            ? fmt::format("every channel that a cue lights is within {}", layout.channels)
            : fmt::format("no fader for {} ({})", text::counted(fit.outside.size(), "lit channel"),
                          ranges_text(fit.outside));
    if (fit.pushed > 0)
        words += fmt::format("; {} on no channel, by the desk's `channel` lines",
                             text::counted(fit.pushed, "lit slot"));
    if (layout.scenes >= 2)
        words += "; two scenes take turns";
    else if (layout.scenes == 1)
        words += "; one scene: every change is made by hand in sight";
    else
        words += "; no scene: played from recordings";
    if (layout.submasters > 0) words += submasters_text(*fit.recordings);
    if (layout.scenes == 0 && layout.submasters == 0) words += ", and it has no submaster to record into";
    if (fit.late > 0) words += "; hands are too slow for " + text::counted(fit.late, "cue");
    return words;
}

}  // namespace

std::vector<Fit> fit_layouts(const show::Show& show, const show::Desk& desk, const Stagings& stagings) {
    std::vector<Fit> fits;
    const std::size_t pushed = count_pushed(stagings.pictures());
    const Masters masters = masters_of(show, stagings.pictures(), stagings.pictures().channels.size());
    for (Index l = 0; l < desk.layouts.size(); ++l) {
        const show::Layout& layout = desk.layouts[l];
        const Pictures& pictures = stagings.on(layout).pictures;
        const Looks looks = find_looks(pictures, layout);
        Fit fit;
        fit.layout = l;
        if (layout.submasters > 0 || layout.scenes == 0)
            fit.recordings = make_recordings(show, desk, layout, pictures);
        for (std::size_t c = looks.width; c < pictures.channels.size(); ++c)
            if (std::any_of(pictures.cues.begin(), pictures.cues.end(),
                            [&](const Picture& p) { return lights(p, masters, c); }))
                fit.outside.push_back(pictures.channels[c].number);
        fit.pushed = pushed;
        fit.lost = count_lost(pictures, masters, looks.width, fit, layout.scenes > 0);
        fit.late = count_late(show, desk, layout, pictures, looks, fit);
        fit.reason = reason(layout, fit);
        fits.push_back(std::move(fit));
    }
    return fits;
}

Index best_layout(const show::Desk& desk, const std::vector<Fit>& fits) {
    const auto rank = [&](const Fit& f) {
        const bool two = desk.layouts[f.layout].scenes >= 2, recorded = f.recordings && f.recordings->kept;
        return std::tuple(f.lost, f.late, two ? 0 : recorded ? 1 : 2);
    };
    const auto best = std::min_element(fits.begin(), fits.end(),
                                       [&](const Fit& a, const Fit& b) { return rank(a) < rank(b); });
    return best == fits.end() ? show::none : best->layout;
}

}  // namespace tallow::desk
