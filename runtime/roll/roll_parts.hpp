// A roll's text, part by part: which keys stand in which order, and what each takes.
#pragma once

#include "runtime/roll/roll_check.hpp"
#include "runtime/roll/roll_place.hpp"

namespace tallow::runtime {

// The place of a whole roll, which is put into `roll` and checked part by part. Both outlive the place.
Place roll_place(Roll& roll, RollCheck& check);

}  // namespace tallow::runtime
