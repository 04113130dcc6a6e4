// From a show to what it was changed into: what is the same in both, and where the second one stands then.
#include "runtime/survival/translation.hpp"

#include <catch2/catch.hpp>

#include "runtime/play/performance.hpp"
#include "tests/support/played.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

const std::string rig = "patch 1/1\n    lamp 1..4  dimmer\n    par 1..2  par-rgb\n";
const std::string wave = "wave swell  rise  period 4s  wavelength 2\n    intensity 0% .. full\n";

struct Pair {
    Pair(const std::string& before, const std::string& after)
        : from(before), to(after), translation(from.roll(), to.roll()) {}
    std::uint32_t number(std::uint32_t cue) const { return cue == none ? 0 : to.roll().cues[cue].number; }
    std::uint32_t place(const std::string& key) const {
        const auto& keys = to.roll().parameters.key;
        const auto at = std::find(keys.begin(), keys.end(), key);
        REQUIRE(at != keys.end());
        return translation.parameters()[static_cast<std::size_t>(at - keys.begin())];
    }
    // After a GO of each cue of main, a second apart.
    Standing after(int goes) {
        for (int i = 0; i < goes; ++i) from.go(static_cast<std::uint64_t>(1000 * (i + 1)));
        return translation(from.engine().standing());
    }

    test::Played from, to;
    Translation translation;
};

std::string cues(std::initializer_list<const char*> numbers) {
    std::string text = rig;
    int level = 10;
    for (const char* number : numbers)
        text += std::string("cue ") + number + "\n    lamp 1  " + std::to_string(level++) + "%\n";
    return text;
}

}  // namespace

TEST_CASE("a cue is found again by its number, wherever it stands", "[unit][reload]") {
    SECTION("one was put in before it") {
        Pair pair(cues({"1", "2", "3"}), cues({"1", "1.5", "2", "3"}));
        const auto at = pair.after(2).lists[0];
        CHECK(pair.number(at.current) == 2000);
        CHECK(pair.number(at.before()) == 1000);
        CHECK(pair.number(at.next) == 3000);
        CHECK(at.begun == 2000 * 40);
    }
    SECTION("one was put in behind it, and is next") {
        Pair pair(cues({"1", "2", "3"}), cues({"1", "2", "2.1", "3"}));
        CHECK(pair.number(pair.after(2).lists[0].next) == 2100);
    }
    SECTION("it was removed: the one before it") {
        Pair pair(cues({"1", "2", "3"}), cues({"1", "3"}));
        const auto at = pair.after(2).lists[0];
        CHECK(pair.number(at.current) == 1000);
        CHECK(pair.number(at.next) == 3000);
    }
    SECTION("all were renumbered beyond it: none, and the first one is next") {
        Pair pair(cues({"1", "2"}), cues({"11", "12"}));
        const auto at = pair.after(2).lists[0];
        CHECK(at.current == none);
        CHECK(pair.number(at.next) == 11000);
    }
    SECTION("it is the last one now") {
        Pair pair(cues({"1", "2"}), cues({"1"}));
        const auto at = pair.after(1).lists[0];
        CHECK(pair.number(at.current) == 1000);
        CHECK(at.next == none);
    }
}

TEST_CASE("what is to start by itself waits no more where nothing is behind it", "[unit][reload]") {
    const std::string head = rig + "cue 1  next-at 9s\n    lamp 1  full\n";
    Pair pair(head + "cue 2\n    lamp 1  out\n", rig + "cue 1\n    lamp 1  full\n");
    pair.from.go(1000);
    REQUIRE(pair.from.engine().next_start());
    CHECK_FALSE(pair.after(0).lists[0].pending);
}

TEST_CASE("lists go by their names, submasters by their numbers", "[unit][reload]") {
    const std::string main = cues({"1", "2"}), side = "list side\ncue 1\n    lamp 2  full\n",
                      low = "submaster 3\n    lamp 3  full\n", high = "submaster 7\n    lamp 4  full\n";
    Pair pair(low + high + main + side, high + main + "list other\ncue 1\n    lamp 2  full\n" + side);
    pair.from.go_in("side", 500).submaster(3, 50, 600).submaster(7, 80, 700);
    const Standing s = pair.after(1);
    REQUIRE(s.lists.size() == 3);
    CHECK(pair.number(s.lists[0].current) == 1000);
    CHECK(s.lists[1].current == none);  // `other` has not begun
    CHECK(s.lists[1].next == pair.to.roll().lists[1].first);
    CHECK(s.lists[2].begun == 500 * 40);
    CHECK(pair.to.roll().cues[s.lists[2].current].number == 1000);
    CHECK(s.submasters == std::vector<Level>{52428});

    Pair less(main + side, main);
    less.from.go_in("side", 500);
    CHECK(less.after(1).lists.size() == 1);
}

