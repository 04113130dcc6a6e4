// grammar/LANGUAGE.md as its tests see it.
#pragma once

#include "tests/suite/page.hpp"

namespace tallow::test {

const std::string& language_page();
// The show that examples without a `show` line stand behind.
std::string language_rig();
// A whole show as it stands (it has a `show` line, or is marked `whole`), any other example behind the rig.
std::string show_of(const Block& block);

}  // namespace tallow::test
