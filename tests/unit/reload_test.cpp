// A show that is changed while it plays: the operator's side and the clock's, taken turn by turn on one
// thread.
#include "runtime/session/reload.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <sys/eventfd.h>
#include <unistd.h>

#include "runtime/play/performance.hpp"
#include "runtime/play/player.hpp"
#include "tests/support/played.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

using Lines = std::vector<std::string>;

constexpr std::uint64_t second = 1000000000;

std::unique_ptr<Roll> roll_of(const std::string& text, const std::string& under_show = "") {
    return std::make_unique<Roll>(test::Played(text, under_show).roll());
}

// Does a turn of the operator whenever the player waits.
struct TurnClock : Clock {
    std::uint64_t ns = 77 * second;
    std::function<void()> turn;
    std::uint64_t now() override { return ns; }
    void wait(std::uint64_t until) override {
        if (until <= ns) return;
        turn();
        ns = until;
    }
};

struct Given : Revisions {
    std::optional<Revision> next;
    std::optional<Revision> poll(const std::function<void(std::string_view)>&) override {
        return std::exchange(next, std::nullopt);
    }
};

// Always ready; types what it is given.
struct TypingFace : Face {
    TypingFace() : fd(::eventfd(1, 0)) {}
    ~TypingFace() override { ::close(fd); }
    int descriptor() const override { return fd; }
    bool read(std::uint64_t ns, Listener& listener) override {
        for (const std::string& words : std::exchange(typed, {})) listener.words(ns, "", words);
        return false;
    }
    void say(std::string_view line) override { said.emplace_back(line); }
    void show(const View& view) override {
        // What is shown must be of the roll that it is shown by.
        REQUIRE(view.progress.show.lists.size() == view.roll->lists.size());
        REQUIRE(view.progress.show.submasters.size() == view.roll->submasters.size());
        paused = view.progress.paused;
    }
    bool shows_levels() const override { return false; }
    int fd;
    Lines typed, said;
    bool paused = false;
};

// What was sent, by frame: the slots of all universes in turn.
struct Keeping : Output {
    explicit Keeping(std::vector<Bytes>& all) : sent(all) {}
    Status frame(const Frame& f) override {
        sent.emplace_back();
        for (const auto& universe : f.slots) {
            Bytes whole(universe.begin(), universe.end());
            whole.resize(512);
            sent.back().insert(sent.back().end(), whole.begin(), whole.end());
        }
        return {};
    }
    Status end(std::uint64_t) override { return {}; }
    Status finish() override { return {}; }
    std::vector<Bytes>& sent;
};

Played begun(std::unique_ptr<Roll> roll, const ScriptText& script) {
    auto played = played_roll("show.tallow", std::move(roll), 1, script);
    REQUIRE(played.ok());
    return std::move(*played);
}

struct Evening {
    explicit Evening(std::unique_ptr<Roll> roll, const std::string& commands)
        : script{"", commands, ""},
          played(begun(std::move(roll), script)),
          universes(played.source->universes().begin(), played.source->universes().end()) {}

    // At a frame of the show the operator types, or the show is saved.
    void type(std::uint64_t frame, const std::string& words) {
        at.emplace_back(frame, [this, words] { face.typed.push_back(words); });
    }
    void save(std::uint64_t frame, std::unique_ptr<Roll> roll) {
        at.emplace_back(frame, [this, saved = std::make_shared<std::unique_ptr<Roll>>(std::move(roll))] {
            given.next = {std::move(*saved), 2};
        });
    }

