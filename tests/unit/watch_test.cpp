// Rounds of a watch with events and a clock that are made up, and what the system really tells.
#include "compiler/command/watch.hpp"

#include <catch2/catch.hpp>
#include <deque>
#include <filesystem>
#include <sys/resource.h>
#include <unistd.h>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using command::Changes;
using Paths = std::vector<std::string>;
namespace fs = std::filesystem;

namespace {

// Tells what it was told to, and writes down what it is asked.
struct MadeUpChanges : Changes {
    struct Event {
        Paths paths;
        bool stop = false;
    };
    std::deque<Event> events;
    Paths log;
    std::string trouble;
    std::uint64_t* now = nullptr;

    void begin() override { log.emplace_back("begin"); }
    runtime::Status follow(const std::string& path) override {
        log.push_back("follow " + path);
        return trouble.empty() ? runtime::Status() : runtime::Status::failure(trouble);
    }
    void end() override { log.emplace_back("end"); }
    runtime::Result<Happened> wait(std::optional<int> milliseconds) override {
        log.push_back(milliseconds ? "wait " + std::to_string(*milliseconds) : "wait");
        if (now != nullptr) *now += 20'000'000;
        if (events.empty()) return Happened{true, {}};
        Event event = events.front();
        events.pop_front();
        return Happened{event.stop, event.paths};
    }
};

struct MadeUpClock : runtime::Clock {
    std::uint64_t time = 0;
    std::uint64_t now() override { return time; }
    void wait(std::uint64_t) override {}
};

runtime::Result<std::string> nothing(const std::string&) {
    return std::string();
}

// What brought about each round; every round reads these files.
std::vector<Paths> rounds(MadeUpChanges& changes, MadeUpClock& clock, const Paths& files) {
    std::vector<Paths> all;
    const auto read = [&](const std::string& path) {
        changes.log.push_back("read " + path);
        return nothing(path);
    };
    const auto status = command::watch(changes, clock, read, [&](const Paths& changed, const auto& reads) {
        all.push_back(changed);
        for (const std::string& file : files) (void)reads(file);
    });
    CHECK(status.ok());
    return all;
}

// A folder of its own, gone with the test.
struct Folder {
    std::string path;
    explicit Folder(const std::string& name) : path(test::scratch(name)) {
        fs::remove_all(path);
        fs::create_directories(path);
    }
    ~Folder() { fs::remove_all(path); }
    std::string operator/(const std::string& name) const { return path + "/" + name; }
};

void write(const std::string& path, const std::string& text) {
    FILE* file = std::fopen(path.c_str(), "w");
    REQUIRE(file != nullptr);
    std::fputs(text.c_str(), file);
    std::fclose(file);
}

void follow(Changes& changes, const Paths& paths) {
    changes.begin();
    for (const std::string& path : paths) {
        const auto status = changes.follow(path);
        INFO(status.why());
        REQUIRE(status.ok());
    }
    changes.end();
}

// What the system tells within a few seconds; what comes right behind it is taken along.
Paths told(Changes& changes) {
    const auto happened = changes.wait(5000);
    REQUIRE(happened.ok());
    for (;;) {
        const auto more = changes.wait(20);
        REQUIRE(more.ok());
        if (more->paths.empty()) return happened->paths;
    }
}

}  // namespace

TEST_CASE("every file is followed before it is read, in each round", "[unit][watch]") {
    MadeUpChanges changes;
    MadeUpClock clock;
    changes.events = {{{"a"}}, {{}}};
    CHECK(rounds(changes, clock, {"a", "b"}) == std::vector<Paths>{{}, {"a"}});
    const Paths round{"begin", "follow a", "read a", "follow b", "read b", "end"};
    Paths expected = round;
    for (const char* step : {"wait", "wait 30"}) expected.emplace_back(step);
    expected.insert(expected.end(), round.begin(), round.end());
    expected.emplace_back("wait");
    CHECK(changes.log == expected);
}

TEST_CASE("changes that follow one another closely make one round", "[unit][watch]") {
    MadeUpChanges changes;
    MadeUpClock clock;
    changes.events = {{{"b"}}, {{"a"}}, {{"b"}}, {{}}, {{"c"}}, {{}}};
    CHECK(rounds(changes, clock, {}) == std::vector<Paths>{{}, {"a", "b"}, {"c"}});
}

TEST_CASE("a file that changes all the time does not hold up the rounds for ever", "[unit][watch]") {
    MadeUpChanges changes;
    MadeUpClock clock;
    changes.now = &clock.time;
    changes.events.assign(60, {{"a"}});
    CHECK(rounds(changes, clock, {}).size() == 2);  // 51 waits of 20 ms, then a round; the rest is cut off
    CHECK(changes.events.empty());
}

TEST_CASE("a user who asks to end is not kept waiting, not even while changes come in", "[unit][watch]") {
    MadeUpChanges changes;
    MadeUpClock clock;
    changes.events = {{{"a"}}, {{}, true}, {{"b"}}};
    CHECK(rounds(changes, clock, {}).size() == 1);
}

