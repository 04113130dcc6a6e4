// What an operator hears of the findings in one version of a show after the other.
#include "compiler/command/revisions.hpp"

#include <catch2/catch.hpp>
#include <unistd.h>

#include "runtime/files.hpp"
#include "runtime/hash.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using source::Finding;

namespace {

using Lines = std::vector<std::string>;

// A version of a show, in which each line with a word in it that is marked has a finding there.
struct Version {
    explicit Version(const std::string& text) {
        const source::FileId file = sources.add("the hall/shows/show.tallow", text);
        for (const auto& [sign, finding, message] :
             {std::tuple{'!', Finding::unexpected, "wrong"}, {'?', Finding::no_light, "dark"}})
            for (std::size_t at = text.find(sign); at != std::string::npos; at = text.find(sign, at + 1))
                sink.report(finding,
                            {file, static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(at + 1)},
                            message);
    }
    source::Sources sources;
    source::Sink sink;
};

struct Operator {
    Lines hears(const std::string& text) {
        const Version version(text);
        return news.take(version.sink, version.sources);
    }
    command::FindingsNews news;
};

}  // namespace

TEST_CASE("findings that stand as before are counted, new ones told", "[unit][revisions]") {
    Operator op;
    CHECK(op.hears("one ?\n") == Lines{"show.tallow:1:5: warning: dark [no-light]"});
    CHECK(op.hears("one ?\n") == Lines{"1 finding as before"});
    CHECK(op.hears("new line\n\n   none\none ?\n") == Lines{"1 finding as before"});
    CHECK(op.hears("two ?\none ?\n") ==
          Lines{"show.tallow:1:5: warning: dark [no-light]", "1 finding as before"});
    CHECK(op.hears("two ?\none !\n") ==
          Lines{"show.tallow:2:5: error: wrong [unexpected]", "1 finding as before"});
    CHECK(op.hears("two\none\n").empty());
    CHECK(op.hears("two ?\n") == Lines{"show.tallow:1:5: warning: dark [no-light]"});
}

TEST_CASE("the same finding in two equal lines counts twice", "[unit][revisions]") {
    Operator op;
    CHECK(op.hears("one ?\n").size() == 1);
    CHECK(op.hears("one ?\none ?\n") ==
          Lines{"show.tallow:2:5: warning: dark [no-light]", "1 finding as before"});
    CHECK(op.hears("one ?\none ?\n") == Lines{"2 findings as before"});
    CHECK(op.hears("one ?\n") == Lines{"1 finding as before"});
}

TEST_CASE("of many new findings the first few are told, errors before warnings", "[unit][revisions]") {
    Operator op;
    const std::string many = "a ?\nb ?\nc ?\nd ?\ne ?\nf !\ng ?\n";
    CHECK(op.hears(many) ==
          Lines{"show.tallow:6:3: error: wrong [unexpected]", "show.tallow:1:3: warning: dark [no-light]",
                "show.tallow:2:3: warning: dark [no-light]", "show.tallow:3:3: warning: dark [no-light]",
                "show.tallow:4:3: warning: dark [no-light]", "2 findings more; `tallow check` tells all"});
    CHECK(op.hears(many) == Lines{"7 findings as before"});
}

TEST_CASE("what is wrong in a save is told whenever it comes, what was told at the start is not",
          "[unit][revisions]") {
    const std::string show = test::scratch("revisions.tallow");
    const std::string sound =
        "show \"Saved\"  tallow 1\npatch 1/1\n    lamp  dimmer\nwave swell  sine  period 2s\n"
        "    intensity  0% .. full\ncue 1\n    lamp  wave swell\n";
    const auto save = [&](const std::string& text) { REQUIRE(runtime::write_file(show, text).ok()); };
    save(sound);
    const auto compiled = command::compile(show, show::read_from_disk);
    REQUIRE(compiled.ok());
    command::FindingsNews told;
    REQUIRE(told.take((*compiled)->sink, (*compiled)->sources).size() == 1);
    const std::uint64_t playing = runtime::hash(runtime::write_roll(command::make_roll(**compiled)));

    const bool before_the_first_look = GENERATE(true, false);
    CAPTURE(before_the_first_look);
    const std::string wrong = sound + "cue 2\n    nothing  full\n";
    if (before_the_first_look) save(wrong);
    command::ShowRevisions revisions(show, playing, told);
    if (!before_the_first_look) {
        ::usleep(300'000);
        save(wrong);
    }
    Lines lines;
    for (int n = 0; n < 1000 && lines.size() < 2; ++n, ::usleep(10'000))
        CHECK_FALSE(revisions.poll([&](std::string_view line) { lines.emplace_back(line); }));
    REQUIRE(lines.size() == 2);
    CHECK_THAT(lines[0], Catch::StartsWith("revisions.tallow:9:5: error: "));
    CHECK(lines[1] == "1 error in what was saved: the show plays on as it was");
}
