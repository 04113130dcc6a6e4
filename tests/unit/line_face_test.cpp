// Commands in lines, from a pipe, and the operator's thread behind it.
#include <catch2/catch.hpp>
#include <unistd.h>

#include "runtime/control/face.hpp"
#include "runtime/control/operator.hpp"
#include "tests/support/heard.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

using Lines = std::vector<std::string>;

struct Typed {
    Typed() {
        REQUIRE(::pipe(ends) == 0);
        face = line_face(ends[0]);
    }
    ~Typed() {
        ::close(ends[0]);
        if (ends[1] >= 0) ::close(ends[1]);
    }
    void type(const std::string& text) {
        REQUIRE(::write(ends[1], text.data(), text.size()) == static_cast<ssize_t>(text.size()));
    }
    void close() { ::close(std::exchange(ends[1], -1)); }
    // Until all that was typed is read; whether the face is to end.
    bool read(int times = 8) {
        bool ends_now = false;
        for (int i = 0; i < times; ++i) ends_now = face->read(7, heard) || ends_now;
        return ends_now;
    }
    int ends[2];
    std::unique_ptr<Face> face;
    test::Heard heard;
};

}  // namespace

TEST_CASE("each line is a command, an empty one a GO", "[unit][console]") {
    Typed typed;
    typed.type("go\n\n  cue 12.5 side \r\nsub");
    CHECK_FALSE(typed.read());
    CHECK(typed.heard.all == Lines{"go", "go", "cue 12.5 side"});
    CHECK(typed.heard.last_ns == 7);
    CHECK(typed.heard.last_from.empty());
    typed.type("master 1 full\n");
    typed.read();
    CHECK(typed.heard.all.back() == "submaster 1 full");
}

TEST_CASE("quit ends, and what is typed behind it is done before", "[unit][console]") {
    Typed typed;
    typed.type(" quit \nstop\n");
    CHECK(typed.read(1));
    CHECK(typed.heard.all == Lines{"stop"});
}

TEST_CASE("a line that is too long is no command, nor is what is left of it", "[unit][console]") {
    for (const std::size_t length : {4097, 5000, 8192, 9000, 20000}) {
        CAPTURE(length);
        Typed typed;
        typed.type(std::string(length, 'x') + "\nback\n");
        typed.read();
        CHECK(typed.heard.all == Lines{"back"});
        CHECK(typed.heard.complaints == Lines{"a line of more than 4096 bytes is no command"});
    }
    Typed typed;
    typed.type(std::string(4096, 'x') + "\n");
    typed.read();
    CHECK(typed.heard.all.size() == 1);
}

TEST_CASE("at the end of input nothing can come any more; a last line counts", "[unit][console]") {
    Typed typed;
    typed.type("go");
    typed.close();
    CHECK_FALSE(typed.read());
    CHECK(typed.heard.all == Lines{"go"});
    CHECK(typed.face->descriptor() == -1);
    Typed quits;
    quits.type("Quit");
    quits.close();
    CHECK(quits.read());
}

TEST_CASE("any bytes are words at the most", "[unit][console]") {
    Typed typed;
    std::string bytes;
    for (int c = 0; c < 256; ++c) bytes += static_cast<char>(c);
    typed.type(bytes + "\n");
    CHECK_FALSE(typed.read());
    CHECK(typed.heard.all.size() == 2);  // 0x0a is among them
}

namespace {

struct StillClock : Clock {
    std::uint64_t now() override { return 5000; }
    void wait(std::uint64_t) override {}
};

// Says what it is told; what is typed comes from a pipe.
struct NotingFace : Face {
    explicit NotingFace(int fd) : lines(line_face(fd)) {}
    int descriptor() const override { return lines->descriptor(); }
    bool read(std::uint64_t ns, Listener& listener) override { return lines->read(ns, listener); }
    void say(std::string_view line) override { said.emplace_back(line); }
    void show(const View& view) override { ways_in = view.ways_in; }
    bool shows_levels() const override { return sees; }
    std::unique_ptr<Face> lines;
    bool sees = false;
    Lines said, ways_in;
};

struct Desk {
    Desk() : play(made()) {
        first.show = play.engine.standing();
        intercom = std::make_unique<Intercom>(first);
        source = roll_source(play.roll, {});
        face = std::make_unique<NotingFace>(typed.ends[0]);
        op = std::make_unique<Operator>(*source, clock, *intercom, *face, Operator::Ways{});
    }
    static Roll made() {
        Roll roll = test::rig({Kind::intensity});
        test::add_cue(roll, {}, {{0, full}});
        test::add_cue(roll, {}, {{0, 100}});
        return roll;
    }
    void round() {
        bool once = false;
        op->run([&] { return std::exchange(once, true); });
    }
    test::Playing play;
    Progress first;
    std::unique_ptr<Intercom> intercom;
    std::unique_ptr<Source> source;
    Typed typed;
    StillClock clock;
    std::unique_ptr<NotingFace> face;
    std::unique_ptr<Operator> op;
};

}  // namespace

TEST_CASE("what is typed goes to the clock's thread, and what is wrong is said", "[unit][console]") {
    Desk desk;
    desk.typed.type("cue 2\nbakc\ncue 3\n");
    desk.round();
    const auto order = desk.intercom->orders.take();
    REQUIRE(order);
    CHECK(order->ns == 5000);
    CHECK(order->command.what == Command::What::go_to);
    CHECK(order->command.cue == 1);
    CHECK_FALSE(desk.intercom->orders.take());
    REQUIRE(desk.face->said.size() == 2);
    CHECK(desk.face->said[0].find("`bakc` is no command") == 0);
    CHECK(desk.face->said[1] == "there is no cue 3 in `main`; beside it: 2");
    CHECK_FALSE(desk.intercom->quit);
    CHECK_FALSE(desk.intercom->closed);
}

TEST_CASE("typed levels are answered where no screen shows them, those of machines never",
          "[unit][console]") {
    Desk desk;
    const auto answered = [&] { return desk.intercom->orders.take()->command.wants_answer; };
    desk.op->words(1, "", "grand 50%");
    CHECK(answered());
    desk.op->words(1, "OSC 192.0.2.7:9000", "grand 50%");
    CHECK_FALSE(answered());
    desk.face->sees = true;
    desk.op->words(1, "", "grand 50%");
    CHECK_FALSE(answered());
}

TEST_CASE("more commands than there is room for are left out, and said", "[unit][console]") {
    Desk desk;
    std::string many;
    for (int i = 0; i < 300; ++i) many += "go\n";
    desk.typed.type(many);
    desk.round();
    std::size_t taken = 0;
    while (desk.intercom->orders.take()) ++taken;
    CHECK(taken == 256);
    REQUIRE(desk.face->said.size() == 44);
    CHECK(desk.face->said[0] == "too many commands came at once; this one is left out");
}

TEST_CASE("what happens is said with its time; the end of input closes the desk", "[unit][console]") {
    Desk desk;
    desk.intercom->heard.put({Event::What::cue, 90000 * Tick{40}, 1, {}, {}});
    desk.round();
    desk.intercom->heard.put({Event::What::cue, (1320 * 60000 + 25) * Tick{40}, 0, {}, {}});
    desk.round();
    CHECK(desk.face->said == Lines{" 0:01:30.000  cue 2; the last one", "22:00:00.025  cue 1; next 2"});
    desk.typed.close();
    desk.round();
    CHECK(desk.intercom->closed);
    CHECK_FALSE(desk.intercom->quit);
    Desk quits;
    quits.typed.type("quit\n");
    quits.round();
    CHECK(quits.intercom->quit);
}
