// A player that stands by for another one, both as a technician starts them: what it says, what it hears, and
// when it plays.
#include <algorithm>
#include <arpa/inet.h>
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <ctime>
#include <filesystem>
#include <sys/socket.h>
#include <unistd.h>

#include "runtime/files.hpp"
#include "runtime/survival/state_link.hpp"
#include "tests/support/loopback.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/running.hpp"
#include "tests/support/time_of_day.hpp"

using namespace tallow;
using test::Running;
namespace fs = std::filesystem;

namespace {

using Words = std::vector<std::string>;
using Player = std::unique_ptr<Running>;

constexpr std::string_view show_text =
    "show \"Two machines\"  tallow 1\npatch 1/1\n    lamp 1..3  dimmer\ncue 1  cut\n    lamp 1  full\n"
    "cue 2  cut\n    lamp 2  full\ncue 3  cut\n    lamp 3  full\n";

constexpr int higher = 100, lower = 90;
const std::vector<int> cue_1{255, 0, 0}, cue_2{255, 255, 0};

// Two machines, and a receiver that hears both.
struct House {
    explicit House(const std::string& name) : folder(test::scratch(name)), show(folder + "/show.tallow") {
        fs::remove_all(folder);
        fs::create_directories(folder);
        REQUIRE(runtime::write_file(show, show_text).ok());
        const test::Receiver one, other;  // whose ports are free again then
        port = std::to_string(one.port());
        osc_port = std::to_string(other.port());
    }
    ~House() { fs::remove_all(folder); }

    Player play(const Words& more, Running::Desk desk = Running::Desk::pipes) const {
        Words words{
            TALLOW_COMMAND,   "play",      show, "--sacn", "127.0.0.1:" + std::to_string(receiver.port()),
            "--no-discovery", "--no-state"};
        words.insert(words.end(), more.begin(), more.end());
        return std::make_unique<Running>(words, desk);
    }
    Player first(const Words& more = {}) const {
        Words words{"--tell", "127.0.0.1:" + port};
        words.insert(words.end(), more.begin(), more.end());
        return play(words);
    }
    Player other(const Words& more = {}, Running::Desk desk = Running::Desk::pipes) const {
        Words words{"--standby", port};
        words.insert(words.end(), more.begin(), more.end());
        Player player = play(words, desk);
        REQUIRE(player->says("stands by on 127.0.0.1:" + port));
        return player;
    }

    // One that is followed by another, which has been told of the cue, too.
    Player first_in_cue_1(Running& other) {
        Player player = first();
        player->type("go\n");
        REQUIRE(sends(higher, cue_1));
        REQUIRE(other.says("follows 127.0.0.1\n"));
        REQUIRE(is_silent(lower, 200));
        return player;
    }

    // Packets come with this priority and these lamps, at the latest in ten seconds.
    bool sends(int priority, const std::vector<int>& lamps) {
        const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(10);
        while (std::chrono::steady_clock::now() < until) {
            const runtime::Bytes packet = receiver.next();
            if (packet.size() < 129 || (packet[112] & 0x40) != 0) continue;
            seen = {packet[126], packet[127], packet[128]};
            if (packet[108] == priority && seen == lamps) return true;
        }
        return false;
    }
    // No packet of this priority comes for a while.
    bool is_silent(int priority, int ms) {
        const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds(ms);
        while (std::chrono::steady_clock::now() < until) {
            const runtime::Bytes packet = receiver.next();
            if (packet.size() >= 129 && packet[108] == priority) return false;
        }
        return true;
    }
    // By OSC, to the player that stands by.
    void say(const char* address) const {
        const auto bytes = runtime::osc_bytes({address, {}});
        REQUIRE(bytes.ok());
        sockaddr_in to{};
        to.sin_family = AF_INET;
        to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        to.sin_port = htons(static_cast<std::uint16_t>(std::stoi(osc_port)));
        const int fd = ::socket(AF_INET, SOCK_DGRAM | SOCK_CLOEXEC, 0);
        CHECK(::sendto(fd, bytes->data(), bytes->size(), 0, reinterpret_cast<sockaddr*>(&to), sizeof to) > 0);
        ::close(fd);
    }
    std::unique_ptr<runtime::StateSender> stranger() const {
        auto sender =
            runtime::StateSender::open({{"127.0.0.1", static_cast<std::uint16_t>(std::stoi(port))}}, "");
        REQUIRE(sender.ok());
        return std::move(*sender);
    }

