// Reads the light of fixtures out of slots, by the words of the show's text alone: which slots a mode has,
// and where the patch puts them. It knows nothing of the compiler, so that it can judge it.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <vector>

namespace tallow::test {

struct PatchedBody {
    std::string type, mode;
    std::vector<std::string> slots;  // `red`, `3/red` of cell 3, `pan.fine`, `-`
    std::uint32_t cells = 0;
    int universe = 1, address = 1;
};

// All bodies of the patches in a show's text, by name and number (`front 3`, `house`). Types are those of
// `types` and of the text. Only what tests write is understood: a type's modes on one line each.
std::map<std::string, PatchedBody> read_patch(const std::string& types, const std::string& text);

// The text without its `patch` declarations.
std::string without_patches(const std::string& text);

// The byte of a slot.
using SlotOf = std::function<int(int universe, int slot)>;

// What a body gives: of each emitter (by cell: `3/red`) and dimmer its light, of 65535³; of every other
// parameter its value, of 65535.
struct BodyLight {
    std::map<std::string, std::uint64_t> shines, values;
};
BodyLight light_of(const PatchedBody& body, const SlotOf& slot);

// In words what differs between a body before and after, empty where it gives the same light: a mode of fewer
// cells lights several with each, one without the slot of an emitter leaves it dark, one without another slot
// leaves it as it is in `at_home`. Values count while the body is lit alone.
std::string difference(const PatchedBody& before, const BodyLight& was, const BodyLight& at_home,
                       const PatchedBody& after, const BodyLight& is);

}  // namespace tallow::test
