#include "compiler/text/text_index.hpp"

#include <algorithm>
#include <functional>
#include <utility>

namespace tallow::text {

void TextIndex::add(std::string_view text, std::uint32_t entry) {
    if (2 * ++count_ > slots_.size())
        for (const Slot& slot :
             std::exchange(slots_, std::vector<Slot>(std::max<std::size_t>(64, 2 * slots_.size()))))
            if (slot.entry != none) put(slot);
    put({hash_of(text), entry});
}

std::uint32_t TextIndex::hash_of(std::string_view text) {
    return static_cast<std::uint32_t>(std::hash<std::string_view>{}(text));
}

void TextIndex::put(Slot slot) {
    std::size_t at = first(slot.hash);
    while (slots_[at].entry != none) at = next(at);
    slots_[at] = slot;
}

}  // namespace tallow::text
