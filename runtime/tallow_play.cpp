// tallow-play: plays a roll or a frames file.
#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <fmt/format.h>

#include "runtime/session/help.hpp"
#include "runtime/session/session.hpp"

namespace {

using namespace tallow::runtime;

int run(const std::string& file, const PlaySettings& settings) {
    auto played = open_played(file, settings.script);
    if (played.ok()) return play_session("tallow-play", settings, std::move(*played));
    fmt::print(stderr, "tallow-play: {}\n", played.why());
    return 2;
}

int command(int argc, char** argv) {
    std::string file;
    PlaySettings settings;
    CLI::App app(
        "Plays a roll or a frames file. While it plays, `go` or an empty line starts the next cue. `back`, "
        "`cue 12.5`, `hold` and `stop 3s` take a cue list's name too, as `go` does. `pause`, `resume`, "
        "`submaster 1 60%`, `grand 50%`, `blackout`, `panic` and `quit` are the others.");
    app.formatter(narrow_help());
    app.add_option("FILE", file, "a roll or a frames file")->required();
    add_play_options(app, settings);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& e) {
        return app.exit(e) == 0 ? 0 : 2;
    }
    return run(file, settings);
}

}  // namespace

int main(int argc, char** argv) {
    try {
        return command(argc, argv);
    } catch (const std::exception& e) {
        std::fprintf(stderr, "tallow-play: %s; free some memory\n", e.what());
        return 2;
    }
}
