// The built programs, as a technician has them on the night: commands in lines, saves while the show plays,
// signals, a terminal that goes away.
#include <catch2/catch.hpp>
#include <csignal>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <unistd.h>

#include "runtime/files.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/support/command.hpp"
#include "tests/support/loopback.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/running.hpp"
#include "tests/support/time_of_day.hpp"

using namespace tallow;
using test::Running;
namespace fs = std::filesystem;

namespace {

std::string text_of(const std::string& lamp, const std::string& more = "") {
    return "show \"Evening\"  tallow 1\npatch 1/1\n    lamp 1..2  dimmer\n    exit  dimmer\nlook way-out\n"
           "    exit  full\nsafety\n    panic look way-out\ncue 1  cut\n    lamp 1  " +
           lamp + "\ncue 2  fade 20s\n    lamp 2  full\n" + more;
}

// A cue behind them that there is a warning of.
const std::string waved =
    "wave swell  sine  period 2s\n    intensity  0% .. full\ncue 3\n    exit  wave swell\n";

struct Evening {
    explicit Evening(const std::string& name, std::vector<std::string> more = {},
                     Running::Desk desk = Running::Desk::pipes)
        : folder(test::scratch(name)), show(folder + "/show.tallow") {
        fs::remove_all(folder);
        fs::create_directories(folder);
        save(text_of("full"));
        std::vector<std::string> command{
            TALLOW_COMMAND,  "play", show, "--sacn", "127.0.0.1:" + std::to_string(receiver.port()),
            "--no-discovery"};
        command.insert(command.end(), more.begin(), more.end());
        running.emplace(command, desk);
    }
    ~Evening() { fs::remove_all(folder); }

    // Whole and by a rename, as the more careful editors save.
    void save(const std::string& text) const { REQUIRE(runtime::write_file(show, text).ok()); }
    // In place, as the others do.
    void save_in_place(const std::string& text) const { std::ofstream(show, std::ios::trunc) << text; }

    // The slots of packets to come are these, at the latest in ten seconds.
    bool sends(int lamp_1, int lamp_2, int exit) {
        for (int n = 0; n < 400; ++n) {
            const runtime::Bytes packet = receiver.next();
            if (packet.size() < 129) continue;
            seen = {packet[126], packet[127], packet[128]};
            if (seen == std::vector<int>{lamp_1, lamp_2, exit}) return true;
        }
        return false;
    }
    // How many packets that end a stream come in a row, at the very end.
    int terminated() {
        int ends = 0;
        for (runtime::Bytes packet = receiver.next(); !packet.empty(); packet = receiver.next())
            ends = packet.size() > 112 && (packet[112] & 0x40) != 0 ? ends + 1 : 0;
        return ends;
    }

