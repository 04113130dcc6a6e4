// The numbers that grammar/LANGUAGE.md states, read from the page and compared with what the programs do.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>
#include <numeric>
#include <sstream>

#include "compiler/lower/waves.hpp"
#include "runtime/duration.hpp"
#include "runtime/engine/engine.hpp"
#include "runtime/engine/waveform.hpp"
#include "tests/suite/language_page.hpp"

using namespace tallow;
using test::language_page;

namespace {

// A show from its text to its slots. GO and looks at the slots go forward in time.
class Stage {
  public:
    explicit Stage(const std::string& show) : compiled_(test::compile_text(show)) {
        INFO(show);
        REQUIRE_FALSE(compiled_->failed());
        roll_ = command::make_roll(*compiled_);
        engine_ = std::make_unique<runtime::Engine>(roll_);
    }
    void go(std::uint64_t ms) { REQUIRE(engine_->go(ms * roll_.refresh)); }
    void look(std::uint64_t ms) { engine_->advance(ms * roll_.refresh); }
    int slot(std::size_t address) const { return engine_->slots(0)[address - 1]; }
    int wide(std::size_t address) const { return slot(address) * 256 + slot(address + 1); }

  private:
    std::unique_ptr<command::Compilation> compiled_;
    runtime::Roll roll_;
    std::unique_ptr<runtime::Engine> engine_;
};

// A lamp of 8 bits on slot 1 and one of 16 on slots 2 and 3.
const std::string two_lamps =
    "type fine-lamp\n    mode level  intensity intensity.fine\n"
    "patch 1/1\n    lamp   dimmer\n    wide   fine-lamp\n";

using Rows = std::vector<std::vector<std::string>>;

// The table whose first line begins so; its head is the first row.
Rows table(const std::string& text, const std::string& head) {
    std::istringstream in(text.substr(std::min(text.find("\n" + head), text.size() - 1) + 1));
    Rows rows;
    for (std::string line; std::getline(in, line) && line.starts_with("|");)
        if (!line.starts_with("|---")) rows.push_back(test::cells_of(line));
    INFO(head);
    REQUIRE(rows.size() > 1);
    return rows;
}
Rows table(const std::string& head) {
    return table(language_page(), head);
}

std::uint64_t ms_of(const std::string& time) {
    INFO(time);
    const auto ms = runtime::parse_duration(time);
    REQUIRE(ms.ok());
    return *ms;
}

void play(const std::string& show, const Rows& rows) {
    Stage stage(show);
    const auto go = runtime::parse_durations(rows[0][0].substr(std::string("GO at ").size()));
    REQUIRE(go.ok());
    auto next = go->begin();
    for (std::size_t r = 1; r < rows.size(); ++r) {
        const std::uint64_t now = ms_of(rows[r][0]);
        for (; next != go->end() && *next <= now; ++next) stage.go(*next);
        stage.look(now);
        for (std::size_t c = 1; c < rows[r].size(); ++c) {
            INFO("at " << rows[r][0] << ", " << rows[0][c]);
            REQUIRE(rows[0][c].starts_with("1/"));
            CHECK(stage.slot(std::stoul(rows[0][c].substr(2))) == std::stoi(rows[r][c]));
        }
    }
    CHECK(next == go->end());
}

double number(const std::string& text) {
    return std::strtod(text.c_str(), nullptr);
}

void check_wide(const Stage& stage, double fraction) {
    CHECK(std::abs(stage.wide(2) - 65535 * fraction) <= 16);
}

std::vector<std::int64_t> doubled(const std::string& list) {
    std::istringstream in(list);
    std::vector<std::int64_t> out;
    for (std::int64_t d; in >> d;) out.push_back(2 * d);
    return out;
}

}  // namespace

TEST_CASE("the language page's examples send the slots in the tables under them", "[unit][page]") {
    const std::string& page = language_page();
    std::size_t tables = 0;
    for (std::size_t at = 0; (at = page.find("\n```\n| GO at", at)) != std::string::npos; ++at) {
        const auto blocks = test::blocks_of(page.substr(0, at + 5));
        INFO("grammar/LANGUAGE.md:" << blocks.back().line);
        play(test::show_of(blocks.back()), table(page.substr(at + 4), "| GO at"));
        ++tables;
    }
    CHECK(tables == 9);
}