    void play(std::uint64_t frames) {
        Progress first;
        first.show = played.source->performance()->standing();
        Intercom intercom(first);
        TurnClock clock;
        Reload reload(given, universes, script);
        Operator* turns = nullptr;
        Operator::Ways ways;
        ways.view = [&](View& view) { view.roll = played.roll.get(); };
        ways.chores.emplace_back([&](const Progress& progress) {
            if (reload.poll(progress, played, *turns)) came.push_back(clock.ns);
        });
        Piece piece;
        piece.source = std::move(played.source);
        piece.outputs.push_back(std::make_unique<Keeping>(sent));
        Operator op(*piece.source, clock, intercom, face, std::move(ways));
        turns = &op;
        clock.turn = [&] {
            for (auto& [frame, what] : at)
                if (what && frame <= sent.size()) std::exchange(what, nullptr)();
            bool once = false;
            op.run([&] { return std::exchange(once, true); });
        };
        PlayOptions options;
        options.until = frames;
        const auto counts = runtime::play(piece, clock, intercom, options);
        REQUIRE(counts.ok());
        REQUIRE(counts->frames == frames);
        clock.turn();
    }
    std::size_t said(const std::string& line) const {
        return static_cast<std::size_t>(
            std::count_if(face.said.begin(), face.said.end(),
                          [&](const std::string& one) { return one.find(line) != std::string::npos; }));
    }

    const ScriptText script;
    TypingFace face;
    Given given;
    Played played;
    const std::vector<Universe> universes;
    std::vector<std::pair<std::uint64_t, std::function<void()>>> at;
    std::vector<std::uint64_t> came;
    std::vector<Bytes> sent;
};

const std::string lamps = "patch 1/1\n    lamp 1..6  dimmer\n";
const std::string waves = lamps + "wave swell  rise  period 2s  wavelength 2\n    intensity 0% .. full\n";

// Cue 1: lamp 1 stands, lamp 2 is on its way for ten seconds, lamps 3 and 4 run a wave.
std::string tide(const std::string& standing, const std::string& more = "") {
    return waves + "cue 1  fade 0s\n    lamp 1  " + standing +
           "\n    lamp 2  full  fade 10s\n    lamp 3..4  full  wave swell\n" + more;
}

}  // namespace

TEST_CASE("a changed value goes over in a second, and nothing else moves", "[unit][reload]") {
    Evening changed(roll_of(tide("full")), "0s go");
    changed.save(100, roll_of(tide("20%")));
    changed.play(300);
    Evening alone(roll_of(tide("full")), "0s go");
    alone.play(300);
    REQUIRE(changed.came.size() == 1);
    CHECK(changed.said("the changed show plays") == 1);
    std::size_t last_full = 0, first_low = 0;
    for (std::size_t n = 0; n < 300; ++n) {
        CAPTURE(n);
        const Bytes &a = changed.sent[n], &b = alone.sent[n];
        REQUIRE(std::equal(a.begin() + 1, a.end(), b.begin() + 1));  // the fade and the wave
        if (a[0] == 255) last_full = n;
        if (a[0] == 51 && first_low == 0) first_low = n;
        if (n > 0) REQUIRE(a[0] <= changed.sent[n - 1][0]);
    }
    CHECK(last_full >= 100);
    CHECK(last_full < 104);
    CHECK(first_low - last_full >= 39);
    CHECK(first_low - last_full <= 40);
    CHECK(changed.sent[299][0] == 51);
}

TEST_CASE("a show that has moved on is left alone, and the changed one comes a moment later",
          "[unit][reload]") {
    // The GO of frame 102 comes behind the exchange's making and before the clock's thread has it.
    const std::string text = tide("full", "cue 2  cut\n    lamp 6  full\ncue 3\n    lamp 6  out\n");
    for (std::uint64_t ms = 2500; ms < 2560; ms += 3) {
        Evening evening(roll_of(text), fmt::format("0s go, {}ms go", ms));
        evening.save(100, roll_of(text + "cue 4\n    lamp 6  20%\n"));
        evening.play(200);
        CAPTURE(ms);
        REQUIRE(evening.came.size() == 1);
        CHECK(evening.said("cue 2; next 3") == 1);
        CHECK(evening.sent[150][5] == 255);
        CHECK(evening.played.roll->cues.size() == 4);
    }
}