TEST_CASE("a system that cannot watch ends the watch with its reason", "[unit][watch]") {
    MadeUpChanges changes;
    MadeUpClock clock;
    changes.trouble = "no more watches";
    const auto status =
        command::watch(changes, clock, nothing, [](const Paths&, const auto& read) { (void)read("a"); });
    CHECK(status.why() == "no more watches");
}

TEST_CASE("the system tells of saving in place, by renaming, of deleting and making anew", "[unit][watch]") {
    const Folder folder("watch-saves");
    const std::string show = folder / "show.tallow", other = folder / "other.tallow";
    write(show, "a");
    const auto changes = command::system_changes();
    REQUIRE(changes.ok());
    follow(**changes, {show});
    write(show, "b");
    CHECK(told(**changes) == Paths{show});
    write(other, "c");
    CHECK((*changes)->wait(50)->paths.empty());  // not followed
    fs::rename(other, show);
    CHECK(told(**changes) == Paths{show});
    write(show, "d");  // the new file is followed too
    CHECK(told(**changes) == Paths{show});
    fs::remove(show);
    CHECK(told(**changes) == Paths{show});
    write(show, "e");
    CHECK(told(**changes) == Paths{show});
    follow(**changes, {other});
    write(show, "f");
    CHECK((*changes)->wait(50)->paths.empty());  // let go
}

TEST_CASE("the system tells of files in folders that are made, moved and linked later", "[unit][watch]") {
    const Folder folder("watch-folders");
    const std::string deep = folder / "rigs/hall/rig.tallow", linked = folder / "linked.tallow";
    write(folder / "real", "a");
    fs::create_symlink("real", linked);
    const auto changes = command::system_changes();
    REQUIRE(changes.ok());
    follow(**changes, {deep, linked});
    fs::create_directories(folder / "rigs/hall");
    CHECK(told(**changes) == Paths{deep});
    follow(**changes, {deep, linked});
    write(deep, "a");
    CHECK(told(**changes) == Paths{deep});
    fs::rename(folder / "rigs", folder / "old");
    CHECK(told(**changes) == Paths{deep});
    write(folder / "real", "b");
    CHECK(told(**changes) == Paths{linked});
}

// Not under sanitizers: they open pipes themselves to look at memory, and take a refusal for a fault.
#ifndef __SANITIZE_ADDRESS__
TEST_CASE("a system that has no more watches says what to do", "[unit][watch]") {
    rlimit before{};
    REQUIRE(::getrlimit(RLIMIT_NOFILE, &before) == 0);
    const int lowest_free = ::dup(STDERR_FILENO);
    ::close(lowest_free);
    const rlimit none{static_cast<rlim_t>(lowest_free), before.rlim_max};
    REQUIRE(::setrlimit(RLIMIT_NOFILE, &none) == 0);
    const auto changes = command::system_changes();
    REQUIRE(::setrlimit(RLIMIT_NOFILE, &before) == 0);
    REQUIRE(!changes.ok());
    CHECK(changes.why() ==
          "cannot watch for changes: Too many open files; raise the limits of open files and of `sysctl "
          "fs.inotify.max_user_instances=…`, or end programs that watch files");
}
#endif

TEST_CASE("check --watch reports each round, and ends by a signal without an error", "[unit][watch]") {
    const Folder folder("watch-command");
    const std::string show = folder / "show.tallow", log = folder / "log";
    write(show, "use \"rig.tallow\"\n");
    // Waits for a count of closing lines, ten seconds at the most.
    const std::string script =
        "cd " + test::quoted(folder.path) + " && { " + test::quoted(TALLOW_COMMAND) +
        " check show.tallow --watch >log 2>&1 & }; pid=$!\n"
        "rounds() { for i in $(seq 200); do [ \"$(cat log 2>/dev/null | grep -c ' read in ')\" -ge \"$1\" ] "
        "&& return; "
        "sleep 0.05; done; kill $pid; }\n"
        "rounds 1; printf 'patch 1/1\\n    lamp  dimmer\\n' >rig.tallow\n"
        "rounds 2; rm show.tallow; for i in $(seq 200); do grep -q 'tallow: cannot' log && break; sleep "
        "0.05; done\n"
        "printf 'use \"rig.tallow\"\\n' >new; mv new show.tallow; rounds 3\n"
        "kill -INT $pid; wait $pid; echo \"exit $?\"";
    const auto ran = test::run("bash -c " + test::quoted(script));
    const auto text = runtime::read_file(log, 1 << 20);
    REQUIRE(text.ok());
    INFO(*text);
    CHECK(ran.out == "exit 0\n");
    const auto missing = text->find("error: cannot open `rig.tallow`"),
               made = text->find("changed: rig.tallow\nshow.tallow: 0 errors");
    CHECK(made != std::string::npos);
    CHECK(missing < made);
    CHECK(text->find("changed: show.tallow\ntallow: cannot open `show.tallow`: No such file") !=
          std::string::npos);
    CHECK(text->rfind("changed: show.tallow\nshow.tallow: 0 errors") != std::string::npos);
}

TEST_CASE("check refuses --watch beside --json", "[unit][watch]") {
    const auto ran = test::run(test::quoted(TALLOW_COMMAND) + " check x.tallow --watch --json");
    CHECK(ran.code == 2);
    CHECK(ran.out.find("--json") != std::string::npos);
}
