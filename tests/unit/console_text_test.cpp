#include <catch2/catch.hpp>

#include "runtime/control/plain_text.hpp"

using namespace tallow::runtime;
using Lines = std::vector<std::string>;

TEST_CASE("plain text is one line without control characters", "[unit][console]") {
    CHECK(plain("  a\t\r\n b \v") == "a b");
    CHECK(plain("\033[2Jx\007\177y") == "\uFFFD[2Jx\uFFFD\uFFFDy");
    CHECK(plain("a\xc2\x9b"
                "2Jb") == "a\uFFFD2Jb");                  // CSI in one character
    CHECK(plain("a\xff\xc3(") == "a\uFFFD\uFFFD(");       // no UTF-8
    CHECK(plain("a\u202Eb\u200Dc\uFE0F") == "abc");       // turned round, joined, varied
    CHECK(plain("\uE000\uFDD0") == "\uFFFD\uFFFD");       // private, never a character
    CHECK(plain("a\u2028b\u00a0c\u3000d") == "a b c d");  // blanks and line ends of all kinds
    CHECK(plain(std::string("a\0b", 3)) == "a\uFFFDb");
    CHECK(plain("") == "");
    CHECK(plain(" 1\n\t b  \033 ", Blanks::all) == " 1   b  \uFFFD ");  // each blank one column
}

TEST_CASE("marks stand on letters, four at most", "[unit][console]") {
    CHECK(plain("e\u0301t") == "e\u0301t");
    CHECK(plain("\u0301a") == "a");
    CHECK(plain("x \u0301y") == "x y");
    CHECK(plain("e\u0301\u0302\u0303\u0304\u0305\u0306t") == "e\u0301\u0302\u0303\u0304t");
}

TEST_CASE("text is cut by columns", "[unit][console]") {
    CHECK(width("") == 0);
    CHECK(width("abc") == 3);
    CHECK(width("e\u0301t") == 2);
    CHECK(width("舞台") == 4);
    CHECK(cut("storm", 5) == "storm");
    CHECK(cut("storm", 4) == "sto…");
    CHECK(cut("a storm", 3) == "a…");
    CHECK(cut("storm", 1) == "…");
    CHECK(cut("storm", 0) == "");
    CHECK(cut("舞台前", 5) == "舞台…");
    CHECK(cut("舞台前", 4) == "舞…");  // the second one would need the column of the sign
    CHECK(cut("舞", 1) == "…");
    CHECK(cut("e\u0301e\u0301e\u0301", 2) == "e\u0301…");
    CHECK(cut("e\u0301e\u0301", 2) == "e\u0301e\u0301");
    CHECK(padded("舞", 4) == "舞  ");
    CHECK(padded("舞台前", 4) == "舞… ");
}

TEST_CASE("text is broken at blanks", "[unit][console]") {
    CHECK(wrap("one two three", 7, 9) == Lines{"one two", "three"});
    CHECK(wrap("one two three", 8, 9) == Lines{"one two", "three"});
    CHECK(wrap("one two three", 6, 9) == Lines{"one", "two", "three"});
    CHECK(wrap("one two three", 6, 2) == Lines{"one", "two t…"});
    CHECK(wrap("abcdefgh ij", 3, 9) == Lines{"abc", "def", "gh", "ij"});
    CHECK(wrap("舞台前の明かり", 5, 9) == Lines{"舞台", "前の", "明か", "り"});
    CHECK(wrap("舞台", 1, 9) == Lines{"…"});  // nothing fits
    CHECK(wrap("", 5, 9) == Lines{});
    CHECK(wrap("one", 5, 0) == Lines{});
}