TEST_CASE("parameters go by what they are of, not by their places", "[unit][reload]") {
    Pair pair("patch 1/1\n    lamp 1..4  dimmer\ncue 1\n    lamp 1  full\n",
              "patch 1/100\n    par 1  par-rgb\n    lamp 2..5  dimmer\ncue 1\n    lamp 2  full\n");
    CHECK(pair.place("lamp/2/intensity") == 1);
    CHECK(pair.place("lamp/4/intensity") == 3);
    CHECK(pair.place("lamp/5/intensity") == none);
    CHECK(pair.place("par/1/red") == none);
}

TEST_CASE("what several lists state has the same owner afterwards", "[unit][reload]") {
    const std::string
        main = "cue 1  cut\n    par 1  full\n    par 1  emitter red full\n    par 1  emitter blue out\n",
        side =
            "list side\ncue 1  cut\n    par 1  full\n    par 1  emitter red out\n    par 1  emitter blue "
            "full\n";
    for (const bool main_is_later : {true, false}) {
        CAPTURE(main_is_later);
        Pair pair(rig + main + side, rig + "cue 0.5\n    lamp 1  full\n" + main + side);
        if (main_is_later)
            pair.from.go_in("side", 500).go(1000);
        else
            pair.from.go(500).go_in("side", 1000);
        Engine engine(pair.to.roll());
        engine.restore(pair.after(0));
        engine.advance(Tick{40000});
        // The slots of `par 1`, behind four lamps.
        const auto par = [](const Engine& of) {
            const auto slots = of.slots(0).subspan(4, 3);
            return std::vector<int>(slots.begin(), slots.end());
        };
        CHECK(par(engine) == (main_is_later ? std::vector<int>{255, 0, 0} : std::vector<int>{0, 0, 255}));
        CHECK(par(engine) == par(pair.from.engine()));
    }
}

TEST_CASE("a wave that was not changed keeps its phase, a changed one begins", "[unit][reload]") {
    const std::string other = "wave other  sine  period 3s\n    intensity 0% .. full\n",
                      one = "cue 1\n    lamp 1..2  full  wave swell\n    lamp 3  full  wave other\n";
    SECTION("another one was put in before it") {
        Pair pair(rig + wave + other + one,
                  rig + wave + other + "cue 0.5\n    lamp 4  full  wave other\n" + one);
        pair.from.go(1000).at(2300);
        const Standing before = pair.from.engine().standing(), s = pair.after(0);
        REQUIRE(s.sources.size() == before.sources.size() + 1);
        std::size_t begun = 0;
        for (const SourceTime& source : s.sources) begun += source.began == Tick{40000} ? 1 : 0;
        CHECK(begun == before.sources.size());
    }
    SECTION("its period was changed") {
        Pair pair(
            rig + wave + other + one,
            rig + "wave swell  rise  period 5s  wavelength 2\n    intensity 0% .. full\n" + other + one);
        pair.from.go(1000).at(2300);
        const Standing s = pair.after(0);
        std::size_t begun = 0;
        for (const SourceTime& source : s.sources) begun += source.began ? 1 : 0;
        CHECK(begun == 1);  // the other one
    }
    SECTION("it moves another fixture now") {
        Pair pair(rig + wave + "cue 1\n    lamp 1..2  full  wave swell\n",
                  rig + wave + "cue 1\n    lamp 3..4  full  wave swell\n");
        pair.from.go(1000);
        CHECK_FALSE(pair.after(0).sources.at(0).began);
    }
}

TEST_CASE("a chase that was not changed keeps its place, a changed one begins", "[unit][reload]") {
    const auto chase = [](const std::string& every) {
        return rig + "chase walk  every " + every +
               "  loop\n    step 1  lamp 1  full\n    step 2  lamp 2  full\ncue 1\n    chase walk\n";
    };
    Pair same(chase("1s"), chase("1s") + "cue 2\n    lamp 4  full\n");
    same.from.go(1000);
    CHECK(same.after(0).sources.at(0).began == Tick{40000});
    Pair changed(chase("1s"), chase("2s"));
    changed.from.go(1000);
    CHECK_FALSE(changed.after(0).sources.at(0).began);
}

TEST_CASE("the masters and the timecode stay where they are", "[unit][reload]") {
    const bool keeps_look = GENERATE(true, false);
    const std::string safe = "look exit\n    lamp 1  full\nsafety\n    panic look exit\n";
    Pair pair(cues({"1", "2"}) + safe, cues({"1", "2", "3"}) + (keeps_look ? safe : ""));
    pair.from.master(40, 100).panic(true, 200).timecode("01:00:00:00", 300);
    const Standing before = pair.from.engine().standing(), s = pair.after(0);
    CHECK(s.master == 26214);
    CHECK(s.panic == keeps_look);
    CHECK(s.timecode == before.timecode);
    CHECK(s.timecode.has_value());
    CHECK(s.now == before.now);
}