TEST_CASE("a show may grow and shrink in every way while it plays", "[unit][reload]") {
    const std::string small = lamps + "cue 1\n    lamp 1  full\n";
    std::string large =
        waves + "chase walk  every 1s  loop\n    step 1  lamp 4  full\n    step 2  lamp 5  full\n";
    for (int i = 1; i <= 40; ++i) large += fmt::format("submaster {}\n    lamp 6  {}%\n", i, i);
    for (int i = 1; i <= 30; ++i)
        large += fmt::format("cue {}  cut  next-at 10ms\n    lamp 1  {}%\n", i, 50 + i);
    for (int i = 0; i < 12; ++i)
        large += fmt::format("list side{}\ncue 1  cut\n    lamp 1..3  full  wave swell\n    chase walk\n", i);
    Evening evening(roll_of(small), "0s go");
    evening.save(50, roll_of(large));
    evening.type(60, "go side11");
    evening.type(60, "submaster 40 full");
    evening.type(60, "cue 2");
    evening.save(120, roll_of(small));
    evening.type(121, "go");
    evening.type(122, "go side11");
    evening.save(180, roll_of(large));
    evening.type(181, "cue 30");
    evening.play(250);
    CHECK(evening.came.size() == 3);
    CHECK(evening.said("side11 cue 1; the last one") == 1);
    CHECK(evening.said("main cue 30; the last one") == 2);  // as it follows, and as it is gone to
    CHECK(evening.said("there is no cue list `side11`; there is `main`") == 1);
    CHECK(evening.sent[249][0] == 204);
}

TEST_CASE("what is typed while a changed show is under way is for that one", "[unit][reload]") {
    const std::string head = lamps + "cue 1  cut\n    lamp 1  full\n",
                      tail = "cue 3  cut\n    lamp 3  full\n";
    for (std::uint64_t n = 98; n < 106; ++n) {
        Evening evening(roll_of(head + tail), "0s go");
        evening.save(100, roll_of(head + "cue 2  cut\n    lamp 2  full\n" + tail));
        evening.type(n, "cue 3");
        evening.play(200);
        CAPTURE(n);
        CHECK(evening.sent[199][2] == 255);
        CHECK(evening.said("cue 3; the last one") == 1);
    }
}

TEST_CASE("blackout, the grand master and panic do not wait for a value on its way", "[unit][reload]") {
    const std::string safe = "look exit\n    lamp 6  full\nsafety\n    panic look exit\n";
    for (const std::string words : {"blackout", "grand out"}) {
        Evening evening(roll_of(tide("full") + safe), "0s go");
        evening.save(100, roll_of(tide("60%") + safe));
        evening.type(115, words);
        evening.type(125, "panic");
        evening.play(140);
        CAPTURE(words);
        CHECK(evening.sent[114][0] < 255);
        CHECK(evening.sent[114][0] > 160);
        CHECK(evening.sent[118][0] == 0);
        CHECK(evening.sent[123][5] == 0);
        CHECK(evening.sent[128][5] == 255);
    }
}

TEST_CASE("floors and the panic look go over in a second, too", "[unit][reload]") {
    const auto text = [](const std::string& floor, const std::string& panic) {
        return lamps + "look exit\n    lamp 6  " + panic + "\nsafety\n    " + floor +
               "    panic look exit\ncue 1  cut\n    lamp 1  full\n";
    };
    const std::string house = "keep lamp 2 above 40%\n";
    struct Change {
        std::string before, after;
        std::size_t slot;
        int from, to;
    };
    const auto [before, after, slot, from, to] =
        GENERATE_COPY(Change{text(house, "70%"), text("keep lamp 2 above 80%\n", "70%"), 1, 102, 204},
                      Change{text(house, "70%"), text("", "70%"), 1, 102, 0},
                      Change{text("", "70%"), text(house, "70%"), 1, 0, 102},
                      Change{text(house, "70%"), text(house, "10%"), 5, 179, 26},
                      Change{text(house, "70%"), lamps + "cue 1  cut\n    lamp 1  full\n", 5, 179, 0});
    Evening evening(roll_of(before), "0s go, 0s panic");
    evening.save(100, roll_of(after));
    evening.play(200);
    CHECK(evening.sent[100][slot] == from);
    CHECK(evening.sent[199][slot] == to);
    for (std::size_t n = 101; n < 200; ++n) {
        CAPTURE(slot, from, to, n);
        REQUIRE(std::abs(evening.sent[n][slot] - evening.sent[n - 1][slot]) <= 5);
        REQUIRE(evening.sent[n][0] == 255);
    }
    CHECK(evening.said("it has no panic look: what that lit goes over to the cues") ==
          (evening.played.roll->panic.empty() ? 1 : 0));
}

