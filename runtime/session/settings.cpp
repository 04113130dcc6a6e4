#include "runtime/session/settings.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "runtime/session/command_line.hpp"

namespace tallow::runtime {
namespace {

void add_show_options(CLI::App& app, PlaySettings& s) {
    const std::string group = "The show";
    app.add_option("--go", s.script.go, "give a GO at each of these times, like 0s,10s,1min30s (for a roll)")
        ->type_name("TIMES")
        ->group(group);
    app.add_option(
           "--do", s.script.commands,
           "give commands at their times, like \"2s go, 5s go LIST, 8s submaster 1 60%\" (for a roll)")
        ->type_name("COMMANDS")
        ->group(group);
    app.add_option("--timecode", s.script.timecode,
                   "the timecode at the beginning, like 01:00:00:00, from where it runs (for a roll)")
        ->type_name("LABEL")
        ->group(group);
    app.add_option("--from", s.from, "begin at this time in the show, like 1min30s")
        ->type_name("TIME")
        ->group(group);
    app.add_option("--until", s.until, "end at this time in the show, like 1min30s")
        ->type_name("TIME")
        ->group(group);
    app.add_option(
           "--begin-at", s.begin_at,
           "wait for this time of day by the system's clock, like 20:00:00, so that several players run as "
           "one")
        ->type_name("TIME")
        ->group(group);
    app.add_flag("--fast", s.fast, "as fast as the machine can, taking no commands: for --capture and --null")
        ->group(group);
    app.add_flag("--lines", s.lines, "read and write plain lines on a terminal too")->group(group);
}

constexpr const char* sacn_group = "E1.31";

void add_sacn_ways(CLI::App& app, PlaySettings& s) {
    app.add_option("--sacn", s.sacn,
                   "send to this host (a name, an address, one with :PORT), or to `multicast`; may be given "
                   "again")
        ->type_name("HOST")
        ->allow_extra_args(false)
        ->group(sacn_group);
    app.add_option("--interface", s.interfaces,
                   "an interface for multicast: its name or its address; may be given again")
        ->type_name("NAME")
        ->allow_extra_args(false)
        ->group(sacn_group);
    app.add_option("--ip", s.ip, "the versions of IP: 4, 6 or both")
        ->type_name("VERSION")
        ->capture_default_str()
        ->group(sacn_group);
    app.add_option("--hops", s.hops, "networks that a multicast packet may cross")
        ->type_name("NUMBER")
        ->check(whole_number(1, 255))
        ->capture_default_str()
        ->group(sacn_group);
}

void add_sacn_source(CLI::App& app, PlaySettings& s) {
    app.add_option("--universes", s.universes, "play these alone, like 1..400,500")
        ->type_name("NUMBERS")
        ->group(sacn_group);
    app.add_option("--priority", s.priority,
                   "the priority of this source, 0..200 (default: 100, and 90 with --standby)")
        ->type_name("NUMBER")
        ->check(whole_number(0, e131_priority_max))
        ->group(sacn_group);
    app.add_option("--source-name", s.source_name, "the name of this source; `Tallow` if not given")
        ->type_name("NAME")
        ->group(sacn_group);
    app.add_option(
           "--cid", s.cid,
           "the identifier of this source, a UUID; if not given a new one, and with --resume the one before")
        ->type_name("UUID")
        ->group(sacn_group);
    app.add_option("--sync", s.synchronization,
                   "the universe of synchronization packets, which receivers wait for")
        ->type_name("NUMBER")
        ->check(whole_number(1, 63999))
        ->group(sacn_group);
    app.add_flag("--force-sync", s.force_synchronization,
                 "receivers may go on when synchronization packets stay away")
        ->group(sacn_group);
    app.add_flag("--preview", s.preview, "mark all as preview: not for the stage")->group(sacn_group);
    app.add_flag("--no-discovery", s.no_discovery, "do not tell the network which universes are sent")
        ->group(sacn_group);
}

void add_other_outputs(CLI::App& app, PlaySettings& s) {
    const std::string group = "Other outputs";
    app.add_option("--serial", s.serial,
                   "send by DMX512-A through this serial port; PORT=3 for universe 3; may be given again")
        ->type_name("PORT")
        ->allow_extra_args(false)
        ->group(group);
    app.add_option("--serial-break", s.serial_break, "how long breaks are, in microseconds")
        ->type_name("NUMBER")
        ->check(whole_number(dmx_break_us_min, dmx_break_us_max))
        ->capture_default_str()
        ->group(group);
    app.add_option("--capture", s.capture, "write the packets to this pcap file")
        ->type_name("FILE")
        ->group(group);
    app.add_flag("--null", s.null, "send nothing")->group(group);
}

void add_trigger_options(CLI::App& app, PlaySettings& s) {
    const std::string group = "Other machines";
    TriggerText& t = s.triggers;
    app.add_option(
           "--osc", t.osc,
           "hear OSC on this port of this machine alone, or on an address, like 0.0.0.0:7700, for the "
           "network to start cues; may be given again")
        ->type_name("PORT")
        ->allow_extra_args(false)
        ->group(group);
    app.add_option("--osc-secret", t.osc_secret,
                   "a word that every OSC message must have as an argument; what `--tell` sends has it too")
        ->type_name("WORD")
        ->group(group);
    app.add_option("--midi", t.midi, "hear the MIDI port with this in its name")
        ->type_name("NAME")
        ->group(group);
    app.add_option("--midi-go", t.midi_go,
                   "a note that is a GO, 0..127; NOTE=LIST for another list; may be given again")
        ->type_name("NOTE")
        ->allow_extra_args(false)
        ->group(group);
    app.add_option("--midi-channel", t.midi_channel,
                   "the channel of these notes, 1..16; every one if not given")
        ->type_name("NUMBER")
        ->group(group);
    app.add_option("--midi-device", t.midi_device,
                   "the device number of MIDI show control, 0..111; 0 if not given")
        ->type_name("NUMBER")
        ->group(group);
    app.add_option(
           "--timecode-lost", t.timecode_lost,
           "when the timecode of --midi is lost: `run-on` by itself, as it does if this is not given, or "
           "`hold`")
        ->type_name("WORD")
        ->group(group);
}

void add_survival_options(CLI::App& app, PlaySettings& s) {
    const std::string group = "When something fails";
    app.add_option("--state", s.state,
                   "the file that the show's standing is kept in (default: beside FILE, with .state)")
        ->type_name("FILE")
        ->group(group);
    app.add_flag("--no-state", s.no_state, "keep no such file")->group(group);
    app.add_flag("--resume", s.resume, "go on from where that file says the show stood")->group(group);
    app.add_option(
           "--tell", s.tell,
           "tell this host (port 7701), or HOST:PORT, how the show stands, for a player that stands by "
           "there; may be given again")
        ->type_name("HOST")
        ->allow_extra_args(false)
        ->group(group);
    app.add_option("--standby", s.stand_by,
                   "send nothing, but listen on this port of this machine alone, or on ADDRESS:PORT, like "
                   "0.0.0.0:7701 for the network, to a player that tells how its show stands, and go on from "
                   "there when it disappears")
        ->type_name("PORT")
        ->group(group);
}

// Options of which one says the contrary of another.
void check_contraries(const PlaySettings& s) {
    const auto refuse = [](bool both, const std::string& why) {
        if (both) throw CLI::ValidationError(why + "; leave one of them away");
    };
    refuse(s.no_state && !s.state.empty(),
           "`--no-state` keeps no state, and `--state` says where it is kept");
    refuse(s.no_state && s.resume, "`--no-state` keeps no state, and `--resume` goes on from one");
    refuse(s.resume && !s.stand_by.empty(),
           "`--resume` goes on from where this player's show stood, and `--standby` from where another's "
           "stands");
}

constexpr const char* commands =
    "Commands while it plays, one on each line: `go` or an empty line, `back`, `cue 12.5`, `hold` and "
    "`stop 3s`, each with a cue list's name behind it if need be; `pause`, `resume`, `submaster 1 60%`, "
    "`grand 50%`, `blackout`, `panic`, `timecode 01:00:00:00` and `quit`. On a terminal, without --lines, "
    "keys do the same and stand at the foot of the screen.";

}  // namespace

void add_play_options(CLI::App& app, PlaySettings& settings) {
    add_show_options(app, settings);
    add_sacn_ways(app, settings);
    add_sacn_source(app, settings);
    add_other_outputs(app, settings);
    add_trigger_options(app, settings);
    add_survival_options(app, settings);
    app.parse_complete_callback([&settings] { check_contraries(settings); });
    app.footer(fmt::format("{}\n\n{}", commands, app.get_footer()));
}

}  // namespace tallow::runtime
