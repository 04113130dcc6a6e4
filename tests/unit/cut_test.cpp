#include <catch2/catch.hpp>

#include "compiler/syntax/document.hpp"

using namespace tallow;
using syntax::AtomKind;

namespace {

struct Cut {
    source::Sources sources;
    source::Sink sink;
    syntax::Document document;
    explicit Cut(std::string text) {
        document = syntax::cut(sources.add("t.tallow", std::move(text)), sources, sink);
        syntax::arrange(document, sources, sink);
    }
    std::string kinds(std::size_t line = 0) const {
        std::string out;
        for (const auto& atom : document.atoms_of(document.lines.at(line))) {
            out += "wdncs#:,/-()x^?"[static_cast<std::size_t>(atom.kind)];
            if (atom.unit() != syntax::Unit::none) out += std::to_string(static_cast<int>(atom.detail));
        }
        return out;
    }
    std::vector<std::string> ids() const {
        std::vector<std::string> out;
        for (const auto& d : sink.sorted()) out.emplace_back(source::info(d.finding).id);
        return out;
    }
};

}  // namespace

TEST_CASE("the lexical rules have no fault that PEGTL's analysis finds", "[unit][syntax]") {
    REQUIRE(syntax::grammar_faults() == 0);
}

TEST_CASE("a line is cut into atoms", "[unit][syntax]") {
    CHECK(Cut("front 1..4, 7  amber 60%").kinds() == "wn:n,nwn1");
    CHECK(Cut("a 6s 250 ms 2min 1min30s 40Hz -12.5deg 3200K 4.5 m").kinds() == "wn2n3n4n5n6n7n8n9");
    CHECK(Cut("patch 1/500 #ffb000 pan.fine - 6 x (red) 01:02:03:04").kinds() == "wn/n#d-nw(w)c");
    CHECK(Cut("a \"x # \\\" y\" # rest \"").kinds() == "ws");
    CHECK(Cut("a \u201chi there\u201d \u221214deg 1\u2026"
              "4")
              .kinds() == "wsn7n:n");
    CHECK(Cut("b 6x(red)").kinds() == "wn14(w)");
    CHECK(Cut("show\n  \n\n# remark\n    a 1").document.lines.size() == 3);
}

TEST_CASE("line ends, tabs, a byte-order mark and trailing blanks change nothing", "[unit][syntax]") {
    const Cut plain("cue 1\n    a 1\ncue 2\n");
    for (const char* text : {"cue 1\r\n    a 1\r\ncue 2\r\n",
                             "\xef\xbb\xbf"
                             "cue 1\n    a 1\ncue 2\n",
                             "cue 1  \n\ta 1\t\ncue 2", "cue 1\n\u00a0a 1\ncue 2\r"}) {
        const Cut other(text);
        REQUIRE(other.document.declarations.size() == 2);
        CHECK(other.document.lines.size() == plain.document.lines.size());
        CHECK(other.document.declarations[0].last == 2);
        CHECK(other.ids().empty());
        for (std::size_t i = 0; i < 3; ++i) CHECK(other.kinds(i) == plain.kinds(i));
    }
}

TEST_CASE("what is no atom is reported at its place and the rest stands", "[unit][syntax]") {
    CHECK(Cut("cue 1 ; \x01").ids() == std::vector<std::string>{"unexpected-sign"});
    CHECK(Cut("cue 1 \"open").ids() == std::vector<std::string>{"open-string"});
    CHECK(Cut("cue 1 2,5s").ids() == std::vector<std::string>{"decimal-comma"});
    CHECK(Cut("cue 1 #note").ids() == std::vector<std::string>{"joined-hash"});
    CHECK(Cut("cue 1\n# cue 2 \"x\"\n    a 5%").ids() == std::vector<std::string>{"commented-header"});
    CHECK(Cut("cue 1\n# look at this\n    a 5%").ids().empty());
    CHECK(Cut("    a 5%\n    b 5%").ids() == std::vector<std::string>{"line-outside"});
    CHECK(Cut("cue 1\nfront 5%\n    b 5%").ids() == std::vector<std::string>{"at-margin"});
    CHECK(Cut("ptach 1/1").ids() == std::vector<std::string>{"unknown-declaration"});
    CHECK(Cut(std::string(70000, 'a')).ids().front() == "too-long");
}
