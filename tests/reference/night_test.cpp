// What can fail on the night, failed on purpose: players, cables, interfaces, receivers and disks. What a
// receiver gets, before and after, is held against the frames that `tallow render` gives for the show.
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>

#include "runtime/files.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/night_show.hpp"
#include "tests/support/program.hpp"
#include "tests/support/stage_network.hpp"

using namespace tallow;
using namespace tallow::test;

namespace {

constexpr std::int64_t second = 1000000000;
constexpr std::int64_t loss = 5 * second / 2;  // E1.31, 6.7.1: a receiver waits so long for a source
// What a busy machine may add to a frame.
constexpr std::int64_t late = 15000000;

using Words = std::vector<std::string>;

Words operator+(Words all, const Words& more) {
    all.insert(all.end(), more.begin(), more.end());
    return all;
}

const Words cues{"--go", night_times};
const Words to_the_hall{"--sacn", "multicast", "--interface", "eth0"};

class Night {
  public:
    explicit Night(int machines, const std::string& show_text = night_text())
        : network(machines), show(night_show("night", show_text)) {
        for (int i = 1; i <= machines; ++i) std::remove(state_of(i).c_str());
        listen();
    }
    // A receiver that begins to listen now.
    void listen() { recorder = std::make_unique<Recorder>(network.hall(), "br0", Words16{1}); }
    std::unique_ptr<Program> play(int machine, const Words& options, const NightShow* other = nullptr) {
        const Words player{TALLOW_PLAY_COMMAND, (other ? other : &show)->roll, "--state", state_of(machine)};
        return std::make_unique<Program>(
            player + options, scratch("night" + std::to_string(machine) + ".log"), network.machine(machine));
    }
    // All packets of universe 1, and the same apart by their sources.
    std::vector<Recorded> all() const { return data_of(recorder->heard()); }
    std::vector<std::vector<Recorded>> sources() const { return by_source(recorder->heard()); }
    // Waits for so many packets of a source, or so many more.
    bool hears(std::size_t source, std::size_t packets, double seconds = 10) const {
        const auto has_come = [&] {
            const auto all = sources();
            return all.size() > source && all[source].size() >= packets;
        };
        return comes_true(has_come, seconds);
    }
    bool goes_on(std::size_t source, std::size_t packets) const {
        const auto all = sources();
        return hears(source, all.size() > source ? all[source].size() + packets : packets);
    }

  private:
    static std::string state_of(int machine) { return scratch("night" + std::to_string(machine) + ".state"); }
    using Words16 = std::vector<std::uint16_t>;

  public:
    StageNetwork network;
    NightShow show;
    std::unique_ptr<Recorder> recorder;
};

// One goes on where the other one was: as if the show had run on all the time.
void check_in_phase(const Stretch& before, const Stretch& after) {
    CAPTURE(before.last, after.first, before.origin - after.origin);
    CHECK(std::llabs(before.origin - after.origin) <= frame_ns + late);
    CHECK(after.first > before.last);
}

void check_quits_with(Program& player, int code) {
    player.signal(SIGINT);
    const auto ended = player.wait();
    INFO(player.said());
    CHECK(ended == code);
}

void check_quits(Program& player) {
    check_quits_with(player, 0);
}

std::int64_t now() {
    return std::chrono::system_clock::now().time_since_epoch() / std::chrono::nanoseconds(1);
}

// What was measured; shown where TALLOW_MEASURED is set.
void report(const std::string& what, std::int64_t ns) {
    if (std::getenv("TALLOW_MEASURED") != nullptr)
        std::printf("%s: %.3f s\n", what.c_str(), static_cast<double>(ns) / second);
}

}  // namespace

