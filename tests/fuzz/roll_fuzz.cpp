#include "tests/fuzz/roll_fuzz.hpp"

#include <stdexcept>
#include <string_view>

#include "runtime/engine/engine.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::test {
namespace {

using namespace runtime;

constexpr std::size_t longest = 1 << 20;  // bytes of an input

void play(const Roll& roll) {
    Engine engine(roll);
    const auto lists = static_cast<std::uint32_t>(roll.lists.size());
    const auto submasters = static_cast<std::uint32_t>(roll.submasters.size());
    Tick t = 0;
    engine.timecode(0, 0);
    for (std::uint32_t step = 0; step < 12; ++step, t += 1 + 1777 * step) {
        engine.advance(t);
        if (step % 2 == 0) engine.go(step / 2 % lists, t);
        if (step % 5 == 4) engine.back(step % lists, t);
        if (step % 7 == 6) engine.hold(step % lists, t);
        if (submasters > 0) engine.set_submaster(step % submasters, step % 3 == 0 ? Level{0} : full, t);
        if (step % 4 == 3) engine.set_master(level_half, t);
        if (step % 4 == 1) engine.set_panic(step % 8 == 1, t);
    }
    // A week later, all at once.
    engine.advance(t + 604800000 * Tick{roll.refresh});
}

}  // namespace

bool fuzz_roll(std::span<const std::uint8_t> bytes) {
    if (bytes.size() > longest) return false;
    const auto read = read_roll({reinterpret_cast<const char*>(bytes.data()), bytes.size()});
    if (!read.ok()) {
        if (read.why().empty()) throw std::logic_error("a refusal without a reason");
        return false;
    }
    const auto again = read_roll(write_roll(*read));
    if (!again.ok()) throw std::logic_error("a roll that was read is refused once written: " + again.why());
    play(*read);
    return true;
}

}  // namespace tallow::test
