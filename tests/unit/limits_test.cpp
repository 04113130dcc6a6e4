// Shows that are very large, or that a small text makes very large: each gives a result, or one clear error.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <map>

#include "runtime/roll/roll_io.hpp"
#include "tests/suite/page.hpp"

using namespace tallow;

namespace {

const std::string rig = "patch 1/1\n    front 1..512 dimmer\n";

std::string lines(std::size_t count, const std::function<std::string(std::size_t)>& line) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i) text += line(i);
    return text;
}

// The findings of a show, one text for each: `id: message`.
std::vector<std::string> findings(const std::string& text) {
    std::vector<std::string> found;
    for (const auto& d : test::compile_text(text, {})->sink.sorted())
        found.push_back(fmt::format("{}: {}", source::info(d.finding).id, d.message));
    return found;
}

using Found = std::vector<std::string>;

}  // namespace

TEST_CASE("a line of a megabyte is a line, or one error that is short to print", "[unit][limits]") {
    const std::size_t mega = 1'000'000;
    CHECK(findings(rig + "cue 1\n    " + std::string(mega, 'a') + " 50%\n") ==
          Found{"too-long: this is 1000000 bytes long; a name, a number or a text may have 65535"});
    CHECK(findings(rig + "cue 1 \"" + std::string(mega, 'a') + "\"\n") ==
          Found{"too-long: this is 1000002 bytes long; a name, a number or a text may have 65535"});
    CHECK(findings(rig + "cue 1  # " + std::string(mega, 'a') + "\n").empty());
    const auto numbers = lines(mega / 5, [](std::size_t i) { return fmt::format("{}, ", i % 512 + 1); });
    CHECK(findings(rig + "cue 1\n    front " + numbers + "1 50%\n").empty());
    const auto words = test::compile_text(
        rig + "cue 1\n    front " + lines(mega / 3, [](std::size_t) { return "xx "; }) + "\n", {});
    const auto sorted = words->sink.sorted();
    REQUIRE(sorted.size() == 1);
    CHECK(source::render(sorted[0], words->sources).size() < 1000);
}

