#include "tests/fuzz/mutate.hpp"

#include <algorithm>

#include "tests/support/random.hpp"

namespace tallow::test {
namespace {

void change(std::string& text, Random& random) {
    const auto at = random.below(text.size() + 1);
    const auto length = std::min<std::size_t>(text.size() - at, 1 + random.below(8u));
    switch (random.below(6)) {
        case 0:
            if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << random.below(8)));
            break;
        case 1:
            if (at < text.size()) text[at] = static_cast<char>(random.bits());
            break;
        case 2:
            text.erase(at, length);
            break;
        case 3:
            text.insert(at, text.substr(random.below(text.size() + 1), length));
            break;
        case 4:
            text.insert(at, 1, static_cast<char>('0' + random.below(10)));
            break;
        case 5:
            text.resize(random.one_in(8) ? at : text.size());
            break;
    }
}

}  // namespace

std::string mutate(std::string_view base, std::uint64_t seed) {
    Random random(seed);
    std::string text(base);
    const unsigned changes = 1 + random.below(8u);
    for (unsigned i = 0; i < changes; ++i) change(text, random);
    return text;
}

}  // namespace tallow::test
