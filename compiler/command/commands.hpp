// The commands, one for each verb of `tallow`. Each returns the exit code: 0 done, 1 errors in the show, 2
// the command could not run.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "runtime/play/script.hpp"
#include "runtime/session/settings.hpp"

namespace tallow::command {

inline constexpr int done = 0, show_has_errors = 1, could_not_run = 2;

struct CheckOptions {
    std::string show;
    bool json = false;
    bool watch = false;  // again after each change, until Ctrl-C; not with `json`
};
int check(const CheckOptions& options);

struct FormatOptions {
    std::vector<std::string> files;  // "-": standard input to standard output
    bool check = false;              // says which files would change, and changes none
};
// Does all files, whatever comes of one; the worst exit code. With `check`, 1 when a file would change.
int format(const FormatOptions& options);

struct BuildOptions {
    std::string show, output;  // output: empty for the show's name with .roll
};
int build(const BuildOptions& options);

struct RenderOptions {
    std::string show, output;
    runtime::ScriptText script;  // what happens; where it does not play the main list, that plays by `hold`
    std::string hold = "3s";     // between a cue's end and the next GO
    std::string until;           // empty: `hold` after the last cue is complete
};
int render(const RenderOptions& options);

struct PlayOptions {
    std::string show;
    runtime::PlaySettings settings;
};
// Plays a show, and what it is changed into as its files are saved.
int play(const PlayOptions& options);

struct CuesOptions {
    std::string show, list;
    bool json = false;
};
int cues(const CuesOptions& options);

struct StateOptions {
    std::string show, list;
    std::string cue;      // a number; empty: all cues, of `fixture`
    std::string fixture;  // a selection; empty: all that is lit
    bool json = false;
};
int state(const StateOptions& options);

struct ColoursOptions {
    std::string show;
    std::string desk;  // whose notch rounds; empty: every desk's
    std::string svg;   // a file for the diagram; "-": standard output, with nothing else on it; empty: none
    bool json = false;
};
int colours(const ColoursOptions& options);

struct SheetsOptions {
    std::string show, desk;
    std::string layout;          // empty: the one that loses least
    std::string output;          // a folder; empty: standard output
    std::string only;            // some of html,pdf,csv,json,text,ascii; empty: all, on standard output text
    std::string date;            // printed as it is; empty: none
    std::string paper = "a4";    // or letter
    std::string pitch = "20mm";  // of the label strip: 10mm to 60mm
};
int sheets(const SheetsOptions& options);

struct FitOptions {
    std::string show, desk;
    std::string output;  // a file for the patch; "-": standard output, with nothing else on it; empty: none
    std::uint32_t way = 0;  // counted from 1; 0: the first that fits
    bool json = false;
};
int fit(const FitOptions& options);

struct InspectOptions {
    std::string file;
    bool csv = false;
    std::string at;  // a time; empty: all frames
};
int inspect(const InspectOptions& options);

}  // namespace tallow::command