TEST_CASE("what all selections hold together is bounded, on one line, on many, and in groups",
          "[unit][limits]") {
    const Found error{"too-many: the selections of a show may come to 10000000 fixtures and cells"};
    CHECK(findings(rig + "cue 1\n    " + lines(30'000, [](std::size_t) { return "front, "; }) +
                   "front 50%\n") == error);
    CHECK(findings(rig + "cue 1\n" + lines(30'000, [](std::size_t i) {
                       return fmt::format("    front, front {}, {} 50%\n", i % 512 + 1, i / 512 + 1);
                   })) == error);
    CHECK(findings(rig + lines(30'000, [](std::size_t i) { return fmt::format("group g{} front\n", i); })) ==
          error);
}

TEST_CASE("a hundred thousand cues make a roll", "[unit][limits]") {
    const auto compiled = test::compile_text(rig + lines(99'999,
                                                         [](std::size_t i) {
                                                             return fmt::format("cue {}\n    front {} 50%\n",
                                                                                i + 1, i % 512 + 1);
                                                         }),
                                             {});
    REQUIRE(compiled->sink.sorted().empty());
    const runtime::Roll roll = command::make_roll(*compiled);
    CHECK(roll.cues.size() == 99'999);
    CHECK(roll.pictures.size() == 99'999 / 64);
}

TEST_CASE("fixtures may be in every universe", "[unit][limits]") {
    const auto compiled = test::compile_text(
        lines(63'999,
              [](std::size_t u) { return fmt::format("patch {}/512\n    u{} dimmer\n", u + 1, u + 1); }) +
            "cue 1\n    all 50%\n",
        {});
    REQUIRE(compiled->sink.sorted().empty());
    CHECK(command::make_roll(*compiled).universes.back().number == 63'999);
    CHECK(findings("patch 64000/1\n    lamp dimmer\n") ==
          Found{"out-of-range: a universe is a whole number from 1 to 63999"});
}

TEST_CASE("ten thousand palettes, and ten thousand groups in a chain", "[unit][limits]") {
    CHECK(findings("patch 1/1\n    par 1..4 par-rgb\n" +
                   lines(10'000, [](std::size_t i) { return fmt::format("palette p{} #ff{:04x}\n", i, i); }) +
                   "cue 1\n    par p9999 50%\n")
              .empty());
    CHECK(findings(rig + "group g0 front 1\n" +
                   lines(10'000, [](std::size_t i) { return fmt::format("group g{} g{}\n", i + 1, i); }) +
                   "cue 1\n    g10000 50%\n")
              .empty());
    CHECK(findings(rig +
                   lines(10'000, [](std::size_t i) { return fmt::format("group g{} g{}\n", i, i + 1); }) +
                   "group g10000 front 1\ncue 1\n    g0 50%\n")
              .empty());
}

TEST_CASE("looks stand in one another two hundred deep, and no deeper", "[unit][limits]") {
    const auto chain = [](std::size_t count) {
        return rig + "look l0\n    front 50%\n" +
               lines(count, [](std::size_t i) { return fmt::format("look l{}\n    look l{}\n", i + 1, i); }) +
               fmt::format("cue 1\n    look l{}\n", count);
    };
    CHECK(findings(chain(200)).empty());
    CHECK(findings(chain(10'000)) ==
          Found{"too-many: the look `l201` comes to 1 lines, 201 looks deep; it may "
                "have 100000 lines, 200 deep"});
}

TEST_CASE("files use one another a hundred deep, and not three hundred", "[unit][limits]") {
    const auto chain = [](std::size_t deep) {
        std::vector<test::Block> files;
        for (std::size_t i = 1; i <= deep; ++i) {
            const std::string next = i < deep ? fmt::format("use \"f{}.tallow\"\n", i + 1) : rig;
            files.push_back({"tallow", fmt::format("f{}.tallow", i), next, 1});
        }
        const auto compiled = test::compile_text("use \"f1.tallow\"\ncue 1\n    front 50%\n", files);
        std::map<std::string, int> ids;
        for (const auto& d : compiled->sink.sorted()) ++ids[std::string(source::info(d.finding).id)];
        return ids;
    };
    CHECK(chain(100).empty());
    CHECK(chain(300).at("too-many") == 1);
}

TEST_CASE("a hundred thousand unknown names give a thousand errors and an end", "[unit][limits]") {
    const auto found = findings(
        rig + "cue 1\n" + lines(100'000, [](std::size_t i) { return fmt::format("    name{} 50%\n", i); }));
    REQUIRE(found.size() == 1001);
    CHECK(std::count(found.begin(), found.end(),
                     "too-many: there are more than 1000 errors; this is where the list ends") == 1);
}

TEST_CASE("bodies of gangs, slots and names of parameters have their bounds", "[unit][limits]") {
    CHECK(findings(lines(13, [](std::size_t i) {
              return fmt::format("patch {}/1\n    f{} 1..90000 dimmer ganged\n", i + 1, i);
          })) == Found{"too-many: a show may have 1000000 fixtures"});
    const auto slots = [](std::size_t type, std::size_t count) {
        return fmt::format("type t{}\n    mode all intensity ", type) +
               lines(count - 1, [&](std::size_t i) { return fmt::format("p{}-{} ", type, i); }) + "\n";
    };
    CHECK(
        findings(slots(0, 512) +
                 lines(9'000,
                       [](std::size_t u) { return fmt::format("patch {}/1\n    u{} t0\n", u + 1, u + 1); }) +
                 "cue 1\n    all 50%\n") == Found{"too-many: a rig may have 4194304 parameters"});
    CHECK(findings(lines(220, [&](std::size_t t) { return slots(t, 500); }) + "patch 1/1\n    lamp t219\n") ==
          Found{"too-many: the types of a show may have 100000 names of parameters"});
}

TEST_CASE("what the cues of a show come to is bounded", "[unit][limits]") {
    CHECK(findings(rig + lines(70'000,
                               [](std::size_t i) { return fmt::format("cue {}\n    all 50%\n", i + 1); })) ==
          Found{"too-many: the lines of all cues, of submasters and of the panic look may set 33554432 "
                "values in all"});
    CHECK(findings(rig + lines(35'000,
                               [](std::size_t i) {
                                   return fmt::format("cue {} cue-only\n    all 50%\n", i + 1);
                               })) == Found{"too-many: the lines of all cues, of submasters and of the panic "
                                            "look may set 33554432 values in all"});
    CHECK(findings(lines(1'500,
                         [](std::size_t u) {
                             return fmt::format("patch {}/1\n    u{} 1..512 dimmer\n", u + 1, u + 1);
                         }) +
                   lines(2'816, [](std::size_t i) { return fmt::format("cue {}\n    u1 50%\n", i + 1); })) ==
          Found{"too-many: a rig of 768000 parameters may have 2815 cues"});
}

TEST_CASE("lists, chases, steps, submasters and spread times are bounded", "[unit][limits]") {
    CHECK(findings(rig + lines(4097, [](std::size_t i) { return fmt::format("list l{}\ncue 1\n", i); })) ==
          Found(2, "too-many: a show may have 4096 cue lists"));  // main is one of them
    CHECK(findings(rig + lines(1001, [](std::size_t i) {
                       return fmt::format("chase c{} every 1s\n    step 1 front 1 full\n", i);
                   })) == Found{"too-many: a show may have 1000 chases"});
    CHECK(findings(rig + "chase long every 1s\n" + lines(1001, [](std::size_t i) {
                       return fmt::format("    step {} front 1 full\n", i + 1);
                   })) == Found{"out-of-range: the number of the step is a whole number from 1 to 1000"});
    CHECK(findings(rig + lines(200, [](std::size_t i) {
                       return fmt::format("chase c{} every 1s\n    step 1 front full\n", i) +
                              lines(999, [](std::size_t s) {
                                  return fmt::format("    step {} front 1 full\n", s + 2);
                              });
                   })) == Found{"too-many: the steps of all chases may come to 50000000 values"});
    CHECK(findings(rig + lines(4097, [](std::size_t i) {
                       return fmt::format("submaster {}\n    front 1 full\n", i + 1);
                   })) == Found{"too-many: a show may have 4096 submasters"});
    CHECK(findings(rig +
                   lines(1002,
                         [](std::size_t i) {  // the one too many is named, and not missed
                             return fmt::format("chase c{} every 1s\n    step 1 front 1 full\n", i);
                         }) +
                   "cue 1\n    chase c1000\n    chase c1001\n") ==
          Found{"too-many: a show may have 1000 chases"});
    CHECK(findings(
              rig +
              lines(30,
                    [](std::size_t i) {
                        return fmt::format("chase c{} every 1s\n", i) + lines(1000, [](std::size_t s) {
                                   return fmt::format("    step {} front 1..64 full\n", s + 1);
                               });
                    }) +
              lines(200,
                    [](std::size_t i) { return fmt::format("submaster {}\n    front 1 full\n", i + 1); })) ==
          Found{"too-many: chases whose steps come to 1920000 values leave room for 139 lists and "
                "submasters together, and there are 201"});
    CHECK(findings(rig + "chase long every 1s\n" + lines(100'000, [](std::size_t) {
                       return "    step 1 front full\n";
                   })) == Found{"too-many: the steps of all chases may come to 50000000 values"});
    const std::string universes = lines(
        1'000, [](std::size_t u) { return fmt::format("patch {}/1\n    u{} 1..512 dimmer\n", u + 1, u); });
    CHECK(
        findings(
            universes +
            lines(600, [](std::size_t i) { return fmt::format("list l{}\ncue 1\n    u1 1 full\n", i); })) ==
        Found{"too-many: a rig of 512000 parameters may have 131 lists, submasters and chases together, and "
              "there are 601"});
    const std::string many = lines(
        200, [](std::size_t u) { return fmt::format("patch {}/1\n    f{} 1..512 dimmer\n", u + 2, u); });
    CHECK(findings(many + "cue 1\n    all full  delay 0s .. 2s\n") ==
          Found{"too-many: times may be spread over 100000 members"});
    CHECK(findings(rig + "cue 1\n" +
                   lines(3'000, [](std::size_t) { return "    front 50%  delay 0s .. 2s\n"; })) ==
          Found{"too-many: the lines of all cues, of submasters and of the panic look may set 33554432 "
                "values in all"});
}

TEST_CASE("what no cue uses is bounded too, and so are hues and responses", "[unit][limits]") {
    const std::string look = "look long\n" + lines(2'000, [](std::size_t) { return "    front 50%\n"; });
    CHECK(findings(rig + look + lines(100, [](std::size_t i) {
                       return fmt::format("look l{}\n    front 1 look long\n", i);
                   })) == Found{"too-many: the parts of looks may set 33554432 values in all"});
    const auto panic = [&](std::size_t count) {
        return findings(rig + look + "look longer\n" +
                        lines(count, [](std::size_t) { return "    look long\n"; }) +
                        "safety\n    panic look longer\n");
    };
    CHECK(panic(20).empty());
    CHECK(panic(40) == Found{"too-many: the lines of all cues, of submasters and of the panic look may set "
                             "33554432 values in all"});
    const auto swings = [](std::size_t count) {
        return "patch 1/1\n    par 1..4 par-rgb\nwave turn sine period 4s\n    hue 0deg .. 360deg\n" +
               lines(count, [](std::size_t i) {
                   return fmt::format("cue {}\n    par full wave turn swing {}.{:02}%\n", i + 1, i / 100,
                                      i % 100);
               });
    };
    CHECK(findings(swings(600)).empty());
    CHECK(
        findings(swings(700)) ==
        Found{"too-many: all waves that turn the hue may come to 8388608 pieces: 4096 for each emitter of a "
              "type and each `swing`"});
    const auto floors = [](std::size_t count) {
        return "patch 1/1\n" + lines(count, [](std::size_t i) {
                   return fmt::format("    lamp{} dimmer response square floor 1.{:02}%\n", i, i);
               });
    };
    const auto most = test::compile_text(floors(85) + "cue 1\n    all 50%\n", {});
    REQUIRE(most->sink.sorted().empty());
    CHECK(runtime::validate(command::make_roll(*most)).why() == "");
    CHECK(findings(floors(86)) == Found{"too-many: the fixtures of a show may have 85 different responses"});
}

TEST_CASE("parts of a look of many lines are taken line by line, and bounded", "[unit][limits]") {
    const std::string look = "look long\n" + lines(2'000, [](std::size_t i) {
                                 return fmt::format("    front {} 50%\n", i % 512 + 1);
                             });
    const auto parts = [](std::size_t count) {
        return lines(count,
                     [](std::size_t i) { return fmt::format("cue {}\n    front look long\n", i + 1); });
    };
    CHECK(findings(rig + look + parts(100)).empty());
    CHECK(findings(rig + look + parts(20'000)) == Found{"too-many: the lines of all cues, of submasters and "
                                                        "of the panic look may set 33554432 values in all"});
}
