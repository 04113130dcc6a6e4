#include "runtime/survival/state.hpp"

#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <thread>

#include "runtime/file_claim.hpp"
#include "runtime/files.hpp"
#include "runtime/hash.hpp"
#include "runtime/limits.hpp"
#include "runtime/survival/state_keeper.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/program.hpp"
#include "tests/support/random.hpp"
#include "tests/support/random_roll.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

// Two lists, a wave, a submaster.
Roll small() {
    Roll roll = rig({Kind::intensity, Kind::colour});
    Shape rise;
    rise.form = Shape::Form::rise;
    const auto wave = add_wave(roll, rise, 1000, {0});
    add_cue(roll, {0, 2000, 2000, Curve::linear}, {{0, full, wave}, {1, 100}}).starts = {wave};
    add_cue(roll, {}, {{1, 200}});
    add_cue(roll, {}, {{1, 300}});
    add_list(roll, "side");
    add_cue(roll, {}, {{1, 400}});
    roll.submasters.resize(1);
    roll.submasters[0].number = 3;
    roll.submasters[0].runs = {{0, {60000}, {}}};
    return roll;
}

State state_of(const Engine& engine) {
    return {77, 1234567, false, engine.standing()};
}

std::string with_hash(std::string text) {
    text.erase(text.rfind("end "));
    char line[32];
    std::snprintf(line, sizeof line, "end %016llx\n", static_cast<unsigned long long>(hash(text)));
    return text + line;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return with_hash(text.replace(at, from.size(), to));
}

}  // namespace

TEST_CASE("a state reads back as it was written", "[unit][state]") {
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const ExactRoll exact = random_roll(seed);
        Engine engine(exact.roll);
        Random random(seed);
        for (Tick t = 0; t < 400000; t += 1 + random.below(30000u)) {
            engine.go(random.below(static_cast<std::uint32_t>(exact.roll.lists.size())), t);
            if (random.one_in(4)) engine.stop(0, 700, t);
            if (random.one_in(4)) engine.set_blackout(random.one_in(2), t);
            if (random.one_in(4)) engine.timecode(t, random.below(Tick{150000}));
            engine.advance(t);
        }
        State state = state_of(engine);
        state.paused = random.one_in(2);
        state.tape = static_cast<TapeUse>(random.below(3u));
        const auto read = read_state(write_state(state, exact.roll), exact.roll, 77);
        INFO("seed " << seed << ": " << read.why());
        REQUIRE(read.ok());
        CHECK(read->show == state.show);
        CHECK(read->paused == state.paused);
        CHECK(read->tape == state.tape);
        CHECK(read->wall_ms == 1234567);
    }
}

TEST_CASE("a wave's phase reads back beyond its whole turns", "[unit][state]") {
    Playing play(small());
    State state = state_of(play.engine);
    for (const Turns carried : {Turns{0}, Turns{1}, ~Turns{0} >> 64, Turns{1} << 64, ~Turns{0}}) {
        state.show.sources[0] = {Tick{0}, carried};
        const auto read = read_state(write_state(state, play.roll), play.roll, 77);
        INFO(read.why());
        REQUIRE(read.ok());
        CHECK(read->show == state.show);
    }
}

TEST_CASE("a state of another version of the show finds its cues by their numbers", "[unit][state]") {
    Playing play(small());
    play.engine.go(0, 0);
    play.engine.go(0, 1000);
    play.engine.go(1, 2000);
    play.engine.set_submaster(0, 5000, 2000);
    play.engine.advance(3000);
    const std::string text = write_state(state_of(play.engine), play.roll);
    Roll other = rig({Kind::intensity, Kind::colour});
    add_cue(other, {}, {{0, full}});
    add_cue(other, {}, {{0, 1}}).number = 1500;
    add_cue(other, {}, {{0, 2}}).number = 3000;
    const auto read = read_state(text, other, 78);
    REQUIRE(read.ok());
    REQUIRE(read->show.lists.size() == 1);    // `side` is no more
    CHECK(read->show.lists[0].current == 1);  // 1.5, the last before 2
    CHECK(read->show.lists[0].next == 2);
    CHECK(read->show.lists[0].begun == 1000);
    CHECK(read->show.submasters.empty());
    CHECK(read->show.sources.empty());
}

