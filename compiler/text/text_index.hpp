// Finds entries of a list by their texts. It keeps neither: a look-up costs one place of its own and one of
// the list, however many there are.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace tallow::text {

class TextIndex {
  public:
    static constexpr std::uint32_t none = 0xffffffff;

    // The entry of this text, or none. `text_of` gives the text that an entry was added with.
    template <class TextOf>
    std::uint32_t find(std::string_view text, TextOf text_of) const {
        if (slots_.empty()) return none;
        const std::uint32_t hash = hash_of(text);
        for (std::size_t at = first(hash);; at = next(at)) {
            const Slot& slot = slots_[at];
            if (slot.entry == none || (slot.hash == hash && text_of(slot.entry) == text)) return slot.entry;
        }
    }
    // Adds an entry of a text that has none yet.
    void add(std::string_view text, std::uint32_t entry);

  private:
    struct Slot {
        std::uint32_t hash = 0, entry = none;
    };
    static std::uint32_t hash_of(std::string_view text);
    std::size_t first(std::uint32_t hash) const { return hash & (slots_.size() - 1); }
    std::size_t next(std::size_t at) const { return (at + 1) & (slots_.size() - 1); }
    void put(Slot slot);

    std::vector<Slot> slots_;  // a power of two of them, half of which at the most are taken
    std::size_t count_ = 0;
};

}  // namespace tallow::text