TEST_CASE("light that a save takes away is told of", "[unit][reload]") {
    const std::string patch = "patch 1/1\n    lamp 1..4  dimmer\ncue 1  cut\n    lamp 1  full\n",
                      masters = "submaster 1 \"Warm\"\n    lamp 2  full\nsubmaster 2\n    lamp 4  full\n",
                      side = "list side\ncue 1  cut\n    lamp 3  full\n";
    const std::string no_master =
                          "it has no more submaster 1 \"Warm\" at 50%: what that lit goes over to the cues",
                      no_list = "it has no more list side: what that lit goes out";
    Evening evening(roll_of(patch + masters + side), "0s go");
    for (const char* const words : {"go side", "submaster 1 50%"}) evening.type(10, words);
    evening.save(100, roll_of(patch + "# other text\n" + masters + side));
    evening.save(150, roll_of(patch + side));
    evening.save(200, roll_of(patch));
    evening.play(300);
    CHECK(evening.said("the changed show plays") == 3);
    CHECK(evening.said(no_master) == 1);
    CHECK(evening.said(no_list) == 1);
    CHECK(std::count_if(evening.face.said.begin(), evening.face.said.end(), [](const std::string& line) {
              return line.find("it has no more") != std::string::npos;
          }) == 2);
    CHECK(evening.sent[299][1] == 0);
    CHECK(evening.sent[299][2] == 0);
}

TEST_CASE("a colour that the panic look states no more goes over to what lies beneath", "[unit][reload]") {
    const auto text = [](const std::string& more) {
        return "patch 1/1\n    wash  par-rgb\n    lamp 1..2  dimmer\nlook exit\n    lamp 1  full\n" + more +
               "safety\n    panic look exit\ncue 1  cut\n    wash  emitter red full  full\n";
    };
    const bool comes = GENERATE(true, false);
    const std::string blue = text("    wash  emitter blue full\n"), without = text("");
    Evening evening(roll_of(comes ? without : blue), "0s go, 0s panic");
    evening.save(100, roll_of(comes ? blue : without));
    evening.play(200);
    constexpr std::size_t red_slot = 0;
    CHECK(evening.sent[100][red_slot] == (comes ? 255 : 0));
    CHECK(evening.sent[199][red_slot] == (comes ? 0 : 255));
    for (std::size_t n = 101; n < 200; ++n)
        REQUIRE(std::abs(evening.sent[n][red_slot] - evening.sent[n - 1][red_slot]) <= 8);
}

TEST_CASE("the panic look does not wait for what goes over of it", "[unit][reload]") {
    const auto text = [](const std::string& level) {
        return lamps + "look exit\n    lamp 6  " + level +
               "\nsafety\n    panic look exit\ncue 1\n    lamp 1 full\n";
    };
    Evening evening(roll_of(text("full")), "0s panic");
    evening.save(100, roll_of(text("20%")));
    evening.type(110, "panic");
    evening.type(120, "panic");
    evening.play(130);
    CHECK(evening.sent[109][5] > 150);
    CHECK(evening.sent[114][5] == 0);
    CHECK(evening.sent[124][5] == 51);
}

TEST_CASE("a show without cues is not played, and one in another cue says in which", "[unit][reload]") {
    Evening evening(roll_of(tide("full", "cue 2 \"Storm\"  cut\n    lamp 5  full\n")), "0s go, 1s go");
    evening.save(100, roll_of("", ""));
    evening.save(150, roll_of(tide("full")));
    evening.play(250);
    CHECK(evening.said("there are no cues in what was saved: the show plays on as it was") == 1);
    CHECK(evening.sent[149][4] == 255);
    CHECK(evening.came.size() == 1);
    CHECK(evening.said("the changed show plays in cue 1; it stood in cue 2, which is no more") == 1);
}

