#include "tests/support/large_show.hpp"

#include <fmt/format.h>
#include <iterator>

#include "tests/support/random.hpp"

namespace tallow::test {
namespace {

constexpr int fixtures = 2000, per_name = 20, palettes = 60, looks = 40;
constexpr const char* types[] = {"dimmer", "par-rgb", "par-rgbw", "par-rgbaw", "strip-6", "head"};
constexpr int footprints[] = {1, 3, 4, 5, 18, 9};

struct Text {
    std::string text;
    std::size_t lines = 0;
    template <class... Args>
    void line(fmt::format_string<Args...> format, Args&&... args) {
        fmt::format_to(std::back_inserter(text), format, std::forward<Args>(args)...);
        text += '\n';
        ++lines;
    }
};

void write_rig(Text& out) {
    int universe = 0, slot = 513;
    for (int name = 0; name < fixtures / per_name; ++name) {
        const std::size_t type = static_cast<std::size_t>(name) % std::size(types);
        if (slot + per_name * footprints[type] > 513) {
            slot = 1;
            out.line("patch {}/1", ++universe);
        }
        out.line("    bar-{}  1..{}  {}", name, per_name, types[type]);
        slot += per_name * footprints[type];
    }
    for (int g = 0; g < 20; ++g)
        out.line("group area-{}  bar-{}, bar-{} 1..10, bar-{} odd", g, 6 * (g % 16) + 1, g + 30, g + 60);
}

std::string selection(Random& random) {
    switch (random.below(4)) {
        case 0:
            return fmt::format("area-{}", random.below(20));
        case 1:
            return fmt::format("bar-{} {}..{}", random.below(100), 1 + random.below(10),
                               11 + random.below(10));
        case 2:
            return fmt::format("bar-{} {}, {}", random.below(100), 1 + random.below(10),
                               11 + random.below(10));
        default:
            return fmt::format("bar-{} {}", random.below(100), 1 + random.below(20));
    }
}

void write_setting_line(Text& out, Random& random) {
    const std::string who = selection(random);
    switch (random.below(6)) {
        case 0:
            out.line("    {:<22}  {}%  fade {}s", who, random.below(101), random.below(9));
            break;
        case 1:
            out.line("    area-{:<17}  mood-{}  {}%", random.below(20), random.below(palettes),
                     random.below(101));
            break;
        default:
            out.line("    {:<22}  {}%", who, random.below(101));
    }
}

}  // namespace

std::string large_show(std::size_t lines, std::uint64_t seed) {
    Random random(seed);
    Text out;
    out.line("show \"A large show\"  tallow 1");
    write_rig(out);
    for (int p = 0; p < palettes; ++p)
        out.line("palette mood-{}  #{:06x}", p, 0x101010 + random.below(0xe0e0e0));
    out.line("wave swell  sine  period 4s  wavelength 8");
    out.line("    intensity  30% .. full");
    for (int l = 0; l < looks; ++l) {
        out.line("look picture-{}", l);
        for (int i = 0; i < 8; ++i) write_setting_line(out, random);
    }
    out.line("cue 0.5  \"Preset\"  cut");
    out.line("    all  mood-0");  // else each fixture that comes up without a colour is a warning
    for (int cue = 1; out.lines < lines; ++cue) {
        out.line("cue {}  \"Moment {}\"  up {}s  down {}s", cue, cue, random.below(9), random.below(9));
        if (random.one_in(8)) out.line("    look picture-{}", random.below(looks));
        if (random.one_in(50)) out.line("    bar-4 cells  wave swell");
        for (int i = 0; i < 8; ++i) write_setting_line(out, random);
    }
    return out.text;
}

}  // namespace tallow::test