TEST_CASE("a state tells of cues that the show has no more", "[unit][state]") {
    Playing play(small());
    play.engine.go(0, 0);
    play.engine.go(0, 1000);
    play.engine.go(1, 2000);
    play.engine.advance(3000);
    const std::string text = write_state(state_of(play.engine), play.roll);
    CHECK(read_state(text, play.roll, 77)->gone.empty());
    Roll other = rig({Kind::intensity, Kind::colour});
    add_cue(other, {}, {{0, full}});
    const auto read = read_state(text, other, 78);
    REQUIRE(read.ok());
    CHECK(read->gone == std::vector<GoneCue>{{"main", 2000}, {"side", 4000}});
    CHECK(gone_cues(play.engine.standing(), play.roll, other) == std::vector<GoneCue>{{"main", 2000}});
    CHECK(gone_cues(play.engine.standing(), play.roll, play.roll).empty());
    CHECK(gone_words(read->gone, other) == "it stood in cue 2, side cue 4, which are no more");
    CHECK(gone_words({{"main", 2500}}, other) == "it stood in cue 2.5, which is no more");
    CHECK(gone_words({{"main", 2500}}, play.roll) == "it stood in main cue 2.5, which is no more");
    CHECK(gone_words({}, other) == "");
    // Of more than anybody reads a few are told.
    std::string many;
    for (int i = 0; i < 100; ++i) many += "list gone 7000 - 0 0 -\n";
    const auto crowd = read_state(replaced(text, "list main", many + "list main"), other, 78);
    REQUIRE(crowd.ok());
    CHECK(crowd->gone.size() == 8);
}

TEST_CASE("a state says of which show it is, by its title", "[unit][state]") {
    Playing play(small());
    play.engine.advance(1000);
    Roll roll = play.roll, other = play.roll, untitled = play.roll;
    roll.title = "The Winter\nFerry ";
    other.title = "Harbour";
    const std::string text = write_state(state_of(play.engine), roll);
    CHECK_THAT(text, Catch::Contains("\ntitle The Winter Ferry\n"));
    const auto state = read_state(text, other, 78);
    REQUIRE(state.ok());
    CHECK(state->title == "The Winter Ferry");
    CHECK(is_of_another_show(*state, other));
    CHECK_FALSE(is_of_another_show(*state, roll));
    CHECK_FALSE(is_of_another_show(*state, untitled));
    // One without a title, as of an older player, is of no other show as far as is known.
    const auto older = read_state(replaced(text, "title The Winter Ferry\n", ""), other, 78);
    REQUIRE(older.ok());
    CHECK(older->title == "");
    CHECK_FALSE(is_of_another_show(*older, other));
    CHECK_FALSE(read_state(replaced(text, "title The Winter Ferry", "title "), other, 78).ok());
    CHECK_FALSE(read_state(replaced(text, "The Winter Ferry", std::string(5000, 'x')), other, 78).ok());
    roll.title = std::string(5000, 'x');
    CHECK(read_state(write_state(state_of(play.engine), roll), roll, 77).ok());
}

TEST_CASE("a state that was changed, cut or made up is refused", "[unit][state]") {
    Playing play(small());
    play.engine.go(0, 40);
    play.engine.go(0, 80);
    play.engine.advance(1000);
    const std::string text = write_state(state_of(play.engine), play.roll);
    const auto refused = [&](std::string_view bytes) { return !read_state(bytes, play.roll, 77).ok(); };
    REQUIRE_FALSE(refused(text));
    for (std::size_t n = 0; n < text.size(); ++n) {
        CAPTURE(n);
        REQUIRE(refused(std::string_view(text).substr(0, n)));
        std::string damaged = text;
        damaged[n] = static_cast<char>(damaged[n] ^ 1);
        REQUIRE(refused(damaged));
    }
    // With a hash that is right: what cannot be is refused all the same.
    CHECK(refused(replaced(text, "now 1000", "now 30")));  // a GO in the time to come
    CHECK(refused(replaced(text, "now 1000", "now 99999999999999999")));
    CHECK(refused(replaced(text, "grand 65535", "grand 65536")));
    CHECK(refused(replaced(text, "paused 0", "paused 2")));
    CHECK(refused(replaced(text, "paused 0", "paused 0 0")));
    CHECK(refused(replaced(text, "paused 0", "paused")));
    CHECK_FALSE(refused(replaced(text, "paused 0", "paused 0\ntape 2")));
    CHECK(refused(replaced(text, "paused 0", "paused 0\ntape 3")));
    CHECK(refused(replaced(text, "source 0 ", "source 9 ")));
    CHECK(refused(replaced(text, "blackout", "whiteout")));
    CHECK_FALSE(refused(replaced(text, "list side", "list gone")));
}