TEST_CASE("a show that is paused stays so, and its fade goes on from where it was", "[unit][reload]") {
    Evening evening(roll_of(tide("full")), "0s go, 1s pause");
    evening.save(100, roll_of(tide("full", "cue 2\n    lamp 6  full\n")));
    evening.type(200, "resume");
    evening.play(300);
    CHECK(evening.came.size() == 1);
    CHECK(evening.said("the changed show is in place; what differs goes over when the pause ends") == 1);
    CHECK_FALSE(evening.face.paused);
    for (std::size_t n = 40; n < 200; ++n) REQUIRE(evening.sent[n] == evening.sent[40]);
    CHECK(std::abs(evening.sent[240][1] - 51) <= 1);  // two of ten seconds
}

TEST_CASE("the universes are those of the beginning, and what differs is said once", "[unit][reload]") {
    const std::string one = "cue 1  cut\n    lamp 1  full\n";
    Evening evening(
        roll_of("patch 1/1\n    lamp 1..2  dimmer\npatch 2/1\n    far  dimmer\n" + one + "    far  full\n"),
        "0s go");
    const std::string after =
        "patch 1/1\n    lamp 1..3  dimmer\npatch 7/1\n    new  dimmer\n" + one + "    new  full\n";
    evening.save(40, roll_of(after));
    evening.save(100, roll_of(after + "cue 2\n    lamp 3  full\n"));
    evening.play(150);
    CHECK(evening.came.size() == 2);
    CHECK(
        evening.said("universe 7 has addresses that were not there when the player began, which are not "
                     "sent; start the player again to send them; universe 2 is no longer in the show: it is "
                     "sent as 0") == 1);
    CHECK(evening.sent[39][512] == 255);
    CHECK(evening.sent[149][512] == 0);
    CHECK(evening.sent[149].size() == 1024);
    CHECK(evening.sent[149][0] == 255);
}

TEST_CASE("what a script says of the time to come is done by the changed show", "[unit][reload]") {
    const std::string head = lamps + "cue 1  cut\n    lamp 1  full\n",
                      tail = "cue 3  cut\n    lamp 3  full\n";
    Evening evening(roll_of(head + tail), "0s go, 2s grand 50%, 4s cue 3");
    evening.save(60, roll_of(head + "cue 2  cut\n    lamp 2  full\n" + tail));
    evening.save(120, roll_of(head));  // without cue 3 the script cannot be
    evening.play(200);
    CHECK(evening.came.size() == 1);
    CHECK(evening.sent[79][0] == 255);
    CHECK(evening.sent[81][0] == 128);
    CHECK(evening.sent[161][2] == 128);
    CHECK(evening.said("cue 3; the last one") == 1);
    CHECK(evening.said("--do: there is no cue 3 in `main`; beside it: 1: in the changed show this cannot be "
                       "done, and the show plays on as it was") == 1);
}

TEST_CASE("another refresh needs a new start, and is said", "[unit][reload]") {
    Evening evening(roll_of(tide("full")), "0s go");
    evening.save(40, roll_of(tide("full"), "    refresh 30Hz\n"));
    evening.play(100);
    CHECK(evening.came.empty());
    CHECK(evening.said("the changed show has another refresh, 30 in place of 40: start the player again to "
                       "play it") == 1);
    CHECK(evening.sent[99][0] == 255);
}

TEST_CASE("differing universes are told each in its way", "[unit][reload]") {
    Roll roll;
    roll.universes = {{1, 10}, {2, 20}};
    CHECK(differing_universes(std::vector<Universe>{{1, 10}, {2, 20}}, roll).empty());
    CHECK(differing_universes(std::vector<Universe>{{1, 512}, {2, 20}}, roll).empty());
    CHECK(differing_universes(std::vector<Universe>{{1, 9}, {2, 20}}, roll) ==
          "universe 1 has addresses that were not there when the player began, which are not sent; start the "
          "player again to send them");
    CHECK(differing_universes(std::vector<Universe>{{1, 10}, {2, 20}, {3, 1}, {4, 1}}, roll) ==
          "universes 3, 4 are no longer in the show: they are sent as 0");
}
