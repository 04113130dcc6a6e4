#include "compiler/desk/strip.hpp"

#include <fmt/format.h>

namespace tallow::desk {
namespace {

// A dimmer's one parameter goes without saying.
std::string label_of(const Channel& channel) {
    static constexpr std::string_view dull = " intensity";
    std::string words = channel.name;
    if (words.ends_with(dull)) words.erase(words.size() - dull.size());
    return words;
}

}  // namespace

emit::Sheet strip_sheet(const show::Layout& layout, const Pictures& pictures) {
    emit::Strip strip{"channels", {}, layout.rows}, submasters{"submasters", {}, 1};
    emit::Table table{"strip", {{"fader", true}, {"row", true}, {"label"}}, {}, false};
    const std::uint32_t row = (layout.channels + layout.rows - 1) / layout.rows;
    for (std::uint32_t n = 1; n <= layout.channels; ++n) strip.labels.push_back({std::to_string(n), ""});
    for (const Channel& c : pictures.channels)
        if (c.number <= layout.channels) strip.labels[c.number - 1u].words = label_of(c);
    for (std::uint32_t n = 0; n < layout.channels; ++n)
        table.rows.push_back({strip.labels[n].number, std::to_string(n / row + 1), strip.labels[n].words});
    for (std::uint32_t n = 1; n <= layout.submasters; ++n)
        submasters.labels.push_back({std::to_string(n), ""});

    emit::Sheet sheet{"strip", "Fader labels to cut out", {}, {}, {std::move(table)}, {std::move(strip)}};
    sheet.notes.emplace_back(
        "One label for each fader, in the rows and the order of the desk. Print at 100 %, measure the check "
        "rule, then cut along the outer lines.");
    if (layout.scenes > 1)
        sheet.notes.push_back(
            fmt::format("Print the channels {} times: once for each scene.", layout.scenes));
    if (layout.submasters > 0) {
        sheet.notes.emplace_back("Write on a submaster's label what you record into it.");
        sheet.strips.push_back(std::move(submasters));
    }
    return sheet;
}

}  // namespace tallow::desk
