// Mistakes on the command lines of both programs, as a user meets them.
#include <catch2/catch.hpp>

#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using test::quoted;

namespace {

constexpr const char* player_help = "`tallow-play --help` tells the options";

test::Ran play(const std::string& arguments) {
    return test::run("timeout 10 " + quoted(TALLOW_PLAY_COMMAND) + " " + arguments);
}
test::Ran compile(const std::string& arguments) {
    return test::run("timeout 10 " + quoted(TALLOW_COMMAND) + " " + arguments);
}

// The whole of what is said: the mistake, and where the help is.
void mistaken(const test::Ran& ran, const std::string& sentence, const std::string& help) {
    CHECK(ran.code == 2);
    CHECK(ran.out == sentence + "\n" + help + "\n");
}

std::string frames() {
    const std::string path = test::scratch("command_line.frames");
    test::write_made(test::made_show(51, {{1, 24}}, 10), path);
    return quoted(path);
}

}  // namespace

TEST_CASE("an option does not take the next option for its value", "[unit][command-line]") {
    const std::string host =
        "`--sacn HOST`: send to this host (a name, an address, one with :PORT), or to `multicast`; may be "
        "given again";
    mistaken(play("--sacn --until 5s " + frames()),
             "tallow-play: `--sacn` has no value, and `--until` behind it is an option; write " + host,
             player_help);
    mistaken(compile("play x.tallow --sacn --null"),
             "tallow: `--sacn` has no value, and `--null` behind it is an option; write " + host,
             "`tallow play --help` tells the options");
    mistaken(play(frames() + " --null --until"),
             "tallow-play: `--until` has no value; write `--until TIME`: end at this time in the show, like "
             "1min30s",
             player_help);
    const std::string go =
        "tallow-play: `--do` has no value; write `--do COMMANDS`: give commands at their times, "
        "like \"2s go, 5s go LIST, 8s submaster 1 60%\" (for a roll)";
    mistaken(play(frames() + " --null --do ''"), go, player_help);
    mistaken(play(frames() + " --null --do="), go, player_help);
    mistaken(play(frames() + " --sacn --"), "tallow-play: `--sacn` has no value; write " + host, player_help);
    mistaken(play(frames() + " --null --source-name -Main-"),
             "tallow-play: `--source-name` has no value, and `-Main-` behind it looks like an option; write "
             "`--source-name=-Main-` if it is the value",
             player_help);
    CHECK(play(frames() + " --null --fast --source-name=-Main- --until=0.1s").code == 0);
}

TEST_CASE("a flag takes no value, and a short option none behind a sign", "[unit][command-line]") {
    mistaken(play(frames() + " --null=no"), "tallow-play: `--null` takes no value; write `--null` alone",
             player_help);
    mistaken(compile("build x.tallow -o=x.roll"), "tallow: `-o=x.roll` has a `=` too much; write `-o x.roll`",
             "`tallow build --help` tells the options");
    mistaken(play("'' --null"),
             "tallow-play: a word is empty, perhaps a variable of the shell that is not set; write something "
             "there",
             player_help);
}

TEST_CASE("options and commands that are not there are told, with what was meant", "[unit][command-line]") {
    const std::string commands = "`tallow --help` tells the commands";
    mistaken(play(frames() + " --sacm 127.0.0.1"),
             "tallow-play: there is no option `--sacm`; did you mean `--sacn`?", player_help);
    mistaken(play(frames() + " -NULL"), "tallow-play: there is no option `-NULL`; did you mean `--null`?",
             player_help);
    mistaken(play(frames() + " --loudness=5"), "tallow-play: there is no option `--loudness`; leave it away",
             player_help);
    mistaken(compile("chek x.tallow"), "tallow: there is no command `chek`; did you mean `check`?", commands);
    mistaken(compile("x.tallow"),
             "tallow: there is no command `x.tallow`; if it is a file, write a command before it, like "
             "`tallow check x.tallow`",
             commands);
    mistaken(compile(""), "tallow: there is no command; write one, like `tallow check`", commands);
    mistaken(compile("--json check x.tallow"),
             "tallow: `--json` stands before `check`; write it behind, like `tallow check --json`",
             "`tallow check --help` tells the options");
}

TEST_CASE("words that are too many or missing are told", "[unit][command-line]") {
    mistaken(play("--null " + frames() + " second.frames"),
             "tallow-play: `second.frames` is too much; leave it away, or put quotes around a value that has "
             "blanks in it",
             player_help);
    mistaken(
        play(frames() + " sacn 127.0.0.1"),
        "tallow-play: `sacn` is too much; write `--sacn` if that is meant, or quotes around a value that has "
        "blanks in it",
        player_help);
    mistaken(play("--null"),
             "tallow-play: `FILE` is missing; write `tallow-play FILE`: a roll or a frames file",
             player_help);
    mistaken(compile("play --null"), "tallow: `SHOW` is missing; write `tallow play SHOW`: the show file",
             "`tallow play --help` tells the options");
    mistaken(compile("fit x.tallow"),
             "tallow: `--desk` is missing; write `--desk NAME`: the name of a desk that the show declares",
             "`tallow fit --help` tells the options");
    mistaken(play(frames() + " --null --until 1s --until 2s"),
             "tallow-play: `--until` is given more than once; leave all but one away", player_help);
}

TEST_CASE("numbers have a range, and are read as they stand", "[unit][command-line]") {
    for (const std::string number : {"0", "256", "-1", "x", "010", "1.5", "99999999999"})
        mistaken(play(frames() + " --null --hops " + number),
                 "tallow-play: --hops: `" + number + "` is no number from 1 to 255; give one of these",
                 player_help);
    mistaken(compile("fit x.tallow --desk d --way 1001"),
             "tallow: --way: `1001` is no number from 1 to 1000; give one of these",
             "`tallow fit --help` tells the options");
    CHECK(play(frames() + " --null --fast --hops 255").code == 0);
}

TEST_CASE("options that say the contrary of each other are refused", "[unit][command-line]") {
    mistaken(
        play("x.roll --null --resume --standby 7701"),
        "tallow-play: `--resume` goes on from where this player's show stood, and `--standby` from where "
        "another's stands; leave one of them away",
        player_help);
    mistaken(compile("check x.tallow --watch --json"),
             "tallow: `--watch` goes on until Ctrl-C, and `--json` is one array; leave one of them away",
             "`tallow check --help` tells the options");
}

TEST_CASE("help tells the version, the commands of a player and the exit codes", "[unit][command-line]") {
    const auto version = play("--version");
    CHECK(version.code == 0);
    CHECK(version.out == compile("--version").out);
    for (const test::Ran& help : {play("--help"), compile("play --help")}) {
        CHECK(help.code == 0);
        for (const char* const words :
             {"`go`", "`back`", "`stop 3s`", "`timecode 01:00:00:00`", "`quit`", "\n\nExit code: 0 done"})
            CHECK_THAT(help.out, Catch::Contains(words));
        for (std::size_t at = 0; at < help.out.size(); at = help.out.find('\n', at) + 1)
            CHECK(help.out.find('\n', at) - at <= 80);
    }
}
