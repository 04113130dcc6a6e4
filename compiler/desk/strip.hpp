// Labels for the faders of a desk.
#pragma once

#include "compiler/desk/pictures.hpp"
#include "compiler/emit/sheet.hpp"

namespace tallow::desk {

// A label for each channel of the layout, with its number and what it is; and one for each submaster, to be
// written on.
emit::Sheet strip_sheet(const show::Layout& layout, const Pictures& pictures);

}  // namespace tallow::desk