    test::Receiver receiver;
    const std::string folder, show;
    std::string port, osc_port;
    std::vector<int> seen;
};

void kill(Running& player) {
    player.signal(SIGKILL);
    REQUIRE(player.finish() == -SIGKILL);
}

// What a first player said, in turn: `-` that nobody stands by, `+` that somebody does.
std::string answers_told(const std::string& said) {
    std::string told;
    for (std::size_t at = 0; (at = said.find(" stands by", at)) != std::string::npos; ++at)
        told += said.substr(0, at).ends_with("nobody") ? '-' : '+';
    return told;
}

void quit(Running& player) {
    player.type("quit\n");
    CHECK(player.finish() == 0);
}

}  // namespace

TEST_CASE("a player that stands by answers at its keys, and `quit` ends it", "[unit][standby]") {
    House house("stand_by_keys");
    const auto other = house.other();
    other->type("go\n");
    CHECK(
        other->says("this player stands by, and commands are for the first one; here `take` takes over by "
                    "hand, and `quit` ends this one\n"));
    other->type("take\n");
    CHECK(other->says("there is nothing to take over: no player has told yet how its show stands\n"));
    other->type(std::string(5000, 'x') + "\n");
    CHECK(other->says("a line of more than 4096 bytes is no command\n"));
    CHECK(house.is_silent(lower, 200));
    quit(*other);
}

TEST_CASE("a player that stands by without input takes over, and plays on at rest", "[unit][standby]") {
    House house("stand_by_no_input");
    const auto other = house.other();
    other->close_input();
    const auto first = house.first_in_cue_1(*other);
    kill(*first);
    REQUIRE(other->says("takes over in cue 1: nothing was heard for 1"));
    REQUIRE(house.sends(lower, cue_1));
    CHECK(house.is_silent(higher, 1500));
    CHECK(house.sends(lower, cue_1));
    other->signal(SIGTERM);
    CHECK(other->finish() == 0);
}

TEST_CASE("a terminal that was halted by control S does not halt a player that stands by",
          "[unit][standby]") {
    House house("stand_by_terminal");
    const auto other = house.other({}, Running::Desk::terminal);
    const auto first = house.first();
    first->type("go\n");
    REQUIRE(house.sends(higher, cue_1));
    REQUIRE(other->says("follows 127.0.0.1"));
    other->type("\x13");
    CHECK(house.is_silent(lower, 200));
    kill(*first);
    CHECK(house.sends(lower, cue_1));
    CHECK(other->says("Two machines"));  // the console
    other->type("q\r");
    CHECK(other->finish() == 0);
}

TEST_CASE("the show is taken over by hand, from a player that sends or has ended", "[unit][standby]") {
    House house("stand_by_take");
    const bool ended = GENERATE(false, true);
    CAPTURE(ended);
    const auto other = house.other();
    const auto first = house.first_in_cue_1(*other);
    if (ended) {
        quit(*first);
        REQUIRE(other->says("the other player has ended its show in order"));
    }
    CHECK(house.is_silent(lower, 1500));
    other->type("take\n");
    if (ended)
        CHECK(other->says("takes over by hand in cue 1\n"));
    else
        CHECK(other->says(
            "takes over by hand in cue 1; the player on 127.0.0.1 still sends: end it, unless the "
            "priority of this one is higher\n"));
    CHECK(house.sends(lower, cue_1));
    other->type("go\n");
    CHECK(house.sends(lower, cue_2));
    quit(*other);
}

TEST_CASE("a show that is taken over late is where it would be by then, and says so", "[unit][standby]") {
    House house("stand_by_late");
    std::string follows(show_text);
    follows.insert(follows.find("cue 1  cut") + 10, "  follow 2s");
    REQUIRE(runtime::write_file(house.show, follows).ok());
    const auto other = house.other();
    const auto first = house.first_in_cue_1(*other);
    quit(*first);
    REQUIRE(other->says("the other player has ended its show in order"));
    CHECK(house.is_silent(lower, 2500));
    other->type("Take\n");
    CHECK(other->says("takes over by hand in cue 2\n"));
    CHECK(house.sends(lower, cue_2));
    quit(*other);
}