TEST_CASE("a player that stands by goes on when the first is killed", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(2);
    const bool late_to_come = GENERATE(false, true);
    CAPTURE(late_to_come);
    const auto stand_by = [&] { return night.play(2, to_the_hall + Words{"--standby", "0.0.0.0:7701"}); };
    std::unique_ptr<Program> second_player;
    if (!late_to_come) {
        second_player = stand_by();
        REQUIRE(second_player->says("stands by"));
    }
    auto first = night.play(1, cues + to_the_hall + Words{"--tell", night.network.address(2)});
    REQUIRE(first->says("cue 3"));
    if (late_to_come) second_player = stand_by();
    REQUIRE(second_player->says("follows 10.77.0.11"));
    REQUIRE(night.goes_on(0, 10));
    CHECK(night.sources().size() == 1);
    first->signal(SIGKILL);
    CHECK(first->wait() == -SIGKILL);
    REQUIRE(night.hears(1, 40));
    check_quits(*second_player);
    const auto sources = night.sources();
    REQUIRE(sources.size() == 2);
    const Stretch before = stretch_of(sources[0], night.show), after = stretch_of(sources[1], night.show);
    report("killed, another stood by: gap", after.began - before.ended);
    report("killed, another stood by: phase", after.origin - before.origin);
    CHECK(after.began - before.ended < loss);
    check_in_phase(before, after);
    CHECK(before.priority == 100);
    CHECK(after.priority == 90);
    CHECK(before.missing == 0);
    CHECK(after.missing == 0);
    CHECK(before.terminated == 0);
    CHECK(after.terminated == 3);
}

TEST_CASE("a player that stands by is silent after an end in order", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(2);
    auto other = night.play(2, to_the_hall + Words{"--standby", "0.0.0.0:7701"});
    REQUIRE(other->says("stands by"));
    auto first = night.play(1, cues + to_the_hall + Words{"--tell", night.network.address(2)});
    REQUIRE(night.hears(0, 20));
    REQUIRE(other->says("follows"));
    first->type("quit");
    CHECK(first->wait() == 0);
    REQUIRE(other->says("has ended its show in order"));
    CHECK_FALSE(night.hears(1, 1, 1.3));
    check_quits(*other);
    CHECK(stretch_of(night.sources()[0], night.show).terminated == 3);
}

TEST_CASE("a player that stands by takes no state without the secret", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(2);
    auto other = night.play(2, to_the_hall + Words{"--standby", "0.0.0.0:7701", "--osc-secret", "lantern"});
    REQUIRE(other->says("stands by"));
    auto first = night.play(
        1, cues + to_the_hall + Words{"--tell", night.network.address(2), "--osc-secret", "candle"});
    REQUIRE(other->says("without the secret of `--osc-secret` is not obeyed"));
    first->signal(SIGKILL);
    REQUIRE(first->wait() == -SIGKILL);
    CHECK_FALSE(night.hears(1, 1, 1.3));
    check_quits(*other);
}

TEST_CASE("a player that stands by with another version goes on by cue numbers", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(2);
    const NightShow changed = night_show("changed", changed_night_text());
    auto other = night.play(2, to_the_hall + Words{"--standby", "0.0.0.0:7701"}, &changed);
    REQUIRE(other->says("stands by"));
    auto first = night.play(1, cues + to_the_hall + Words{"--tell", night.network.address(2)});
    REQUIRE(other->says("plays another version of the show"));
    REQUIRE(first->says("cue 3"));
    REQUIRE(night.goes_on(0, 5));
    first->signal(SIGKILL);
    REQUIRE(night.hears(1, 20));
    other->type("go");
    REQUIRE(other->says("cue 4"));
    check_quits(*other);
    // Waves begin anew in it, so its frames are none of a rendering's; cue 3 of the two fades front 3 alike.
    const auto sources = night.sources();
    const Stretch before = stretch_of(sources[0], night.show);
    const Recorded& taken_over = sources[1][0];
    const auto n = static_cast<std::size_t>((taken_over.ns - before.origin) / frame_ns);
    CAPTURE(n, int{taken_over.slots[2]});
    for (const std::size_t slot : {2u, 3u}) {
        CHECK(taken_over.slots[slot] >= changed.frames[n - 2][slot]);
        CHECK(taken_over.slots[slot] <= changed.frames[n + 2][slot]);
    }
}

