// Shows that are hard to print, each with a desk `d` and its layout `pair`.
#pragma once

#include <string>
#include <vector>

namespace tallow::test {

struct PageShow {
    std::string name, text;
};

// First a plain one: 48 channels in two rows, two scenes. Then 512 channels, one channel, other scripts and
// quotes, and texts longer than a page.
const std::vector<PageShow>& page_shows();

// Cues over dimmers `lamp 1..channels`, about two in five of them lit in each.
std::string plain_show(std::size_t cues, std::size_t channels, const std::string& layout);

}  // namespace tallow::test
