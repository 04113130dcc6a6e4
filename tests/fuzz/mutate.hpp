// Spoilt copies of good input, the same for the same seed on every machine.
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>
#include <string_view>

#include "tests/support/random.hpp"

namespace tallow::test {

// `base` with one to eight of: a byte changed, a bit turned, a piece cut out, doubled, or overwritten with
// extremes, the end cut off.
inline std::string mutate(std::string_view base, std::uint64_t seed) {
    Random random(seed);
    std::string s(base);
    for (std::uint64_t turns = 1 + random.below(8); turns > 0; --turns) {
        const std::size_t at = random.below(s.size() + 1);
        const std::size_t length = random.below(std::min<std::uint64_t>(s.size() - at, 64) + 1);
        switch (random.below(6)) {
            case 0:
                if (at < s.size()) s[at] = static_cast<char>(random.bits());
                break;
            case 1:
                if (at < s.size()) s[at] = static_cast<char>(s[at] ^ 1 << random.below(8));
                break;
            case 2:
                s.erase(at, length);
                break;
            case 3:
                s.insert(at, s.substr(at, length));
                break;
            case 4:
                s.replace(at, length, length, random.below(2) ? '\xff' : '\0');
                break;
            default:
                s.resize(at);
                break;
        }
    }
    return s;
}

}  // namespace tallow::test
