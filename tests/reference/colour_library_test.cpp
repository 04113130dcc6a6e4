// Conversions against an independent library: npm `colorjs.io` 0.7.1 (tests/reference/colours).
#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <fstream>
#include <functional>
#include <sstream>
#include <string>
#include <vector>

#include "compiler/colour/chromaticity.hpp"
#include "compiler/colour/srgb.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/random.hpp"

using namespace tallow::colour;
using tallow::test::quoted;

namespace {

// What is asked of the library, and our own answer.
struct Question {
    std::string text;
    Chromaticity ours;
};

constexpr double margin = 1e-6;

// A few hundred colours, each asked of the library and checked in both diagrams and back.
void compare(const std::string& name, const std::function<Question(tallow::test::Random&)>& ask) {
    const std::string folder = TALLOW_SOURCE_DIR "/tests/reference/colours";
    if (!tallow::test::installed("node") ||
        tallow::test::run("test -d " + quoted(folder + "/node_modules/colorjs.io")).code != 0) {
        WARN(
            "node or its library `colorjs.io` is not installed (`npm ci` in tests/reference/colours): "
            "nothing is compared");
        return;
    }
    tallow::test::Random random(11);
    std::vector<Question> questions;
    const std::string path = tallow::test::scratch("colours-" + name + ".txt");
    std::ofstream file(path);
    for (int n = 0; n < 400; ++n) {
        questions.push_back(ask(random));
        file << questions.back().text << '\n';
    }
    file.close();
    const auto ran = tallow::test::run("node " + quoted(folder + "/convert.mjs") + " " + quoted(path));
    INFO(ran.out.substr(0, 500));
    REQUIRE(ran.code == 0);
    std::istringstream answers(ran.out);
    for (const auto& [text, ours] : questions) {
        INFO(text);
        double x = -1, y = -1, u = -1, v = -1;
        REQUIRE(answers >> x >> y >> u >> v);
        CHECK(ours.x == Approx(x).epsilon(0).margin(margin));
        CHECK(ours.y == Approx(y).epsilon(0).margin(margin));
        CHECK(to_uv(ours).u == Approx(u).epsilon(0).margin(margin));
        CHECK(to_uv(ours).v == Approx(v).epsilon(0).margin(margin));
        CHECK(to_xy({u, v}).x == Approx(x).epsilon(0).margin(margin));
        CHECK(to_xy({u, v}).y == Approx(y).epsilon(0).margin(margin));
    }
}

}  // namespace

TEST_CASE("sRGB codes have the chromaticities that a colour library gives", "[reference][colour][library]") {
    compare("srgb", [](auto& random) {
        // A third are nearly black, where the decoding is straight.
        const int most = random.one_in(3) ? 16 : 256;
        const auto r = static_cast<std::uint8_t>(1 + random.below(most - 1)),
                   g = static_cast<std::uint8_t>(random.below(most)),
                   b = static_cast<std::uint8_t>(random.below(most));
        return Question{fmt::format("srgb {} {} {}", r / 255.0, g / 255.0, b / 255.0), *from_srgb(r, g, b)};
    });
}

TEST_CASE("hues have the chromaticities that a colour library gives", "[reference][colour][library]") {
    compare("hue", [](auto& random) {
        const double degrees = random.below(360'000) / 1e3, percent = random.below(100'001) / 1e3;
        return Question{fmt::format("hsv {} {} 100", degrees, percent), from_hue(degrees, percent / 100)};
    });
}

TEST_CASE("xyY and u'v' are those that a colour library gives", "[reference][colour][library]") {
    compare("xyz", [](auto& random) {
        // Every chromaticity of light, at luminances from a thousandth to ten.
        const double y = (1 + random.below(999)) / 1e3, x = (1 - y) * random.below(1001) / 1e3;
        const double luminance = (1 + random.below(10'000)) / 1e3;
        return Question{
            fmt::format("xyz {} {} {}", x / y * luminance, luminance, (1 - x - y) / y * luminance), {x, y}};
    });
}