TEST_CASE("what other machines say to a player that stands by is passed over", "[unit][standby]") {
    House house("stand_by_osc");
    const auto other = house.other({"--osc", house.osc_port});
    const auto first = house.first_in_cue_1(*other);
    house.say("/tallow/go");
    house.say("/tallow/nonsense");
    kill(*first);
    REQUIRE(house.sends(lower, cue_1));
    house.say("/tallow/go");
    CHECK(house.sends(lower, cue_2));
    quit(*other);
    for (const char* words : {"nonsense", "commands are for the first one"})
        CHECK(other->out().find(words) == std::string::npos);
}

TEST_CASE("nobody but the player that is followed ends its show", "[unit][standby]") {
    House house("stand_by_end");
    const auto other = house.other();
    const auto stranger = house.stranger();
    stranger->end();
    const auto first = house.first_in_cue_1(*other);
    stranger->end();
    stranger->send("no state", 0, 0);
    CHECK(other->says(": a state that cannot be read; play with the same version of the program\n"));
    kill(*first);
    CHECK(house.sends(lower, cue_1));
    quit(*other);
    CHECK(other->out().find("has ended its show") == std::string::npos);
}

TEST_CASE("a player that is killed and started again at once is stood by for as before", "[unit][standby]") {
    House house("stand_by_again");
    const auto other = house.other();
    auto first = house.first_in_cue_1(*other);
    kill(*first);
    first = house.first();
    CHECK(other->says("the player on 127.0.0.1 was started again\n"));
    CHECK(house.is_silent(lower, 1500));
    quit(*first);
    CHECK(other->says("the other player has ended its show in order"));
    quit(*other);
}

TEST_CASE("of two players that tell the one that was heard first is followed", "[unit][standby]") {
    House house("stand_by_two");
    const auto other = house.other();
    const auto first = house.first_in_cue_1(*other);
    const auto second = house.first({"--priority", "120"});
    second->type("go\ngo\n");
    REQUIRE(house.sends(120, cue_2));
    CHECK(other->says(" tells of a show, too: it is not followed, as 127.0.0.1:"));
    CHECK(house.is_silent(lower, 1200));
    quit(*second);
    CHECK(house.is_silent(lower, 1200));
    kill(*first);
    CHECK(house.sends(lower, cue_1));
    quit(*other);
    const std::string& out = other->out();
    CHECK(out.find(" tells of a show") == out.rfind(" tells of a show"));
}

TEST_CASE("a player that waits for its time to begin is taken over", "[unit][standby]") {
    House house("stand_by_begin_at");
    const std::time_t then = std::time(nullptr) + 5;
    const std::string at = test::time_of_day(then);
    const auto other = house.other();
    const auto first = house.first({"--begin-at", at});
    REQUIRE(other->says("follows 127.0.0.1\n"));
    kill(*first);
    REQUIRE(other->says("takes over before the first cue: nothing was heard for 1"));
    CHECK(other->says("; the show begins in "));
    REQUIRE(house.sends(lower, {0, 0, 0}));
    timespec now{};
    ::clock_gettime(CLOCK_REALTIME, &now);
    const auto late_ms = (now.tv_sec - then) * 1000 + now.tv_nsec / 1000000;
    CHECK(late_ms >= -10);
    CHECK(late_ms < 1000);
    other->type("go\n");
    CHECK(house.sends(lower, cue_1));
    quit(*other);
}

TEST_CASE("the first player says whether somebody stands by", "[unit][standby]") {
    House house("stand_by_answers");
    const std::string nobody =
        "nobody stands by at 127.0.0.1 port " + house.port +
        ": nothing answers; start the other one with `--standby 0.0.0.0:" + house.port +
        "`, and give both the same `--osc-secret` or none\n";
    const auto first = house.first();
    CHECK(first->says(nobody));
    auto other = house.other();
    CHECK(first->says(" 127.0.0.1 stands by\n"));
    // As it is long after its first answer.
    CHECK(house.is_silent(lower, 3500));
    quit(*other);
    CHECK(first->says(nobody));
    other = house.other();
    CHECK(first->says(" 127.0.0.1 stands by again\n"));
    quit(*first);
    quit(*other);
    // Each once; more only where the machine held the other one up for seconds.
    const std::string told = answers_told(first->out());
    CHECK(told.starts_with("-+-+"));
    CHECK(std::adjacent_find(told.begin(), told.end()) == told.end());
}

