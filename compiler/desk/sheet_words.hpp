// What the sheets of a desk have in common.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "compiler/desk/chases.hpp"
#include "compiler/desk/looks.hpp"
#include "compiler/desk/pictures.hpp"
#include "compiler/desk/recordings.hpp"
#include "compiler/desk/submasters/paging.hpp"
#include "compiler/emit/sheet.hpp"
#include "compiler/text/counted.hpp"

namespace tallow::desk {

using text::counted;
using SheetRow = std::vector<std::string>;

// A show on one layout of a desk.
struct OnDesk {
    const show::Show& show;
    const show::Desk& desk;
    const show::Layout& layout;
    const Pictures& pictures;
    std::size_t width;  // channels (into Pictures::channels) that the layout gives
};

std::string seconds(std::uint64_t milliseconds);            // `1.2`
std::string joined(const std::vector<std::string>& words);  // `a, b`
// In percent, rounded up to a hundredth: of an error, so that it is not understated by more than the show's
// own levels are rounded.
std::string error_text(Percent error);
std::string tenths(Percent level);  // in percent, to a tenth
std::string layout_text(const show::Layout& layout);

std::string number(const show::Show& show, Index cue);                        // `2.5`
std::string numbers(const show::Show& show, const std::vector<Index>& cues);  // `1, 2.5`
std::string title(const show::Show& show, Index cue);                         // `CUE 2.5  Gull`
std::string times_text(std::uint64_t up, std::uint64_t down);  // milliseconds: `5s`, `5s up, 3s down`
std::string fade_text(const show::Show& show, Index cue);      // the same; `cut`
// `The show leaves 4s: enough.`, or nothing where the show leaves it open.
std::string room_text(const std::optional<std::uint64_t>& room, bool in_time);
// `yes`, `no`, or nothing where the show leaves it open.
std::string in_time_text(const std::optional<std::uint64_t>& room, bool in_time);

// `Chase 1 runs: leave channels 4-6 down.` for each that does; empty: none.
std::string chases_text(const Chases& chases, const Pictures& pictures, Index cue);

// `start chase 1, stop chase 2`: those that begin or end at the cue; empty: none.
std::string chase_moves_text(const Chases& chases, Index cue);

// `sub 3`, or `page 2 sub 3` where the layout has pages.
std::string place_text(const OnDesk& on, submasters::Place place);
// `sub 3 to 70, sub 4 to full`: those that rise in a step, or those that fall.
std::string submaster_moves_text(const OnDesk& on, const Recordings& plan, const RunStep& step, bool rising);

// The faders of the whole layout, patched or not.
std::vector<emit::Fader> faders(const OnDesk& on, const std::vector<Percent>& set,
                                const std::vector<bool>& moves);

// What `keep` holds on the channels that the layout gives, and that the desk's own masters do not know of it;
// empty: nothing.
std::string keep_text(const OnDesk& on);

// A column for each channel that the layout gives, and the levels under them; none of a fine byte.
void add_channel_columns(emit::Table& table, const OnDesk& on);
void add_channel_levels(SheetRow& row, const OnDesk& on, const std::vector<Percent>& set);

}  // namespace tallow::desk