TEST_CASE("a cable that is cut and mended: the one that stands by plays meanwhile", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(2);
    auto other = night.play(2, to_the_hall + Words{"--standby", "0.0.0.0:7701"});
    REQUIRE(other->says("stands by"));
    auto first = night.play(1, cues + to_the_hall + Words{"--tell", night.network.address(2)});
    REQUIRE(first->says("cue 3"));
    REQUIRE(night.goes_on(0, 5));
    night.network.cut_cable(1);
    REQUIRE(night.hears(1, 20));
    const std::size_t until_cut = night.sources()[0].size();
    night.network.mend_cable(1);
    REQUIRE(night.goes_on(0, 20));
    REQUIRE(night.goes_on(1, 1));
    check_quits(*first);
    check_quits(*other);
    const auto sources = night.sources();
    REQUIRE(sources.size() == 2);
    const auto at_cut = sources[0].begin() + static_cast<std::ptrdiff_t>(until_cut);
    const Stretch all = stretch_of(sources[0], night.show), taken = stretch_of(sources[1], night.show);
    check_in_phase(stretch_of({sources[0].begin(), at_cut}, night.show), taken);
    check_in_phase(stretch_of({sources[0].begin(), at_cut}, night.show),
                   stretch_of({at_cut, sources[0].end()}, night.show));
    CHECK(all.priority > taken.priority);
    CHECK(all.terminated == 3);
    report("cable cut, seconds until another is heard", sources[1][0].ns - sources[0][until_cut - 1].ns);
    report("cable cut, seconds without the first", sources[0][until_cut].ns - sources[0][until_cut - 1].ns);
}

TEST_CASE("an interface that goes down and comes back: the output too, and the clock runs on",
          "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(1);
    auto first = night.play(1, cues + to_the_hall);
    REQUIRE(first->says("cue 3"));
    REQUIRE(night.goes_on(0, 5));
    night.network.interface_down(1);
    REQUIRE(first->says("E1.31 multicast through eth0: fails"));
    const std::size_t until_down = night.sources()[0].size();
    night.network.interface_up(1);
    REQUIRE(night.goes_on(0, 20));
    CHECK(first->says("E1.31 multicast through eth0: works again"));
    check_quits(*first);
    const auto sources = night.sources();
    REQUIRE(sources.size() == 1);
    const auto back = sources[0].begin() + static_cast<std::ptrdiff_t>(until_down);
    check_in_phase(stretch_of({sources[0].begin(), back}, night.show),
                   stretch_of({back, sources[0].end()}, night.show));
    CHECK(stretch_of(sources[0], night.show).terminated == 3);
    report("interface down and up", back->ns - (back - 1)->ns);
}

TEST_CASE("an interface that comes late is played to from then on, and the others meanwhile",
          "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(1);
    auto first = night.play(1, cues + to_the_hall + Words{"--interface", "eth1", "--tell", "10.78.0.1"});
    REQUIRE(first->says("E1.31 multicast through eth1: fails"));
    CHECK(
        first->says("the player that stands by is not told: cannot send to 10.78.0.1 port 7701: Network is "
                    "unreachable; check the address and the network"));
    REQUIRE(night.hears(0, 10));
    CHECK(night.sources().size() == 1);
    night.network.add_interface(1, 1);
    REQUIRE(night.hears(1, 10));
    night.network.remove_interface(1, 1);
    REQUIRE(night.goes_on(0, 20));
    check_quits_with(*first, 2);
    CHECK(first->says("E1.31 multicast through eth1 did not work at the end"));
    const auto sources = night.sources();
    REQUIRE(sources.size() == 2);
    const Stretch steady = stretch_of(sources[0], night.show), late_one = stretch_of(sources[1], night.show);
    CHECK(sources[0][0].from == night.network.address(1, 0));
    CHECK(sources[1][0].from == night.network.address(1, 1));
    CHECK(steady.missing == 0);
    CHECK(steady.packets == steady.last - steady.first + 1 + 3);
    CHECK(std::llabs(steady.origin - late_one.origin) <= late);
}

TEST_CASE("a receiver that is restarted has the show with the next frame", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(1);
    auto first = night.play(1, cues + to_the_hall);
    REQUIRE(first->says("cue 3"));
    REQUIRE(night.goes_on(0, 5));
    const Stretch before = stretch_of(night.sources()[0], night.show);
    night.recorder.reset();
    night.listen();
    const std::int64_t listens = now();
    REQUIRE(night.hears(0, 20));
    check_quits(*first);
    const Stretch after = stretch_of(night.sources()[0], night.show);
    check_in_phase(before, after);
    report("a receiver restarted", after.began - listens);
    CHECK(after.began - listens < 10 * frame_ns);
}

