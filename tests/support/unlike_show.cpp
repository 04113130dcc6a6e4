#include "tests/support/unlike_show.hpp"

#include <fmt/format.h>
#include <iterator>

#include "tests/support/random.hpp"

namespace tallow::test {
namespace {

constexpr int types = 10, fixtures = 2000, palettes = 500;

// A measured flux and place, so that no two types are alike.
std::string emitter(const char* name, double x, double y, Random& random) {
    return fmt::format("    emitter {}  xy {:.4f} {:.4f}  {} lm\n", name, x + random.below(100) * 1e-4,
                       y - random.below(100) * 1e-4, 20 + random.below(200));
}

int emitters_of(int type) {
    return 3 + type % 5;
}

std::string type_text(int type, Random& random) {
    constexpr struct {
        const char* name;
        double x, y;
    } all[] = {{"red", .680, .310},   {"green", .170, .700}, {"blue", .140, .060}, {"amber", .570, .420},
               {"white", .320, .340}, {"cyan", .080, .480},  {"lime", .400, .545}};
    std::string text = fmt::format("type kind-{}\n", type), mode = "    mode m ";
    for (int e = 0; e < emitters_of(type); ++e) {
        text += emitter(all[e].name, all[e].x, all[e].y, random);
        mode += fmt::format(" {}", all[e].name);
    }
    return text + mode + "\n";
}

}  // namespace

std::string unlike_show(std::uint64_t seed) {
    Random random(seed);
    std::string text = "show \"Unlike fixtures\"  tallow 1\n";
    for (int t = 0; t < types; ++t) text += type_text(t, random);
    int universe = 0;
    for (int t = 0; t < types; ++t)
        for (int first = 1; first <= fixtures / types; first += 50)
            text +=
                fmt::format("patch {}/1\n    bar-{} {}..{}  kind-{}\n", ++universe, t, first, first + 49, t);
    for (int p = 0; p < palettes; ++p)
        text += fmt::format("palette p-{}  #{:06x}\n", p, 0x101010 + random.below(0xe0e0e0));
    for (int p = 0; p < palettes; ++p)
        text += fmt::format("cue {}\n    all  p-{} {}%\n", p + 1, p, 1 + random.below(100));
    return text;
}

}  // namespace tallow::test
