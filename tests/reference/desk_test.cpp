// The sheets, played by an operator who knows nothing of the compiler, against the engine's own light.
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "tests/support/csv.hpp"
#include "tests/support/desk_show.hpp"

using namespace tallow;
using Json = nlohmann::json;

namespace {

using Faders = std::map<int, double>;  // channel to percent

const std::string play = R"(show "The Tide Table"  tallow 1
patch 1/1
    front 1..3   par-rgb
    spot 1..2    dimmer
    lamp         par-rgb dimmed
patch 1/40
    mover        head
palette amber    #ffb000
palette dusk     xy 0.270 0.280
wave swell  sine  period 2s
    intensity   20% .. full
cue 1  fade 2s
    spot        73%
    front       amber 61%
cue 2  up 3s  down 1s  delay 500ms
    front 1     dusk 34%
    spot 2      out
cue 3  cut  cue-only
    front       amber full
    lamp        dusk 48%
    mover       amber 77%  pan 33deg
cue 4  fade 1s
    spot        12%
cue 4.5
    spot 1      12%
cue 5
    all         out
cue 6
    spot        73%
    front       amber 61%
cue 7
    spot        73%  wave swell
desk hall  plays universe 1
    layout  pair     60 channels  2 scenes  rows 2
    layout  subs     60 channels  4 submasters  3 pages
    layout  single   60 channels  1 scene
    notch   NOTCH
)";

std::string with_notch(const std::string& notch) {
    std::string text = play;
    return text.replace(text.find("NOTCH"), 5, notch);
}

int first_number(const std::string& text) {
    return text.empty() ? 0 : std::stoi(text);
}

// "1-3, 7" as numbers.
std::set<int> numbers(std::string text) {
    std::set<int> all;
    while (!text.empty()) {
        const auto comma = text.find(", ");
        const std::string part = text.substr(0, comma);
        const auto dash = part.find('-');
        const int from = first_number(part),
                  to = dash == std::string::npos ? from : first_number(part.substr(dash + 1));
        for (int n = from; n <= to; ++n) all.insert(n);
        text = comma == std::string::npos ? "" : text.substr(comma + 2);
    }
    return all;
}

Faders levels(const Json& row) {
    Faders all;
    for (const auto& [key, value] : row.items())
        if (std::isdigit(static_cast<unsigned char>(key[0])) && value.is_number())
            all[std::stoi(key)] = value;
    return all;
}

// Half a notch, and half a step of an 8-bit slot, which the engine rounds to; the coarse byte of a 16-bit
// parameter is cut, not rounded: a whole step. What a fixture whose own master is down is set to shows
// nothing.
void check_stage(Faders& stage, const test::Seen& seen, double notch, const std::string& cue) {
    for (int slot = 1; slot <= 48; ++slot) {
        if (slot == 41 || slot == 43) continue;  // the fine bytes of pan and tilt
        const int master = slot >= 40 ? 44 : slot > 12 && slot <= 15 ? 12 : 0;
        if (master != 0 && slot != master && seen.high[master - 1] == 0) continue;
        const double middle = (seen.low[slot - 1] + seen.high[slot - 1]) / 2.0 * 100 / 255;
        const double step =
            (slot == 40 || slot == 42 ? 1.0 : 0.5) * 100 / 255 + (seen.low == seen.high ? 0 : 0.3);
        INFO("cue " << cue << ", channel " << slot);
        CHECK(std::abs(stage[slot] - middle) <= notch / 2 + step);
    }
}

std::uint32_t thousandths(const Json& cue) {
    return static_cast<std::uint32_t>(std::lround(cue.get<double>() * 1000));
}

}  // namespace

TEST_CASE("two scenes played from the sheet give every cue's light", "[reference][desk]") {
    for (const std::string notch : {"5%", "10%", "3%", "0.5%"}) {
        auto show = test::desk_show(with_notch(notch), "pair");
        const auto seen = test::settled_frames(show, 2000);
        std::map<std::string, Faders> scenes;
        std::string up;  // the scene that the crossfader stands at
        REQUIRE(show.table("presets").size() == 8);
        for (const Json& row : show.table("presets")) {
            const std::string scene = row.at("scene");
            const Faders written = levels(row);
            if (!scene.empty()) {
                CHECK(scene != up);  // hands never touch the scene that is up
                for (const int n : numbers(row.at("moved"))) scenes[scene][n] = written.at(n);
                up = scene;
            }
            check_stage(scenes[up], seen.at(thousandths(row.at("cue"))), std::stod(notch),
                        row.at("cue").dump());
        }
    }
}

TEST_CASE("one scene moved by hand gives every cue's light", "[reference][desk]") {
    auto show = test::desk_show(with_notch("5%"), "single");
    const auto seen = test::settled_frames(show, 2000);
    Faders scene;
    for (const Json& row : show.table("presets")) {
        const Faders written = levels(row);
        for (const int n : numbers(row.at("moved"))) scene[n] = written.at(n);
        check_stage(scene, seen.at(thousandths(row.at("cue"))), 5, row.at("cue").dump());
    }
}

TEST_CASE("submasters by highest takes precedence give every cue's light", "[reference][desk]") {
    for (const std::string notch : {"5%", "10%", "3%"}) {
        auto show = test::desk_show(with_notch(notch), "subs");
        const auto seen = test::settled_frames(show, 2000);
        using Handle = std::pair<std::string, std::string>;  // page, submaster
        std::map<Handle, std::map<int, double>> recorded;
        for (const auto& row : test::csv_table(show.sheets, "recordings"))
            recorded[{row.at("page"), row.at("submaster")}] = test::csv_levels(row);
        const auto moves = test::csv_table(show.sheets, "moves");
        std::map<Handle, double> stands;
        std::size_t made = 0;
        for (const auto& cue : test::csv_table(show.sheets, "run")) {
            for (const auto& move : moves) {
                if (move.at("cue") != cue.at("cue")) continue;
                const Handle handle{move.at("page"), move.at("submaster")};
                REQUIRE(recorded.count(handle) == 1);
                CHECK(stands[handle] == std::stod(move.at("from")));
                stands[handle] = std::stod(move.at("to"));
                ++made;
            }
            Faders stage;
            for (const auto& [handle, position] : stands)
                for (const auto& [channel, level] : recorded.at(handle))
                    stage[channel] = std::max(stage[channel], position / 100 * level);
            check_stage(stage, seen.at(thousandths(Json::parse(cue.at("cue")))), std::stod(notch),
                        cue.at("cue"));
        }
        CHECK(made == moves.size());
        CHECK(made > 6);
    }
}

// Common practice, no source.
TEST_CASE("fixtures take the channels from their start address on", "[reference][desk]") {
    const std::string head = "show \"s\" tallow 1\n";
    const std::string desk = "desk d plays universe 1\n    layout l 60 channels 2 scenes\n";
    const auto channels = [&](const std::string& patch) {
        const auto show = test::desk_show(head + patch + desk);
        std::vector<int> all;
        for (const Json& row : show.table("channels")) all.push_back(row.at("channel"));
        return all;
    };
    CHECK(channels("patch 1/12\n    par  par-rgb\n") == std::vector<int>{12, 13, 14});
    CHECK(channels("patch 1/1\n    par 1..3  par-rgb\n") == std::vector<int>{1, 2, 3, 4, 5, 6, 7, 8, 9});
    CHECK(channels("patch 1/7\n    par 1..2  par-rgb ganged\n") == std::vector<int>{7, 8, 9});
    CHECK(channels("patch 1/5\n    bar  strip-4\n").size() == 12);
}
