// tallow-play: plays a roll or a frames file.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <csignal>
#include <cstdio>
#include <fmt/format.h>
#include <unistd.h>

#include "runtime/control/operator.hpp"
#include "runtime/duration.hpp"
#include "runtime/files.hpp"
#include "runtime/limits.hpp"
#include "runtime/output/e131_output.hpp"
#include "runtime/output/e131_text.hpp"
#include "runtime/play/clock_thread.hpp"
#include "runtime/play/performance.hpp"
#include "runtime/roll/roll_io.hpp"

namespace {

using namespace tallow::runtime;

struct Settings {
    std::string file, capture, interface, source_name, cid, from = "0s", until;
    ScriptText script;
    std::vector<std::string> sacn;
    unsigned priority = 100;
    bool null = false, fast = false;
};

// What a signal asks to quit.
std::atomic<Intercom*> playing{nullptr};
void interrupt(int) {
    if (Intercom* const intercom = playing) intercom->quit = true;
}

int failed(std::string_view why) {
    fmt::print(stderr, "tallow-play: {}\n", why);
    return 2;
}

// What is played, and what it rests on.
struct Played {
    std::unique_ptr<FramesReader> frames;
    std::unique_ptr<Roll> roll;
    Piece piece;
};

Result<Played> open_roll(const Settings& settings) {
    auto text = read_file(settings.file, limits::file_bytes);
    if (!text.ok()) return text.status();
    auto roll = read_roll(*text);
    if (!roll.ok()) return Status::failure(fmt::format("cannot play `{}`: {}", settings.file, roll.why()));
    auto script = read_script(settings.script, *roll);
    if (!script.ok()) return script.status();
    Played played;
    played.roll = std::make_unique<Roll>(std::move(*roll));
    played.piece.source = roll_source(*played.roll, std::move(*script));
    return played;
}

Result<Played> open_played(const Settings& settings) {
    const auto frames = holds_frames(settings.file);
    if (!frames.ok()) return frames.status();
    if (!*frames) return open_roll(settings);
    if (!settings.script.empty())
        return Status::failure(
            "`--go`, `--do` and `--timecode` are for a roll: a frames file plays by its own times; leave "
            "them "
            "away");
    auto reader = FramesReader::open(settings.file);
    if (!reader.ok()) return reader.status();
    Played played;
    played.frames = std::make_unique<FramesReader>(std::move(*reader));
    played.piece.source = frames_source(*played.frames);
    return played;
}

Result<E131Source> e131_source(const Settings& settings) {
    E131Source source;
    source.priority = static_cast<std::uint8_t>(settings.priority);
    if (!settings.source_name.empty()) source.name = settings.source_name;
    if (settings.cid.empty()) {
        auto cid = random_cid();
        if (!cid.ok()) return cid.status();
        source.cid = *cid;
    } else if (const auto cid = parse_cid(settings.cid)) {
        source.cid = *cid;
    } else {
        return Status::failure(fmt::format(
            "--cid: `{}` is no UUID; write it like 00000000-0000-4000-8000-000000000000", settings.cid));
    }
    return source;
}

Result<E131Options> e131_options(const Settings& settings) {
    auto source = e131_source(settings);
    if (!source.ok()) return source.status();
    E131Options options;
    options.source = *source;
    if (!settings.interface.empty()) options.interfaces = {settings.interface};
    for (const std::string& destination : settings.sacn) {
        if (destination == "multicast") {
            options.multicast = true;
            continue;
        }
        auto host = parse_host(destination);
        if (!host.ok()) return host.status();
        options.hosts.push_back(std::move(*host));
    }
    return options;
}

using Outputs = std::vector<std::unique_ptr<Output>>;

Status check_outputs(const Settings& settings) {
    const bool multicast = std::count(settings.sacn.begin(), settings.sacn.end(), "multicast") > 0;
    if (settings.sacn.empty() && settings.capture.empty() && !settings.null)
        return Status::failure(
            "nothing says where to play to; give `--sacn multicast`, `--sacn HOST`, `--capture FILE` or "
            "`--null`");
    if (settings.fast && !settings.sacn.empty())
        return Status::failure("`--fast` floods a network; use it with `--capture` or `--null` alone");
    if (!settings.interface.empty() && !multicast)
        return Status::failure("`--interface` is for multicast; add `--sacn multicast` or leave it away");
    return {};
}

Result<Outputs> open_outputs(const Settings& settings, const Source& source) {
    if (auto s = check_outputs(settings); !s.ok()) return s;
    auto options = e131_options(settings);
    if (!options.ok()) return options.status();
    auto named = e131_outputs(*options, source.universes(), source.refresh());
    if (!named.ok()) return named.status();
    if (!settings.capture.empty()) {
        auto capture = e131_capture(*options, settings.capture, source.universes(), source.refresh());
        if (!capture.ok()) return capture.status();
        named->push_back(std::move(*capture));
    }
    Outputs outputs;
    for (const NamedOutput& n : *named) {
        auto opened = n.open();
        if (!opened.ok()) return opened.status();
        outputs.push_back(std::move(*opened));
    }
    if (settings.null) outputs.push_back(null_output());
    return outputs;
}

Result<PlayOptions> play_options(const Settings& settings, std::uint32_t refresh) {
    PlayOptions options;
    const auto from = parse_duration(settings.from);
    if (!from.ok()) return Status::failure(fmt::format("--from: {}", from.why()));
    options.from = frames_before(*from, refresh);
    if (!settings.until.empty()) {
        const auto until = parse_duration(settings.until);
        if (!until.ok()) return Status::failure(fmt::format("--until: {}", until.why()));
        options.until = frames_before(*until, refresh);
    }
    options.fast = settings.fast;
    return options;
}

void say(std::string_view line) {
    fmt::print("{}\n", line);
    std::fflush(stdout);
}

Result<PlayCounts> play_fast(Piece& piece, Clock& clock, Intercom& intercom, PlayOptions options) {
    options.tell = [&](const Event& event) { tell(event, *piece.source, say); };
    return play(piece, clock, intercom, options);
}

Result<PlayCounts> play_in_time(Piece& piece, Clock& clock, Intercom& intercom, const PlayOptions& options) {
    const Source& source = *piece.source;
    ClockThread thread(piece, clock, intercom, options);
    Operator(source, clock, intercom, {STDIN_FILENO, {}, say, {}}).run([&] { return thread.over(); });
    if (intercom.closed && !intercom.quit && options.until == PlayOptions::open_end && source.at_rest())
        say("no command can come any more and nothing starts by itself: the end");
    return thread.finish();
}

Progress first_progress(Source& source) {
    Progress progress;
    if (const Performance* performance = source.performance()) progress.show = performance->standing();
    return progress;
}

int run(const Settings& settings) {
    auto played = open_played(settings);
    if (!played.ok()) return failed(played.why());
    Piece& piece = played->piece;
    auto options = play_options(settings, piece.source->refresh());
    if (!options.ok()) return failed(options.why());
    auto outputs = open_outputs(settings, *piece.source);
    if (!outputs.ok()) return failed(outputs.why());
    piece.outputs = std::move(*outputs);
    Intercom intercom(first_progress(*piece.source));
    playing = &intercom;
    std::signal(SIGINT, interrupt);
    std::signal(SIGTERM, interrupt);
    const auto clock = system_clock();
    const auto counts = settings.fast ? play_fast(piece, *clock, intercom, *options)
                                      : play_in_time(piece, *clock, intercom, *options);
    playing = nullptr;
    if (!counts.ok()) return failed(counts.why());
    if (counts->late > 0 || counts->dropped > 0)
        fmt::print(stderr, "tallow-play: of {} frames {} were more than {} ms late, and {} were left out\n",
                   counts->frames + counts->dropped, counts->late, late_ns / 1000000, counts->dropped);
    const std::string damage = piece.source->damage();
    return damage.empty() ? 0 : failed(damage);
}

int command(int argc, char** argv) {
    Settings s;
    CLI::App app(
        "Plays a roll or a frames file. While it plays, `go` or an empty line starts the next cue. `back`, "
        "`cue 12.5`, `hold` and `stop 3s` take a cue list's name too, as `go` does. `pause`, `resume`, "
        "`submaster 1 60%`, `grand 50%`, `blackout`, `panic` and `quit` are the others.");
    app.add_option("FILE", s.file, "a roll or a frames file")->required();
    app.add_option("--sacn", s.sacn, "send by E1.31 to this host, or to `multicast`; may be given again")
        ->type_name("HOST")
        ->allow_extra_args(false);
    app.add_option("--interface", s.interface, "the interface for multicast: its name or its address");
    app.add_option("--capture", s.capture, "write the packets to this pcap file, in place of a network");
    app.add_flag("--null", s.null, "send nothing");
    app.add_option("--priority", s.priority, "the E1.31 priority of this source, 0..200; 100 if not given")
        ->check(CLI::Range(0u, e131_priority_max));
    app.add_option("--source-name", s.source_name, "the E1.31 name of this source; `Tallow` if not given");
    app.add_option("--cid", s.cid,
                   "the E1.31 identifier of this source, a UUID; a new one each time if not given");
    app.add_option("--go", s.script.go, "give a GO at each of these times, like 0s,10s,1min30s (for a roll)");
    app.add_option("--do", s.script.commands,
                   "give commands at their times, like 2s go, 5s go LIST, 8s submaster 1 60% (for a roll)");
    app.add_option("--timecode", s.script.timecode,
                   "the timecode at the beginning, HH:MM:SS:FF, from where it runs (for a roll)");
    app.add_option("--from", s.from, "begin at this time in the show");
    app.add_option("--until", s.until, "end at this time in the show");
    app.add_flag("--fast", s.fast,
                 "as fast as the machine can, taking no commands: for --capture and --null");
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& e) {
        return app.exit(e) == 0 ? 0 : 2;
    }
    return run(s);
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
