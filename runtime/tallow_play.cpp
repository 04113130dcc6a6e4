// tallow-play: plays a roll or a frames file.
#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <fmt/format.h>

#include "runtime/control/plain_text.hpp"
#include "runtime/session/command_line.hpp"
#include "runtime/session/help.hpp"
#include "runtime/session/session.hpp"

namespace {

using namespace tallow::runtime;

int run(const std::string& file, const PlaySettings& settings) {
    auto played = open_played(file, settings.script);
    if (played.ok()) return play_session("tallow-play", settings, std::move(*played));
    fmt::print(stderr, "tallow-play: {}\n", plain(played.why()));
    return 2;
}

int command(int argc, char** argv) {
    std::string file;
    PlaySettings settings;
    CLI::App app("Plays a roll or a frames file.", "tallow-play");
    app.formatter(narrow_help());
    app.set_version_flag("--version", TALLOW_VERSION);
    app.footer("Exit code: 0 done, 2 it could not play, or not all.");
    app.add_option("FILE", file, "a roll or a frames file")->required();
    add_play_options(app, settings);
    if (const auto exit = read_command_line(app, argc, argv)) return *exit;
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
