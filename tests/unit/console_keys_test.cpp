#include <catch2/catch.hpp>

#include "runtime/control/keys.hpp"
#include "tests/support/console_view.hpp"

using namespace tallow;
using namespace tallow::runtime;
using What = Pressed::What;

namespace {

constexpr std::uint64_t ms = 1'000'000;

// Keys pressed one after the other, a second apart if nothing else is said; what comes of each.
struct Console {
    test::ConsoleView show;
    Keys keys;
    std::uint64_t ns = 5'000 * ms;

    std::vector<Pressed> after(std::uint64_t pause_ms, std::string_view bytes) {
        ns += pause_ms * ms;
        return keys.take(bytes, ns, show.view);
    }
    // The one command that comes of the keys, what else comes in brackets, all with `|` between.
    std::string said(std::string_view bytes, std::uint64_t pause_ms = 1000) {
        std::string all;
        for (const Pressed& p : after(pause_ms, bytes)) {
            if (!all.empty()) all += "|";
            all += p.what == What::command  ? p.text
                   : p.what == What::notice ? "(" + p.text + ")"
                   : p.what == What::anew   ? "(anew)"
                                            : "(quit)";
        }
        return all;
    }
    struct Stroke {
        std::string_view bytes;
        std::uint64_t pause_ms = 1000;
    };
    std::string each(std::initializer_list<Stroke> strokes) {
        std::string all;
        for (const Stroke& s : strokes) all += said(s.bytes, s.pause_ms);
        return all;
    }
    View shown() {
        View view = show.view;
        keys.show(view);
        return view;
    }
};

// As the operator's thread does with it.
std::string read_as(const std::string& words, const Roll& roll) {
    const auto command = parse_command(words, roll);
    return command.ok() ? "" : command.why();
}

}  // namespace

TEST_CASE("each key asks for one thing, of the chosen list", "[unit][console]") {
    Console c;
    CHECK(c.said(" ") == "go main");
    CHECK(c.said("b") == "back main");
    CHECK(c.said("B") == "back main");
    CHECK(c.said("h") == "hold");  // of every list, and of the timecode
    CHECK(c.said("\014") == "(anew)");
    CHECK(c.said("\r") == "");
    CHECK(c.said("\177") == "");
    CHECK(c.said("ayzo[]/%\t") == "");
    CHECK(c.said("l") == "");
    CHECK(c.shown().list == 1);
    CHECK(c.said(" ") == "go side");
    CHECK(c.each({{"l"}, {"l"}}) == "");
    CHECK(c.shown().list == 0);
    c.show.roll.lists.resize(1);
    CHECK(c.said(" ") == "go");
    CHECK(c.said("l") == "(the show has one cue list only)");
}

TEST_CASE("what is on is switched off, and the other way round", "[unit][console]") {
    Console c;
    CHECK(c.said("k") == "blackout on");
    CHECK(c.said("x") == "panic on");
    CHECK(c.said("p") == "pause");
    c.show.show().blackout = c.show.show().panic = c.show.view.progress.paused = true;
    CHECK(c.said("k") == "blackout off");
    CHECK(c.said("x") == "panic off");
    CHECK(c.said("p") == "resume");
}

TEST_CASE("all words of the keys are commands", "[unit][console]") {
    Console c;
    c.said("2");
    for (const char* keys :
         {" ", "b", "h", "k", "x", "p", "c3\r", "s\r", "\033[A", "\033[B", "\033[5~", "g\033[B"})
        for (const Pressed& p : c.after(1000, keys)) {
            CAPTURE(p.text);
            CHECK(p.what == What::command);
            CHECK(read_as(p.text, c.show.roll) == "");
        }
}

TEST_CASE("a held key counts once", "[unit][console]") {
    Console c;
    // Repeated 30 times a second, half a second after it was pressed.
    std::string all = c.said(" ");
    for (int i = 0; i < 60; ++i) all += c.said(" ", i == 0 ? 250 : 33);
    CHECK(all == "go main");
    CHECK(c.said(" ", 300) == "go main");
    CHECK(c.said(" ", 299) == "");
    CHECK(c.said("          ") == "go main");
    for (const auto& [key, words] : {std::pair{"k", "blackout on"}, {"x", "panic on"}, {"p", "pause"}}) {
        std::string held = c.said(key);
        for (int i = 0; i < 60; ++i) held += c.said(key, i == 0 ? 660 : 33);
        CHECK(held == words);
        CHECK(c.said(key, 800) == words);
    }
    CHECK(c.said(" ", 1) == "go main");  // another key need not wait
    CHECK(c.said("b", 1) == "back main");
    CHECK(c.said(" ", 1) == "go main");
}