TEST_CASE("a player that is killed resumes where the show would be", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    Night night(1);
    const bool named = GENERATE(false, true);
    const Words options =
        to_the_hall + (named ? Words{"--cid", "5f3c1a52-77b0-4e0e-9a3b-2b1f4f0c9d11"} : Words{});
    auto first = night.play(1, cues + options);
    REQUIRE(first->says("cue 3"));
    REQUIRE(night.goes_on(0, 10));
    first->signal(SIGKILL);
    REQUIRE(first->wait() == -SIGKILL);
    const auto killed = night.all();
    first = night.play(1, options + Words{"--resume"});
    REQUIRE(first->says("resumes"));
    REQUIRE(comes_true([&] { return night.all().size() >= killed.size() + 20; }));
    first->type("go");
    CHECK(first->says("cue 4"));
    check_quits(*first);
    CHECK(night.sources().size() == 1);  // to receivers it is the same one
    const auto all = night.all();
    const auto back = all.begin() + static_cast<std::ptrdiff_t>(killed.size());
    const Stretch before = stretch_of(killed, night.show), after = stretch_of({back, back + 20}, night.show);
    check_in_phase(before, after);
    CHECK(after.missing == 0);
    CHECK(before.terminated == 0);
    CHECK(back->sequence == 0);
    report("killed and resumed", after.began - before.ended);
}

TEST_CASE("a state that is not there or damaged: the show begins, or the reason is told",
          "[night][reference]") {
    const NightShow show = night_show("resumed");
    const std::string state = scratch("resumed.state"), log = scratch("resumed.log");
    const Words resume{TALLOW_PLAY_COMMAND, show.roll, "--null", "--resume", "--state", state};
    std::remove(state.c_str());
    std::string kept;
    {
        Program anew(resume, log);
        CHECK(anew.says("there is no state in `" + state + "` to resume from: the show begins anew"));
        anew.type("go");
        CHECK(anew.says("cue 1"));
        REQUIRE(comes_true([&] {
            const auto there = runtime::read_file(state, 1 << 16);
            kept = there.ok() ? *there : "";
            return kept.find("list main 1000") != std::string::npos;
        }));
        check_quits(anew);
    }
    CHECK_FALSE(runtime::read_file(state, 1 << 16).ok());  // it has ended in order
    std::string damaged = kept;
    damaged[damaged.find("now ") + 4] ^= 1;
    for (const std::string& text : {damaged, kept.substr(0, kept.size() / 2), std::string()}) {
        REQUIRE(runtime::write_file(state, text).ok());
        Program refused(resume, log);
        CHECK(refused.wait() == 2);
        CHECK(refused.said() == "tallow-play: cannot resume from `" + state +
                                    "`: it is damaged, cut off, or no state of a show; play without "
                                    "`--resume`\n");
    }
}

TEST_CASE("a disk that is full or read-only: said once, and the show goes on", "[night][reference]") {
    if (!StageNetwork::allowed()) return;
    const bool full = GENERATE(true, false);
    CAPTURE(full);
    Night night(1);
    const std::string folder = scratch("disk"), state = folder + "/night.state";
    const std::string options = full ? "size=4k" : "ro";
    // A small disk of the player's own.
    const std::string command =
        "mkdir -p " + folder + " && mount -t tmpfs -o " + options + " none " + folder +
        (full ? " && { cat /dev/zero > " + folder + "/filler; true; }" : "") +
        " 2>/dev/null; exec " TALLOW_PLAY_COMMAND " " + night.show.roll + " --state " + state + " --go " +
        night_times + " --sacn multicast --interface eth0";
    Program player({"unshare", "--mount", "sh", "-c", command}, scratch("disk.log"),
                   night.network.machine(1));
    REQUIRE(player.says("cue 3"));
    REQUIRE(night.goes_on(0, 45));
    check_quits(player);
    const std::string said = player.said(), words = "the state is not kept: cannot ";
    INFO(said);
    const std::size_t at = said.find(words);
    REQUIRE(at != std::string::npos);
    CHECK(said.find(words, at + 1) == std::string::npos);
    CHECK((said.find(full ? "No space left on device; free some space" : "Read-only file system; ") !=
           std::string::npos));
    const Stretch all = stretch_of(night.sources()[0], night.show);
    CHECK(all.missing == 0);
    CHECK(all.terminated == 3);
}