TEST_CASE("the console shows who stands by", "[unit][standby]") {
    House house("stand_by_console");
    const auto other = house.other();
    const auto first = house.play({"--tell", "127.0.0.1:" + house.port}, Running::Desk::terminal);
    CHECK(first->says("127.0.0.1 stands by"));
    quit(*other);
    CHECK(first->says("nobody stands by at 127.0.0.1 port " + house.port + ": nothing answers"));
    first->type("q\r");
    CHECK(first->finish() == 0);
}

TEST_CASE("players whose secrets differ know nothing of each other, and say so", "[unit][standby]") {
    House house("stand_by_secrets");
    const auto other = house.other({"--osc-secret", "lantern"});
    const auto first = house.first({"--osc-secret", "lanterm"});
    CHECK(first->says("nobody stands by at 127.0.0.1 port " + house.port + ": nothing answers"));
    quit(*first);
    const auto friendly = house.first({"--osc-secret", "lantern"});
    CHECK(friendly->says(" 127.0.0.1 stands by\n"));
    quit(*friendly);
    quit(*other);
}

TEST_CASE("both players say that their shows are not the same", "[unit][standby]") {
    House house("stand_by_shows");
    const auto other = house.other();
    const bool another_show = GENERATE(false, true);
    CAPTURE(another_show);
    std::string text(show_text);
    text.replace(text.find("cue 3"), 5, "cue 4");
    if (another_show) text.replace(text.find("Two machines"), 12, "Harbour");
    REQUIRE(runtime::write_file(house.show, text).ok());
    const auto first = house.first();
    first->type("go\ngo\ngo\n");
    REQUIRE(house.sends(higher, {255, 255, 255}));
    if (another_show) {
        CHECK(
            other->says(": plays another show: `Harbour` there, `Two machines` here; this player would take "
                        "over by cue numbers\n"));
        CHECK(first->says("127.0.0.1 stands by with another show; it would take over by cue numbers: "));
    } else {
        CHECK(other->says(": plays another version of the show; cues are followed by their numbers\n"));
        CHECK(first->says("127.0.0.1 stands by with another version of the show; "));
    }
    CHECK(house.is_silent(lower, 200));
    kill(*first);
    CHECK(other->says("takes over in cue 3: nothing was heard for 1"));
    CHECK(other->says("ms; it stood in cue 4, which is no more\n"));
    quit(*other);
}

TEST_CASE("a player that is not followed says so", "[unit][standby]") {
    House house("stand_by_not_followed");
    const auto other = house.other();
    const auto first = house.first_in_cue_1(*other);
    const auto second = house.first({"--priority", "120"});
    CHECK(
        second->says("127.0.0.1 stands by for another player, and not for this one; end that one, or have "
                     "this one tell another machine\n"));
    quit(*second);
    quit(*first);
    quit(*other);
    CHECK(first->out().find("for another player") == std::string::npos);
}

TEST_CASE("a host that is not found is told of, and looked up again", "[unit][standby]") {
    House house("stand_by_no_host");
    const auto first = house.play({"--tell", "no.such.host.invalid"});
    CHECK(first->says("the player that stands by is not told: cannot find host `no.such.host.invalid`: "));
    CHECK(first->says("; it is looked up again\n"));
    quit(*first);
}

TEST_CASE("a secret that one of two players has is told of by its option", "[unit][standby]") {
    House house("stand_by_secret");
    const bool here = GENERATE(false, true);
    CAPTURE(here);
    const Words secret{"--osc-secret", "lantern"}, nothing{};
    const auto other = house.other(here ? secret : nothing);
    const auto first = house.first(here ? nothing : secret);
    if (here)
        CHECK(other->says(
            ": an OSC message without the secret of `--osc-secret` is not obeyed; its sender must give the "
            "same one\n"));
    else
        CHECK(other->says(
            ": tells with a secret, and this player was given none: give both the same `--osc-secret`\n"));
    CHECK(house.is_silent(lower, 1300));
    kill(*first);
    CHECK(house.is_silent(lower, 1500));
    quit(*other);
    CHECK(other->out().find("--osc-secret") == other->out().rfind("--osc-secret"));
}
