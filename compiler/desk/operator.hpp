// The operator's page: what one person does at each cue, for somebody who has never run a show.
#pragma once

#include "compiler/desk/looks.hpp"
#include "compiler/emit/sheet.hpp"

namespace tallow::desk {

// Two scenes take turns; without them submasters go up and down; on one scene faders move.
emit::Sheet operator_sheet(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
                           const Pictures& pictures, const Looks& looks);

}  // namespace tallow::desk
