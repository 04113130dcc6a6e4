// From the show to a roll: the last step of the compiler proper.
#pragma once

#include "compiler/show/show.hpp"
#include "compiler/track/book.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::lower {

// The show must be free of errors. The same show gives the same roll on every machine.
runtime::Roll lower(const show::Show& show, track::Book& book);

}  // namespace tallow::lower