    test::Receiver receiver;
    const std::string folder, show;
    std::vector<int> seen;
    std::optional<Running> running;
};

// Whether this comes to stand in a state, within ten seconds.
bool kept(const std::string& path, const std::string& what) {
    for (int n = 0; n < 500; ++n, ::usleep(20'000)) {
        const auto state = runtime::read_file(path, 1 << 16);
        if (state.ok() && state->find(what) != std::string::npos) return true;
    }
    return false;
}

// Starts a program with more words behind these.
auto starter(std::vector<std::string> words) {
    return [words = std::move(words)](const std::vector<std::string>& more) {
        std::vector<std::string> all = words;
        all.insert(all.end(), more.begin(), more.end());
        return std::make_unique<Running>(all);
    };
}

}  // namespace

TEST_CASE("commands in lines run the show", "[unit][session]") {
    Evening evening("session_lines");
    Running& player = *evening.running;
    player.type("go\n");
    CHECK(player.says("cue 1; next 2\n"));
    CHECK(evening.sends(255, 0, 0));
    player.type("Grand 50%\n");
    CHECK(player.says("  grand master at 50%\n"));
    CHECK(evening.sends(128, 0, 0));
    player.type("blackout\n");
    CHECK(player.says("blackout: no light but the floors; `blackout` ends it\n"));
    CHECK(evening.sends(0, 0, 0));
    player.type("panic\n");
    CHECK(player.says("the panic look is up; `panic` takes it away\n"));
    CHECK(evening.sends(0, 0, 255));
    player.type("panic\nblackout off\ngrand full\n");
    CHECK(player.says("the panic look is away\n"));
    CHECK(player.says("the blackout is over\n"));
    CHECK(evening.sends(255, 0, 0));
    player.type("pause\n");
    CHECK(player.says("paused: all stands still; `resume` or `go` goes on\n"));
    player.type("cue 1\ncue 7\n");
    CHECK(player.says("there is no cue 7 in `main`; beside it: 2\n"));
    CHECK(player.says("cue 1; next 2\n"));
    player.type("\n");
    CHECK(player.says("cue 2; the last one\n"));
    player.type("\n");
    CHECK(player.says("that was the last cue\n"));
    player.type("stop 100ms\n");
    CHECK(player.says("stopped: all fades out in 100ms; `go` goes on with the next cue\n"));
    CHECK(evening.sends(0, 0, 0));
    player.type("quit\n");
    CHECK(player.finish() == 0);
    CHECK(evening.terminated() == 3);
}

TEST_CASE("what is saved plays, what is wrong does not", "[unit][session]") {
    Evening evening("session_saves");
    Running& player = *evening.running;
    player.type("go\n");
    REQUIRE(evening.sends(255, 0, 0));
    evening.save(text_of("20%"));
    CHECK(player.says("the changed show plays\n"));
    CHECK(evening.sends(51, 0, 0));
    evening.save(text_of("20 %%"));
    CHECK(player.says("show.tallow:10:"));
    CHECK(player.says("error: "));
    CHECK(player.says("1 error in what was saved: the show plays on as it was\n"));
    CHECK(evening.sends(51, 0, 0));
    std::string wrong;
    for (int i = 0; i < 8; ++i) wrong += "    nothing" + std::to_string(i) + "  full\n";
    evening.save(text_of("20%", wrong));
    CHECK(player.says("3 findings more; `tallow check` tells all\n"));
    CHECK(player.says("8 errors in what was saved"));
    CHECK(evening.sends(51, 0, 0));
    evening.save(text_of("20%"));
    CHECK(player.says("what was saved plays as before\n"));
    fs::remove(evening.show);
    CHECK(player.says("the show plays on as it was\n"));
    CHECK(evening.sends(51, 0, 0));
    evening.save_in_place(text_of("40%", "cue 3\n    lamp 1  out\n"));
    CHECK(player.says("the changed show plays\n"));
    CHECK(evening.sends(102, 0, 0));
    const std::string beside = evening.show + ".new";
    std::ofstream(beside) << text_of("60%");
    fs::rename(beside, evening.show);
    CHECK(player.says("the changed show plays\n"));
    CHECK(evening.sends(153, 0, 0));
    evening.save(text_of("60%", "patch 9/1\n    far  dimmer\n"));
    CHECK(player.says("universe 9 has addresses that were not there when the player began"));
    player.type("cue 2\n");
    CHECK(player.says("cue 2; the last one\n"));
    player.type("quit\n");
    CHECK(player.finish() == 0);
}

TEST_CASE("what was found at the start is told once", "[unit][session]") {
    const std::string show = test::scratch("session_start.tallow");
    REQUIRE(runtime::write_file(show, text_of("full", waved)).ok());
    Running player({TALLOW_COMMAND, "play", show, "--null", "--no-state"});
    REQUIRE(player.says(": warning: "));
    ::usleep(500'000);  // by then the files are followed
    player.type("go\n");
    REQUIRE(player.says("cue 1; next 2\n"));
    player.type("quit\n");
    CHECK(player.finish() == 0);
    const std::string& all = player.out();
    CHECK(all.find(": warning: ") == all.rfind(": warning: "));
    CHECK(all.find("as before") == std::string::npos);
    fs::remove(show);
}

TEST_CASE("what was found before is not told again", "[unit][session]") {
    Evening evening("session_findings");
    Running& player = *evening.running;
    player.type("go\n");
    REQUIRE(evening.sends(255, 0, 0));
    evening.save(text_of("20%", waved));
    CHECK(player.says(": warning: "));
    CHECK(player.says("the changed show plays\n"));
    evening.save(text_of("40%", "\n" + waved));
    CHECK(player.says("1 finding as before\n"));
    CHECK(player.says("the changed show plays\n"));
    CHECK(evening.sends(102, 0, 0));
    const std::string& all = player.out();
    CHECK(all.find(": warning: ") == all.rfind(": warning: "));
    player.type("quit\n");
    CHECK(player.finish() == 0);
}

TEST_CASE("a show that is resumed or taken over says in which cue", "[unit][session]") {
    const std::string folder = test::scratch("session_goes_on"), show = folder + "/show.tallow";
    fs::create_directories(folder);
    REQUIRE(runtime::write_file(show, text_of("full")).ok());
    const std::string port = std::to_string(test::Receiver().port());
    const std::vector<std::string> play{TALLOW_COMMAND, "play", show, "--null", "--lines"};
    const auto with = [&](const std::vector<std::string>& more) {
        std::vector<std::string> all = play;
        all.insert(all.end(), more.begin(), more.end());
        return all;
    };
    Running beside(with({"--standby", "127.0.0.1:" + port, "--state", folder + "/beside.state"}));
    REQUIRE(beside.says("stands by on "));
    {
        Running killed(with({"--tell", "127.0.0.1:" + port}));
        killed.type("go\ngo\n");
        REQUIRE(killed.says("cue 2; the last one\n"));
        REQUIRE(beside.says("follows 127.0.0.1"));
        REQUIRE(kept(show + ".state", "list main 2000"));
        ::usleep(200'000);  // by then it is told, too
        killed.signal(SIGKILL);
        CHECK(killed.finish() == -SIGKILL);
    }
    CHECK(beside.says("takes over in cue 2: nothing was heard for 1"));
    Running resumed(with({"--resume"}));
    CHECK(resumed.says("resumes in cue 2; it is "));
    CHECK(resumed.says("s since the show stood so\n"));
    resumed.type("pause\n");
    REQUIRE(resumed.says("paused: "));
    REQUIRE(kept(show + ".state", "paused 1"));
    resumed.signal(SIGKILL);
    CHECK(resumed.finish() == -SIGKILL);
    Running paused(with({"--resume"}));
    CHECK(paused.says("resumes in cue 2, paused as it was\n"));
    paused.signal(SIGKILL);
    CHECK(paused.finish() == -SIGKILL);
    Running seen({TALLOW_COMMAND, "play", show, "--null", "--resume"}, Running::Desk::terminal);
    REQUIRE(seen.says("P A U S E D"));
    CHECK(seen.says("- resumes in cue 2, paused as it was"));
    seen.type("q");
    CHECK(seen.says("END the show"));
    seen.type("\r");
    CHECK(seen.finish() == 0);
    beside.type("quit\n");
    CHECK(beside.finish() == 0);
    fs::remove_all(folder);
}

TEST_CASE("a show that is resumed without the cue that it stood in says so", "[unit][session]") {
    const std::string folder = test::scratch("session_gone"), show = folder + "/show.tallow";
    fs::create_directories(folder);
    REQUIRE(runtime::write_file(show, text_of("full")).ok());
    const auto player = starter({TALLOW_COMMAND, "play", show, "--null", "--lines"});
    const auto killed = player({});
    killed->type("go\ngo\n");
    REQUIRE(kept(show + ".state", "list main 2000"));
    killed->signal(SIGKILL);
    CHECK(killed->finish() == -SIGKILL);
    std::string text = text_of("full");
    text.replace(text.find("cue 2"), 5, "cue 3");
    const bool another_show = GENERATE(false, true);
    if (another_show) text.replace(text.find("show \""), 6, "show \"Other ");
    REQUIRE(runtime::write_file(show, text).ok());
    const auto anew = player({});
    CHECK(anew->says(
        "the show broke off in cue 1 (it stood in cue 2, which is no more), and begins anew; to go on"));
    anew->type("quit\n");
    CHECK(anew->finish() == 0);
    const auto resumed = player({"--resume", "--state", show + ".state.before"});
    CHECK(resumed->says("resumes in cue 1; it is "));
    CHECK(resumed->says(another_show ? "; it was of another show, `Evening`, "
                                     : "; it was of another version of the show, "));
    CHECK(resumed->says("so cues go by their numbers; it stood in cue 2, which is no more\n"));
    resumed->type("quit\n");
    CHECK(resumed->finish() == 0);
    fs::remove_all(folder);
}

TEST_CASE("a show that broke off and begins anew can be resumed all the same", "[unit][session]") {
    const std::string folder = test::scratch("session_broke_off"), show = folder + "/show.tallow";
    fs::create_directories(folder);
    REQUIRE(runtime::write_file(show, text_of("full")).ok());
    const auto player = starter({TALLOW_COMMAND, "play", show, "--null", "--lines"});
    const std::string state = show + ".state", before = state + ".before";
    const auto killed = player({});
    killed->type("go\ngo\ngrand 50%\nblackout\n");
    REQUIRE(kept(state, "list main 2000"));
    REQUIRE(kept(state, "blackout 1"));
    // The show is there once.
    const auto twice = player({});
    CHECK(twice->finish() == 2);
    CHECK_THAT(twice->out(),
               Catch::Contains("another player is playing this, and keeps its state in `" + state));
    CHECK(kept(state, "list main 2000"));
    killed->signal(SIGKILL);
    CHECK(killed->finish() == -SIGKILL);

    const auto anew = player({});
    CHECK(
        anew->says("the show broke off in cue 2, with blackout, grand master at 50%, and begins anew; to go "
                   "on from there, end it and start it with "
                   "`--resume --state " +
                   before + "`\n"));
    anew->type("quit\n");
    CHECK(anew->finish() == 0);
    CHECK_FALSE(fs::exists(state));
    const auto resumed = player({"--resume", "--state", before});
    CHECK(resumed->says("resumes in cue 2, with blackout, grand master at 50%; it is "));
    resumed->type("quit\n");
    CHECK(resumed->finish() == 0);
    CHECK_FALSE(fs::exists(before));

    // What stands where it would be kept is not written over.
    REQUIRE(runtime::write_file(before, "my notes").ok());
    const auto again = player({});
    again->type("go\n");
    REQUIRE(kept(state, "list main 1000"));
    again->signal(SIGKILL);
    CHECK(again->finish() == -SIGKILL);
    const auto beside = player({});
    CHECK(beside->says("--resume --state " + before + "-2`\n"));
    CHECK(runtime::read_file(before, 100).ok());
    CHECK(*runtime::read_file(before, 100) == "my notes");
    beside->type("quit\n");
    CHECK(beside->finish() == 0);
    const auto fresh = player({});
    fresh->type("quit\n");
    CHECK(fresh->finish() == 0);
    CHECK(fresh->out().find("broke off") == std::string::npos);
    fs::remove_all(folder);
}

TEST_CASE("no byte of a label, nor of what is typed, steers the terminal that lines go to",
          "[unit][session]") {
    const std::string folder = test::scratch("session_label"), file = folder + "/show.roll";
    fs::remove_all(folder);
    fs::create_directories(folder);
    runtime::Roll roll;
    roll.universes = {{1, 1}};
    roll.cues.resize(2);
    roll.cues[0].number = 1000;
    roll.cues[0].label = "\033[2J\nStorm";
    roll.cues[1].number = 2000;
    roll.lists = {{"main", 0, 2}};
    REQUIRE(runtime::write_file(file, runtime::write_roll(roll)).ok());
    const auto player = starter({TALLOW_PLAY_COMMAND, file, "--null"});
    const std::string storm = "cue 1 \"\uFFFD[2J Storm\"", port = std::to_string(test::Receiver().port());
    const auto beside = player({"--standby", "127.0.0.1:" + port, "--no-state"});
    REQUIRE(beside->says("stands by on "));
    const auto first = player({"--tell", "127.0.0.1:" + port});
    first->type("go\n\033[2Jgo\n");
    CHECK(first->says(storm + "; next 2\n"));
    CHECK(first->out().find("`\uFFFD[2Jgo` is no command") != std::string::npos);
    REQUIRE(beside->says("follows 127.0.0.1"));
    REQUIRE(kept(file + ".state", "list main 1000"));
    ::usleep(200'000);  // by then it is told, too
    first->signal(SIGKILL);
    CHECK(first->finish() == -SIGKILL);
    CHECK(beside->says("takes over in " + storm + ": nothing was heard for 1"));
    const auto resumed = player({"--resume"});
    CHECK(resumed->says("resumes in " + storm + "; it is "));
    const auto scripted = player({"--fast", "--go", "0s", "--no-state"});
    CHECK(scripted->says(" 0:00:00.000  " + storm + "; next 2\n"));
    for (const Running* const one : {beside.get(), first.get(), resumed.get(), scripted.get()})
        CHECK(one->out().find('\033') == std::string::npos);
    for (Running* const one : {beside.get(), resumed.get()}) {  // which write into the folder
        one->signal(SIGTERM);
        CHECK(one->finish() == 0);
    }
    fs::remove_all(folder);
}

TEST_CASE("each signal that ends a program ends the show in order", "[unit][session]") {
    for (const int number : {SIGINT, SIGTERM, SIGHUP}) {
        CAPTURE(number);
        Evening evening("session_signals");
        evening.running->type("go\n");
        REQUIRE(evening.sends(255, 0, 0));
        for (const int passed_over : {SIGTSTP, SIGTTIN, SIGTTOU, SIGPIPE})
            evening.running->signal(passed_over);
        REQUIRE(evening.sends(255, 0, 0));
        evening.running->signal(number);
        CHECK(evening.running->finish() == 0);
        CHECK(evening.terminated() == 3);
    }
}

TEST_CASE("a player that `nohup` started plays on when its terminal is closed", "[unit][session]") {
    const std::string show = test::scratch("session_nohup.tallow");
    REQUIRE(runtime::write_file(show, text_of("full")).ok());
    test::Receiver receiver;
    Running player({"/bin/sh", "-c", "trap '' HUP; exec \"$@\"", "sh", TALLOW_COMMAND, "play", show, "--sacn",
                    "127.0.0.1:" + std::to_string(receiver.port()), "--no-state"});
    player.type("go\n");
    REQUIRE(player.says("cue 1"));
    player.signal(SIGHUP);
    player.type("go\n");
    CHECK(player.says("cue 2"));
    player.type("quit\n");
    CHECK(player.finish() == 0);
    fs::remove(show);
}

TEST_CASE("a terminal that goes away ends the show in order", "[unit][session]") {
    Evening evening("session_terminal", {}, Running::Desk::terminal);
    REQUIRE(evening.running->says("Evening"));
    evening.running->type(" ");
    REQUIRE(evening.sends(255, 0, 0));
    evening.running->close_input();
    CHECK(evening.running->finish() == 0);
    CHECK(evening.terminated() == 3);
}

TEST_CASE("without input the show plays until nothing starts by itself", "[unit][session]") {
    Evening evening("session_no_input", {"--go", "0s"});
    evening.running->close_input();
    CHECK(evening.running->says("no command can come any more and nothing starts by itself: the end\n"));
    CHECK(evening.running->finish() == 0);
    CHECK(evening.terminated() == 3);
}

TEST_CASE("a show begins at a time of day", "[unit][session]") {
    const std::time_t then = std::time(nullptr) + 3;
    const std::string at = test::time_of_day(then);
    Evening evening("session_begin_at", {"--begin-at", at, "--go", "0s"});
    CHECK(evening.running->says(" for " + at + "\n"));
    evening.running->type("go\n");  // too early: cue 2 must not be there at the beginning
    CHECK(evening.running->says("; until then nothing is done but `quit`\n"));
    REQUIRE(evening.sends(255, 0, 0));
    timespec now{};
    ::clock_gettime(CLOCK_REALTIME, &now);
    const auto late_ms = (now.tv_sec - then) * 1000 + now.tv_nsec / 1000000;
    CHECK(late_ms >= 0);
    CHECK(late_ms < 1000);
    evening.running->type("quit\n");
    CHECK(evening.running->finish() == 0);
}

TEST_CASE("a show that has not begun stands at its beginning, and quits at once", "[unit][session]") {
    const std::time_t then = std::time(nullptr) + 60;
    const std::string at = test::time_of_day(then);
    Evening evening("session_not_begun", {"--begin-at", at, "--from", "90s"}, Running::Desk::terminal);
    CHECK(evening.running->says(" 0:01:30"));
    CHECK(evening.running->says("B E G I N S   I N   "));
    evening.running->type("q");
    CHECK(evening.running->says("END the show"));
    evening.running->type("\r");
    CHECK(evening.running->finish() == 0);
}

TEST_CASE("options that cannot be together are refused by one sentence", "[unit][session]") {
    const std::string folder = test::scratch("session_options");
    fs::create_directories(folder);
    const std::string show = folder + "/show.tallow";
    REQUIRE(runtime::write_file(show, text_of("full")).ok());
    const auto refused = [&](const std::string& options, const std::string& sentence) {
        const auto ran = test::run("timeout 10 " + test::quoted(TALLOW_COMMAND) + " play " +
                                   test::quoted(show) + " " + options);
        INFO(options << ": " << ran.out);
        CHECK(ran.code == 2);
        CHECK(ran.out.find(sentence) != std::string::npos);
        CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') <= 2);
    };
    refused("", "nothing says where to play to");
    refused("--null --resume --go 0s", "`--resume` goes on from where the show stood; leave `--go`");
    refused("--null --resume --from 3s", "`--resume` goes on from where the show stood");
    refused("--null --resume --no-state",
            "`--no-state` keeps no state, and `--resume` goes on from one; leave one");
    refused("--null --state x --no-state",
            "`--no-state` keeps no state, and `--state` says where it is kept; leave one");
    refused("--null --resume --standby 7701",
            "`--resume` goes on from where this player's show stood, and `--standby` from where another's "
            "stands; leave one of them away");
    refused("--null --begin-at 25:00:00", "--begin-at: `25:00:00` is no time of day; write it like 20:00:00");
    refused("--null --begin-at 8pm", "--begin-at: `8pm` is no time of day; write it like 20:00:00");
    refused("--null --begin-at 23:59:59 --fast", "`--begin-at`");
    refused("--null --standby 7701 --fast", "`--standby`");
    refused("--null --standby 7701 --begin-at 23:59:59", "`--standby`");
    refused("--null --standby 7701 --go 1s", "`--standby`");
    refused("--null --fast --osc 7700", "`--fast`");
    refused("--null --fast --tell 127.0.0.1", "`--fast`");
    refused("--null --go 0s --do '1s gone'", "--do: `gone` is no command");
    refused("--null --from 5s --until 2s", "`--until 2s` does not come after `--from 5s`");
    refused("--null --tell 127.0.0.1:x", "--tell: ");
    refused("--null --standby host:1", "--standby: ");
    refused("--standby 7701", "nothing says where to play to");
    refused("--null --standby 7701 --sacn 127.0.0.1 --universes 7", "the show has no universe 7");
    refused("--null --standby 7701 --tell 127.0.0.1:x", "--tell: ");
    refused("--null --standby 7701 --osc 192.0.2.1:7700", "in `--osc`: cannot listen for OSC");
    refused("--sacn 127.0.0.1 --universes 7", "the show has no universe 7: it has 1; choose");
    refused("--null --osc-secret x", "--osc-secret");
    fs::remove_all(folder);
}
