// The sheets of a show on one layout of a desk: fit, presets, recordings, run list, chases, and what the desk
// cannot do.
#pragma once

#include "compiler/emit/sheet.hpp"
#include "compiler/show/show.hpp"
#include "compiler/track/book.hpp"

namespace tallow::desk {

// `layout` is an index into Desk::layouts; none: the one that loses least. The desk has a layout, or the set
// holds the fit sheet alone.
emit::SheetSet make_sheets(const show::Show& show, track::Book& book, const show::Desk& desk,
                           show::Index layout);

}  // namespace tallow::desk
