// tallow: the compiler's command line. Each command is a function of its own (commands.hpp).
#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>

#include "compiler/command/commands.hpp"
#include "runtime/session/command_line.hpp"
#include "runtime/session/help.hpp"

namespace {

using namespace tallow::command;

struct Options {
    CheckOptions check;
    FormatOptions format;
    BuildOptions build;
    RenderOptions render;
    PlayOptions play;
    CuesOptions cues;
    StateOptions state;
    ColoursOptions colours;
    SheetsOptions sheets;
    FitOptions fit;
    InspectOptions inspect;
};

void add_text_commands(CLI::App& app, Options& o, int& exit) {
    CLI::App* c = app.add_subcommand("check", "say what is wrong with a show, and what it holds");
    c->add_option("SHOW", o.check.show, "the show file")->required();
    c->add_flag("--json", o.check.json, "the findings as a JSON array on standard output");
    c->add_flag("--watch", o.check.watch, "check again whenever a file of the show changes; Ctrl-C ends");
    c->parse_complete_callback([&] {
        if (o.check.watch && o.check.json)
            throw CLI::ValidationError(
                "`--watch` goes on until Ctrl-C, and `--json` is one array; leave one of them away");
    });
    c->callback([&] { exit = check(o.check); });

    c = app.add_subcommand("format", "write show files in the plain style; their meaning stays");
    c->add_option("FILES", o.format.files, "show files; - for standard input to standard output")->required();
    c->add_flag("--check", o.format.check, "name the files that would change, and change none");
    c->callback([&] { exit = format(o.format); });
}

void add_playing_commands(CLI::App& app, Options& o, int& exit) {
    CLI::App* c = app.add_subcommand("build", "compile a show to a roll, which tallow-play plays");
    c->add_option("SHOW", o.build.show, "the show file")->required();
    c->add_option("-o,--output", o.build.output,
                  "the roll; - for standard output (default: the show's name with .roll)")
        ->type_name("FILE");
    c->callback([&] { exit = build(o.build); });

    c = app.add_subcommand("play", "compile a show and play it; each time it is saved, play what it is then");
    c->add_option("SHOW", o.play.show, "the show file")->required();
    tallow::runtime::add_play_options(*c, o.play.settings);
    c->callback([&] { exit = play(o.play); });

    c = app.add_subcommand("render", "play a show into a frames file, without waiting");
    c->add_option("SHOW", o.render.show, "the show file")->required();
    c->add_option("--go", o.render.script.go, "when GO is given, from the file's start: 0s,10s,1min30s")
        ->type_name("TIMES");
    c->add_option("--do", o.render.script.commands,
                  "what is done when: 2s go, 5s go LIST, 7s back, 8s submaster 1 60%, 9s grand 0%")
        ->type_name("COMMANDS");
    c->add_option("--timecode", o.render.script.timecode, "the timecode at the start, from where it runs")
        ->type_name("LABEL");
    c->add_option("--hold", o.render.hold, "without a GO given: how long a cue stands before the next one")
        ->type_name("TIME")
        ->capture_default_str();
    c->add_option("--until", o.render.until, "the end (default: --hold after the last cue is complete)")
        ->type_name("TIME");
    c->add_option("-o,--output", o.render.output, "the frames file")->type_name("FILE")->required();
    c->callback([&] { exit = render(o.render); });
}

void add_reading_commands(CLI::App& app, Options& o, int& exit) {
    CLI::App* c = app.add_subcommand("cues", "the cue list: times, and what each cue really changes");
    c->add_option("SHOW", o.cues.show, "the show file")->required();
    c->add_option("--list", o.cues.list, "one of its cue lists (default: all)")->type_name("NAME");
    c->add_flag("--json", o.cues.json, "as JSON");
    c->callback([&] { exit = cues(o.cues); });

    c = app.add_subcommand("state", "the whole picture of a cue, and the line that each value came from");
    c->add_option("SHOW", o.state.show, "the show file")->required();
    c->add_option("--cue", o.state.cue, "the number of a cue: 2.5")->type_name("NUMBER");
    c->add_option("--fixture", o.state.fixture,
                  "a selection, such as `front 3`: through all cues, or in --cue")
        ->type_name("SELECTION");
    c->add_option("--list", o.state.list, "one of its cue lists (default: main for --cue, else all)")
        ->type_name("NAME");
    c->add_flag("--json", o.state.json, "as JSON");
    c->callback([&] { exit = state(o.state); });

    c = app.add_subcommand("colours",
                           "what each palette's colour comes to on each type: light, levels, rounding");
    c->add_option("SHOW", o.colours.show, "the show file")->required();
    c->add_flag("--json", o.colours.json, "as JSON");
    c->add_option("--svg", o.colours.svg, "a file for the diagram; - for standard output, alone")
        ->type_name("FILE");
    c->add_option("--desk", o.colours.desk, "the desk whose notch rounds (default: every one)")
        ->type_name("NAME");
    c->callback([&] { exit = colours(o.colours); });
}

void add_desk_commands(CLI::App& app, Options& o, int& exit) {
    CLI::App* c =
        app.add_subcommand("sheets", "put a show on a manual desk: fit, presets, recordings, what is lost");
    c->add_option("SHOW", o.sheets.show, "the show file")->required();
    c->add_option("--desk", o.sheets.desk, "the name of a desk that the show declares")
        ->type_name("NAME")
        ->required();
    c->add_option("--layout", o.sheets.layout, "one of its layouts (default: the one that loses least)")
        ->type_name("NAME");
    c->add_option("-o,--output", o.sheets.output, "a folder for the files (default: text on standard output)")
        ->type_name("FOLDER");
    c->add_option("--only", o.sheets.only, "some of html,pdf,csv,json,text,ascii (default: all)")
        ->type_name("FORMS");
    c->add_option("--paper", o.sheets.paper, "a4 or letter")->type_name("NAME")->capture_default_str();
    c->add_option("--pitch", o.sheets.pitch,
                  "from fader to fader on the desk, for the label strip: 10mm to 60mm")
        ->type_name("LENGTH")
        ->capture_default_str();
    c->add_option("--date", o.sheets.date, "a date to print on each sheet, as it is");
    c->callback([&] { exit = sheets(o.sheets); });

    c = app.add_subcommand("fit",
                           "ways to put a show on a manual desk: gangs, smaller modes, what each loses");
    c->add_option("SHOW", o.fit.show, "the show file")->required();
    c->add_option("--desk", o.fit.desk, "the name of a desk that the show declares")
        ->type_name("NAME")
        ->required();
    c->add_option("--way", o.fit.way, "the number of a way (default: the first that fits)")
        ->type_name("NUMBER")
        ->check(tallow::runtime::whole_number(1, 1000));
    c->add_flag("--json", o.fit.json, "as JSON");
    c->add_option("-o,--output", o.fit.output, "a file for the patch lines; - for standard output, alone")
        ->type_name("FILE");
    c->callback([&] { exit = fit(o.fit); });
}

void add_inspect_command(CLI::App& app, Options& o, int& exit) {
    CLI::App* c = app.add_subcommand("inspect", "say what a roll or a frames file holds");
    c->add_option("FILE", o.inspect.file, "a roll or a frames file")->required();
    c->add_flag("--csv", o.inspect.csv,
                "every frame and universe as a line: frame,time,universe,1,2,...,512");
    c->add_option("--at", o.inspect.at, "the frame at this time alone, as CSV")->type_name("TIME");
    c->callback([&] { exit = inspect(o.inspect); });
}

// In the order in which the help lists them.
void add_commands(CLI::App& app, Options& o, int& exit) {
    add_text_commands(app, o, exit);
    add_playing_commands(app, o, exit);
    add_reading_commands(app, o, exit);
    add_desk_commands(app, o, exit);
    add_inspect_command(app, o, exit);
}

int run(int argc, char** argv) {
    CLI::App app("A compiler for show files: light cues as plain text.", "tallow");
    app.formatter(tallow::runtime::narrow_help());
    app.set_version_flag("--version", TALLOW_VERSION);
    app.require_subcommand(1);
    app.footer("Exit code: 0 done, 1 errors in the show, 2 the command could not run.");
    Options options;
    int exit = done;
    add_commands(app, options, exit);
    if (const auto end = tallow::runtime::read_command_line(app, argc, argv)) return *end;
    return exit;
}

}  // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const std::exception& e) {
        std::fprintf(stderr, "tallow: %s; free some memory\n", e.what());
        return could_not_run;
    }
}