TEST_CASE("the language page's levels give the slots that it states", "[unit][page]") {
    const Rows rows = table("| level | 8-bit slot |");
    for (std::size_t r = 1; r < rows.size(); ++r) {
        INFO(rows[r][0]);
        Stage stage(two_lamps + "cue 1  cut\n    all  " + rows[r][0] + "\n");
        stage.go(0);
        stage.look(0);
        CHECK(stage.slot(1) == std::stoi(rows[r][1]));
        CHECK(stage.wide(2) == std::stoi(rows[r][2]));
    }
}

TEST_CASE("the language page's curves are those of fades", "[unit][page]") {
    const Rows rows = table("| p | linear |");
    const std::vector<std::string> curves{"linear", "ease", "visual", "visual"};
    for (std::size_t r = 1; r < rows.size(); ++r)
        for (std::size_t c = 0; c < curves.size(); ++c) {
            INFO(rows[0][c + 1] << " at " << rows[r][0]);
            const bool falling = rows[0][c + 1].ends_with("falling");
            Stage stage(two_lamps + "cue 1  cut\n    wide  " + (falling ? "full" : "out") +
                        "\ncue 2  fade 10s  curve " + curves[c] + "\n    wide  " +
                        (falling ? "out" : "full") + "\n");
            stage.go(0);
            stage.go(0);
            stage.look(static_cast<std::uint64_t>(number(rows[r][0]) * 100));
            const double way = number(rows[r][c + 1]);
            check_wide(stage, falling ? 1 - way : way);
        }
}

TEST_CASE("the language page's waveforms are those of waves", "[unit][page]") {
    const Rows rows = table("| f | sine |");
    for (std::size_t r = 1; r < rows.size(); ++r)
        for (std::size_t c = 1; c < rows[r].size(); ++c) {
            INFO(rows[0][c] << " at " << rows[r][0]);
            Stage stage(two_lamps + "wave w  " + rows[0][c] + "  period 8s\n    intensity  out .. full\n" +
                        "cue 1  cut\n    wide  full  wave w\n");
            stage.go(0);
            stage.look(static_cast<std::uint64_t>(number(rows[r][0]) * 8000));
            check_wide(stage, number(rows[r][c]));
        }
}

TEST_CASE("the language page's flicker values are the generator's", "[unit][page]") {
    const Rows rows = table("| seed | member |");
    for (std::size_t r = 1; r < rows.size(); ++r)
        CHECK(runtime::noise(std::stoul(rows[r][0]), static_cast<std::uint32_t>(std::stoul(rows[r][1])),
                             std::stoul(rows[r][2])) == std::stoi(rows[r][3]));
}

std::vector<std::int64_t> members(std::size_t n) {
    std::vector<std::int64_t> places(n);
    std::iota(places.begin(), places.end(), 0);
    return places;
}

TEST_CASE("the language page's travels and scattered orders are those that waves take", "[unit][page]") {
    const Rows travels = table("| travel | d(i) |");
    constexpr show::Travel ways[] = {show::Travel::forward, show::Travel::backward, show::Travel::outward,
                                     show::Travel::inward, show::Travel::scattered};
    REQUIRE(travels.size() == 1 + std::size(ways));
    for (std::size_t r = 1; r < travels.size(); ++r)
        CHECK(doubled(travels[r][2]) == lower::doubled_distances(ways[r - 1], 7, members(5)));
    const Rows orders = table("| seed | members |");
    for (std::size_t r = 1; r < orders.size(); ++r)
        CHECK(doubled(orders[r][2]) ==
              lower::doubled_distances(show::Travel::scattered,
                                       static_cast<std::uint32_t>(std::stoul(orders[r][0])),
                                       members(std::stoul(orders[r][1]))));
}

TEST_CASE("the language page's colours have the chromaticities that it states", "[unit][page]") {
    const Rows rows = table("| colour | x |");
    for (std::size_t r = 1; r < rows.size(); ++r) {
        INFO(rows[r][0]);
        const auto compiled = test::compile_text("palette p  " + rows[r][0] + "\n");
        REQUIRE(compiled->show.colours.size() == 1);
        CHECK(compiled->show.colours[0].xy.x == Approx(number(rows[r][1])).margin(6e-5));
        CHECK(compiled->show.colours[0].xy.y == Approx(number(rows[r][2])).margin(6e-5));
    }
}
