// Unlike fixtures that can both reach a palette agree in it: shows from their text to the levels in their
// rolls. Which of them can is found here by triangles, and their light by adding up XYZ: neither is the
// solver's way. Source: "Colour" of grammar/LANGUAGE.md.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fmt/format.h>
#include <map>

#include "compiler/colour/srgb.hpp"
#include "compiler/colour/typical.hpp"
#include "runtime/engine/picture.hpp"
#include "runtime/files.hpp"
#include "tests/support/colour_mix.hpp"
#include "tests/support/played.hpp"
#include "tests/support/random.hpp"

using namespace tallow;
using colour::Chromaticity;

namespace {

constexpr double agreed = .002;  // Δu′v′
constexpr std::size_t palettes = 500;

// A fixture of the rig: the keys of its emitters in the roll, and what they are.
struct Lamp {
    std::vector<std::string> keys;
    std::vector<colour::Emitter> emitters;
};

// Twice the area of a triangle, above 0 where it turns left.
double area(Chromaticity a, Chromaticity b, Chromaticity c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

// Lights mix along straight lines of xy: what three of them can show is their triangle.
bool reaches(const std::vector<colour::Emitter>& emitters, Chromaticity target) {
    for (const auto& [a, flux_a] : emitters)
        for (const auto& [b, flux_b] : emitters)
            for (const auto& [c, flux_c] : emitters)
                if (area(a, b, c) > 0 && area(a, b, target) >= 0 && area(b, c, target) >= 0 &&
                    area(c, a, target) >= 0)
                    return true;
    return false;
}

// What a palette came to on all that can reach it.
class Agreement {
  public:
    void take(const std::string& palette, Chromaticity target, const std::string& lamp,
              const std::vector<colour::Emitter>& emitters, const std::vector<double>& levels) {
        if (!reaches(emitters, target)) return;
        const Chromaticity shown = support::mix(emitters, levels);
        for (const auto& [other, xy] : shown_[palette]) {
            INFO(palette << " on " << lamp << " and on " << other);
            const double apart = colour::distance_uv(shown, xy);
            CHECK(apart <= agreed);
            worst_ = std::max(worst_, apart);
            ++pairs_;
        }
        INFO(palette << " on " << lamp);
        CHECK(colour::distance_uv(shown, target) <= agreed / 2);
        shown_[palette].emplace_back(lamp, shown);
    }
    std::size_t pairs() const { return pairs_; }
    double worst() const { return worst_; }

  private:
    std::map<std::string, std::vector<std::pair<std::string, Chromaticity>>> shown_;
    std::size_t pairs_ = 0;
    double worst_ = 0;
};

const std::vector<std::vector<colour::Emitter>> measured = {
    {{{.690, .308}, 95}, {{.190, .715}, 150}, {{.145, .045}, 30}},
    {{{.681, .318}, 210}, {{.225, .690}, 333}, {{.151, .052}, 41}, {{.441, .403}, 402}},
    {{{.698, .301}, 44}, {{.567, .430}, 71}, {{.200, .702}, 131}, {{.139, .051}, 27}, {{.333, .341}, 260}},
    {{{.694, .305}, 12},
     {{.580, .418}, 22},
     {{.404, .550}, 61},
     {{.171, .712}, 33},
     {{.072, .480}, 28},
     {{.140, .047}, 11}},
    {{{.700, .299}, 45},
     {{.570, .425}, 75},
     {{.408, .542}, 190},
     {{.160, .690}, 110},
     {{.070, .470}, 85},
     {{.135, .060}, 35},
     {{.158, .018}, 18}}};

std::vector<colour::Emitter> typical(const std::vector<std::string>& names) {
    std::vector<colour::Emitter> all;
    for (const std::string& name : names) all.push_back(colour::typical(name)->emitter);
    return all;
}

// Measured lamps of three to seven emitters, in slots of 8 and of 16 bits, and the built-in types.
std::string rig(std::map<std::string, Lamp>& lamps) {
    std::string types, patch = "patch 1/1\n";
    for (std::size_t m = 0; m < measured.size(); ++m) {
        const std::string name = fmt::format("lamp-{}", measured[m].size());
        std::string mode = "    mode m ";
        types += fmt::format("type {}\n", name);
        for (std::size_t e = 0; e < measured[m].size(); ++e) {
            const auto& [xy, lumens] = measured[m][e];
            types += fmt::format("    emitter e{} xy {:.3f} {:.3f} {:.0f} lm\n", e, xy.x, xy.y, lumens);
            mode += fmt::format(" e{}", e);
            if (m % 2 == 1) mode += fmt::format(" e{}.fine", e);
            lamps[name].keys.push_back(fmt::format("{}/e{}", name, e));
        }
        lamps[name].emitters = measured[m];
        types += mode + "\n";
        patch += fmt::format("    {0} {0}\n", name);
    }
    const std::pair<const char*, std::vector<std::string>> built_in[] = {
        {"par-rgb", {"red", "green", "blue"}},
        {"par-rgbw", {"red", "green", "blue", "white"}},
        {"par-rgba", {"red", "green", "blue", "amber"}},
        {"par-rgbaw", {"red", "green", "blue", "amber", "white"}},
        {"par-white", {"warm-white", "cool-white"}},
        {"strip-6", {"red", "green", "blue"}},
        {"head", {"red", "green", "blue", "white"}}};
    for (const auto& [name, emitters] : built_in) {
        patch += fmt::format("    a-{0} {0}\n", name);
        for (const std::string& e : emitters)
            lamps[name].keys.push_back(
                fmt::format("a-{}/{}{}", name, name == std::string("strip-6") ? "3/" : "", e));
        lamps[name].emitters = typical(emitters);
    }
    return types + patch;
}

// Half of them all over what some light can have, half of a screen's colours.
std::string random_palettes(std::vector<Chromaticity>& targets) {
    test::Random random(4);
    std::string text;
    while (targets.size() < palettes) {
        if (targets.size() % 2 == 0) {
            const Chromaticity xy{random.below(730) / 1000.0, (1 + random.below(830)) / 1000.0};
            if (!reaches({{{.0082, .5384}, 1}, {{.0743, .8338}, 1}, {{.7347, .2653}, 1}, {{.1741, .0050}, 1}},
                         xy))
                continue;
            text += fmt::format("palette p{} xy {:.3f} {:.3f}\n", targets.size(), xy.x, xy.y);
            targets.push_back(xy);
        } else {
            const auto code = static_cast<unsigned>(random.below(0xffffff)) + 1;
            text += fmt::format("palette p{} #{:06x}\n", targets.size(), code);
            targets.push_back(*colour::from_srgb(static_cast<std::uint8_t>(code >> 16),
                                                 static_cast<std::uint8_t>(code >> 8),
                                                 static_cast<std::uint8_t>(code)));
        }
    }
    for (std::size_t p = 0; p < palettes; ++p)
        text += fmt::format("cue {} cut\n    all p{} full\n", p + 1, p);
    return text;
}

}  // namespace

TEST_CASE("unlike fixtures agree in 500 random palettes, as compiled", "[reference][colour][agreement]") {
    std::map<std::string, Lamp> lamps;
    std::vector<Chromaticity> targets;
    const std::string text = rig(lamps) + random_palettes(targets);
    const test::Played play(text);
    std::map<std::string, std::size_t> place;  // in the roll, by key
    for (std::size_t p = 0; p < play.roll().parameters.key.size(); ++p)
        place[play.roll().parameters.key[p]] = p;
    Agreement agreement;
    runtime::Tracked picture;
    for (std::uint32_t cue = 0; cue < palettes; ++cue) {
        runtime::fold_picture(play.roll(), cue, picture);
        for (const auto& [name, lamp] : lamps) {
            std::vector<double> levels;
            for (const std::string& key : lamp.keys) {
                REQUIRE(place.contains(key));
                levels.push_back(picture.level[place[key]]);
            }
            agreement.take(fmt::format("p{}", cue), targets[cue], name, lamp.emitters, levels);
        }
    }
    CHECK(agreement.pairs() > 10'000);
    CHECK(agreement.worst() > 0);  // different solutions are compared
}

TEST_CASE("unlike fixtures agree in all palettes of the examples", "[reference][colour][agreement]") {
    Agreement agreement;
    for (const auto& folder : std::filesystem::directory_iterator(TALLOW_SOURCE_DIR "/examples")) {
        const auto path = folder.path() / "show.tallow";
        if (!std::filesystem::exists(path)) continue;
        auto compiled = command::compile(path.string());
        REQUIRE(compiled.ok());
        command::Compilation& c = **compiled;
        for (show::Index p = 0; p < c.show.palettes.size(); ++p)
            for (show::Index s = 0; s < c.show.palettes[p].setting_count; ++s) {
                const show::Setting& said = c.show.settings[c.show.palettes[p].first_setting + s];
                if (said.kind != show::Setting::Kind::colour) continue;
                for (const show::Fixture& f : c.show.fixtures) {
                    std::vector<colour::Emitter> emitters;
                    std::vector<double> levels;
                    const track::TypeColour& shown =
                        c.book->colours.on(track::Alike{f.type, f.balance}, said);
                    const auto& all = c.show.type_of(f).emitters;
                    for (std::size_t e = 0; e < all.size(); ++e)
                        if (all[e].visible) {
                            emitters.push_back(all[e].light);
                            levels.push_back(shown.level[e]);
                        }
                    agreement.take(path.string() + " " + c.show.palettes[p].name,
                                   c.show.colours[said.what].xy, show::fixture_text(f), emitters, levels);
                }
            }
    }
    CHECK(agreement.pairs() > 100);
}