TEST_CASE("nothing ends the show but two different keys", "[unit][console]") {
    Console c;
    CHECK(c.said("q") == "");
    CHECK(c.keys.typed() == "enter: END the show, escape: not");
    CHECK(c.said("\r") == "(quit)");
    CHECK(c.keys.typed() == "");
    CHECK(c.said("qqqqqqqqqq", 10) == "");
    CHECK(c.each({{"\033"}, {""}}) == "");
    CHECK(c.keys.typed() == "");
    CHECK(c.said("\r") == "");
    CHECK(c.said("\003\003\003") == "");  // control C
    CHECK(c.said("\n") == "(quit)");
    CHECK(c.said("q") == "");
    CHECK(c.said("\r", 10'000) == "");            // nobody answered
    CHECK(c.said("\004\032\034\021\023") == "");  // control D, Z, \, Q, S
    CHECK(c.said("s") == "");
    CHECK(c.keys.typed() == "enter: stop main, escape: not");
    CHECK(c.said("\r") == "stop main");
    CHECK(c.said("ssss") == "");
    CHECK(c.said("\177\r") == "");
}

TEST_CASE("a cue's number is typed", "[unit][console]") {
    Console c;
    CHECK(c.each({{"c"}, {"1"}, {"2"}, {"."}, {"5"}}) == "");
    CHECK(c.keys.typed() == "to cue 12.5_ main (enter: go there)");
    CHECK(c.shown().typed == c.keys.typed());
    CHECK(c.said("\177\177\177\177") == "");
    CHECK(c.said("3\r") == "cue 3 main");
    CHECK(c.keys.typed() == "");
    CHECK(c.said("\r") == "");
    CHECK(c.said("c\r") == "");
    CHECK(c.each({{"c3\033"}, {"", 50}, {"\r"}}) == "");
    CHECK(c.said("c3\177\177\r") == "");              // one too many leaves it
    CHECK(c.each({{"c3"}, {"k"}}) == "blackout on");  // the light comes first
    CHECK(c.said("\r") == "");
    CHECK(c.each({{"c3"}, {" "}}) == "go main");
    CHECK(c.each({{"c"}, {"3", 9'999}, {"\r", 9'999}}) == "cue 3 main");
    CHECK(c.each({{"c3"}, {"\r", 10'000}}) == "");
    c.said("c1111111111111111111111111");
    CHECK(c.keys.typed() == "to cue 111111111111_ main (enter: go there)");
}

TEST_CASE("submasters are chosen and moved by 5%", "[unit][console]") {
    Console c;
    CHECK(c.said("\033[A").starts_with("(choose first"));
    CHECK(c.shown().submaster == none);
    CHECK(c.said("2") == "");
    CHECK(c.shown().submaster == 1);
    CHECK(c.said("\033[A") == "submaster 2 65%");  // it stands at 61%
    CHECK(c.said("\033[B") == "submaster 2 60%");
    CHECK(c.said("\033[5~") == "submaster 2 75%");
    CHECK(c.said("\033[6~") == "submaster 2 50%");
    CHECK(c.said("\033OA") == "submaster 2 65%");
    // Faster than the show moves.
    CHECK(c.said("\033[A\033[A\033[A") == "submaster 2 65%|submaster 2 70%|submaster 2 75%");
    CHECK(c.said("\033[B", 33) == "submaster 2 70%");
    CHECK(c.each({{"1"}, {"3", 500}}) == "");
    CHECK(c.shown().submaster == 12);
    CHECK(c.said("\033[A") == "");  // full
    CHECK(c.said("\033[B") == "submaster 13 95%");
    CHECK(c.each({{"1"}, {"3"}}) == "");  // too slow for one number
    CHECK(c.shown().submaster == 2);
    CHECK(c.said("\033[B") == "");  // out
    CHECK(c.said("99") == "(there is no submaster 99)");
    CHECK(c.shown().submaster == 8);
    CHECK(c.said("1") == "");
    c.said("\033[D");
    CHECK(c.shown().submaster == 13);
    c.said("\033[C");
    CHECK(c.shown().submaster == 0);
}

TEST_CASE("without submasters their keys say so", "[unit][console]") {
    Console c;
    c.show.roll.submasters.clear();
    const std::string none_there =
        "(the show has no submasters; `g` chooses the grand master, which up and down move)";
    CHECK(c.said("12") == none_there);
    CHECK(c.said("\033[C") == none_there);
    CHECK(c.said("\033[A") == "(choose first what goes up or down: `g`, the grand master)");
    CHECK(c.each({{"g"}, {"\033[B"}}) == "grand 95%");
}

TEST_CASE("the grand master is moved by 5%", "[unit][console]") {
    Console c;
    CHECK(c.said("g") == "");
    CHECK(c.shown().grand);
    CHECK(c.said("\033[B") == "grand 95%");
    CHECK(c.said("\033[A") == "");
    CHECK(c.said("\033[6~") == "grand 75%");
    c.said("\033[C");
    CHECK_FALSE(c.shown().grand);
    CHECK(c.shown().submaster == 0);
}

TEST_CASE("every level goes up and down by whole steps", "[unit][console]") {
    Console c;
    c.said("g");
    const auto level_of = [&](const std::string& words) { return parse_command(words, c.show.roll)->level; };
    for (std::uint32_t level = 0; level <= full; ++level) {
        c.show.show().master = static_cast<Level>(level);
        const std::string up = c.said("\033[A"), down = c.said("\033[B");
        CAPTURE(level, up, down);
        if (level < full) REQUIRE(level_of(up) > level);
        if (level > 0) REQUIRE(level_of(down) < level);
        if (level < full && level > 0) REQUIRE(level_of(up) - level_of(down) <= 6554);  // two steps
    }
}

TEST_CASE("the page of all keys comes and goes", "[unit][console]") {
    Console c;
    CHECK(c.said("?") == "");
    CHECK(c.shown().help);
    CHECK(c.said(" ") == "go main");
    CHECK(c.shown().help);
    c.said("\033");
    CHECK(c.shown().help);
    c.said("", 50);
    CHECK_FALSE(c.shown().help);
    c.said("?");
    c.said("?");
    CHECK_FALSE(c.shown().help);
}

TEST_CASE("sequences that are cut, unknown or pasted ask for nothing", "[unit][console]") {
    Console c;
    c.said("2");
    CHECK(c.each({{"\033"}, {"[", 5}, {"A", 5}}) == "submaster 2 65%");
    // Over a line so slow that the escape counted by itself, the rest is no letter yet: B would go back.
    CHECK(c.each({{"\033"}, {"", 60}, {"[", 60}, {"B", 900}}) == "submaster 2 60%");
    CHECK(c.each({{"\033["}, {"", 1000}}) == "");
    CHECK(c.said("b") == "back main");
    CHECK(c.said("\033k\033x\033 ") == "");  // with alt
    CHECK(c.said("\033[1;5B\033[H\033[15~\033OP\033OS\033[[B") == "");
    CHECK(c.said("\033[200~ kx\rq\r\033[A b\033[201~") == "");
    CHECK(c.said(" ") == "go main");
    CHECK(c.said("\033[200~ kx") == "");
    CHECK(c.said("b") == "back main");  // a paste without an end has one
    CHECK(c.said("\u00e9舞\xff\x9bk", 1000) == "blackout on");
    CHECK(c.said("\033[" + std::string(100'000, '1') + "k") == "");
    CHECK(c.said("\033[\033[A") == "submaster 2 65%");
    CHECK(c.said("\033OM") == "");
}

TEST_CASE("while a frames file plays there is the end alone", "[unit][console]") {
    Console c;
    c.show.view.roll = nullptr;
    CHECK(
        c.said(" bhkxpcslg12\033[A\033[C\033[5~") ==
        "(a frames file plays by its own times: no key does anything but `q`, which ends it, `?` and control "
        "L)");
    CHECK(c.said("\033[A", 299) == "");
    CHECK(c.said("x").starts_with("(a frames file plays"));
    CHECK(c.said("\033[C").starts_with("(a frames file plays"));
    CHECK(c.keys.typed() == "");
    CHECK(c.said("q\r") == "(quit)");
}