TEST_CASE("a state file survives, and says what is wrong with it", "[unit][state]") {
    const std::string path = "state_test.state";
    std::remove(path.c_str());
    Playing play(small());
    play.engine.go(0, 0);
    play.engine.advance(1000);
    Progress progress;
    progress.show = play.engine.standing();
    {
        StateKeeper keeper(path, "00112233-4455-4677-8899-aabbccddeeff", play.roll, 5);
        keeper.keep(progress, 0);
        play.engine.go(0, 2000);
        play.engine.advance(3000);
        progress.show = play.engine.standing();
        keeper.keep(progress, 1000);  // a microsecond later: what changed is kept at once
        CHECK(keeper.trouble() == "");
    }
    const auto state = load_state(path, play.roll, 5);
    INFO(state.why());
    REQUIRE(state.ok());
    CHECK(state->show == progress.show);
    CHECK(state->roll == 5);
    CHECK(state->cid == "00112233-4455-4677-8899-aabbccddeeff");
    CHECK(state->wall_ms + 60000 > wall_clock_ms());
    std::ofstream(path, std::ios::binary) << "nonsense";
    CHECK(load_state(path, play.roll, 5).why() ==
          "cannot resume from `state_test.state`: it is damaged, cut off, or no state of a show; play "
          "without `--resume`");
    std::remove(path.c_str());
    CHECK_FALSE(load_state(path, play.roll, 5).ok());
}

TEST_CASE("a state that cannot be written is told of", "[unit][state]") {
    Playing play(small());
    Progress progress;
    progress.show = play.engine.standing();
    StateKeeper keeper("no/such/folder/x.state", "", play.roll, 5);
    keeper.keep(progress, 0);
    for (int i = 0; i < 200 && keeper.trouble().empty(); ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    CHECK_THAT(keeper.trouble(), Catch::Contains("no/such/folder"));
}

TEST_CASE("time goes on while nobody plays, but not in a pause", "[unit][state]") {
    State state;
    state.wall_ms = 10000;
    state.show.now = 400;
    CHECK(now_after(state, 12000, 40) == 400 + 2000 * 40);
    CHECK(now_after(state, 9000, 40) == 400);  // the clock was put back
    CHECK(now_after(state, ~std::uint64_t{0}, 40) == 400 + limits::time_ms * 40);
    state.paused = true;
    CHECK(now_after(state, 12000, 40) == 400);
}

TEST_CASE("a show that has ended in order leaves no state behind", "[unit][state]") {
    const std::string path = "state_test_ended.state";
    Playing play(small());
    Progress progress;
    progress.show = play.engine.standing();
    {
        StateKeeper keeper(path, "", play.roll, 5);
        keeper.keep(progress, 0);
        for (int i = 0; i < 200 && !load_state(path, play.roll, 5).ok(); ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        CHECK(load_state(path, play.roll, 5).ok());
        keeper.discard();
    }
    CHECK_FALSE(load_state(path, play.roll, 5).ok());
}

TEST_CASE("a state that another player keeps is neither written over nor taken away", "[unit][state]") {
    const std::string path = test::scratch("state_test_claimed.state");
    Playing play(small());
    Progress progress;
    progress.show = play.engine.standing();
    const auto kept_by = [&](StateKeeper& keeper) {
        keeper.keep(progress, 0);
        return test::comes_true([&] { return load_state(path, play.roll, 5).ok(); });
    };
    {
        StateKeeper first(path, "11112222-4455-4677-8899-aabbccddeeff", play.roll, 5);
        REQUIRE(kept_by(first));
        StateKeeper second(path, "33334444-4455-4677-8899-aabbccddeeff", play.roll, 5);
        second.keep(progress, 0);
        CHECK(test::comes_true([&] { return !second.trouble().empty(); }));
        CHECK_THAT(second.trouble(), Catch::StartsWith("another player keeps its own in `" + path + "`"));
        second.discard();
    }
    const auto state = load_state(path, play.roll, 5);
    REQUIRE(state.ok());
    CHECK(state->cid == "11112222-4455-4677-8899-aabbccddeeff");
    CHECK(FileClaim().take(path));
    std::remove(path.c_str());
}

TEST_CASE("a file is one's at a time, whether it is there or not", "[unit][files]") {
    const std::string path = test::scratch("state_test_claim");
    {
        FileClaim ours, theirs;
        CHECK(ours.take(path));
        CHECK(ours.take(path));
        CHECK_FALSE(theirs.take(path));
        CHECK_FALSE(theirs.take(path.substr(0, path.rfind('/')) + "/./state_test_claim"));
        FileClaim beside;
        CHECK(beside.take("no-such.state"));
        CHECK_FALSE(theirs.take((std::filesystem::current_path() / "no-such.state").string()));
        CHECK(theirs.take(path + ".other"));
        const FileClaim moved = std::move(ours);
        CHECK_FALSE(FileClaim().take(path));
    }
    CHECK(FileClaim().take(path));
}
