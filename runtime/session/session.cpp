#include "runtime/session/session.hpp"

#include <atomic>
#include <csignal>
#include <cstdio>
#include <fmt/format.h>
#include <string>
#include <unistd.h>
#include <vector>

#include "runtime/control/operator.hpp"
#include "runtime/control/plain_text.hpp"
#include "runtime/monotonic.hpp"
#include "runtime/output/e131_text.hpp"
#include "runtime/play/clock_thread.hpp"
#include "runtime/play/performance.hpp"
#include "runtime/session/output_watch.hpp"
#include "runtime/session/reload.hpp"
#include "runtime/session/stand_by.hpp"
#include "runtime/session/start.hpp"
#include "runtime/session/ways_out.hpp"
#include "runtime/survival/state_keeper.hpp"
#include "runtime/survival/state_link.hpp"

namespace tallow::runtime {
namespace {

constexpr std::string_view told_one = "the player that stands by";

// What a signal asks to quit.
std::atomic<Intercom*> playing{nullptr};
void interrupt(int) {
    if (Intercom* const intercom = playing) intercom->quit = true;
}

// To be stopped would stop the light; a terminal that is not ours must not stop it either.
void take_signals() {
    for (const int end : {SIGINT, SIGTERM}) std::signal(end, interrupt);
    if (std::signal(SIGHUP, interrupt) == SIG_IGN) std::signal(SIGHUP, SIG_IGN);  // started by `nohup`
    for (const int stop : {SIGTSTP, SIGTTIN, SIGTTOU, SIGPIPE}) std::signal(stop, SIG_IGN);
}

// Says once what is not done, and when it is done again.
void tell_trouble(Operator& op, std::string_view who, std::string_view done, const std::string& why,
                  std::string& told) {
    if (why == told) return;
    op.say(why.empty() ? fmt::format("{} is {} again", who, done)
                       : fmt::format("{} is not {}: {}", who, done, why));
    told = why;
}

class Session {
  public:
    ~Session() { playing = nullptr; }
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;
    Session(std::string_view program, const PlaySettings& settings, Played played, Revisions* revisions)
        : program_(program), settings_(settings), played_(std::move(played)), revisions_(revisions) {}

    int run();

  private:
    int failed(std::string_view why) const {
        tell(why);
        return 2;
    }
    void tell(std::string_view line) const { fmt::print(stderr, "{}: {}\n", program_, plain(line)); }
    void say_before(const std::string& line) {
        if (line.empty()) return;
        tell(line);
        said_before_.push_back(line);
    }
    Progress first_progress() const;
    Status choose_cid(const std::string& resumed);
    Status open_ways();
    Status open_sender();
    Status open_ways_in();
    Status open_outputs();
    Result<PlayCounts> play_fast();
    Result<PlayCounts> play_in_time(Face& face);
    Result<PlayCounts> play();
    void add_chores();
    void tell_standing(const Progress& progress);
    void hear_backups(std::uint64_t now);
    void show_backups(std::uint64_t now, View& view);
    int end(const PlayCounts& counts) const;

    const std::string program_;
    PlaySettings settings_;
    Played played_;
    Revisions* const revisions_;
    const std::unique_ptr<Clock> clock_ = system_clock();
    PlayOptions options_;
    Piece piece_;
    std::unique_ptr<Intercom> intercom_;
    const std::unique_ptr<Face> lines_ = line_face(STDIN_FILENO);
    std::vector<std::string> said_before_;  // of the show; the console covers it
    Operator::Ways ways_;
    std::vector<WayOut> ways_out_;
    OutputWatch outputs_;  // those of the piece
    std::unique_ptr<StateSender> sender_;
    FileClaim claim_;  // of the state's file, until the keeper has it
    std::unique_ptr<StateKeeper> keeper_;
    std::string sender_trouble_, keeper_trouble_;  // as told last
    Operator* operator_ = nullptr;
    std::unique_ptr<Reload> reload_;
};

int Session::run() {
    auto start = find_start(settings_, played_, *clock_);
    if (!start.ok()) return failed(start.why());
    if (auto s = claim_state(settings_, played_, claim_); !s.ok()) return failed(s.why());
    options_ = start->options;
    if (auto s = check_beginning(played_, settings_.from, options_.from); !s.ok()) return failed(s.why());
    say_before(start->said);
    intercom_ = std::make_unique<Intercom>(first_progress());
    playing = intercom_.get();
    take_signals();
    if (auto s = choose_cid(start->cid); !s.ok()) return failed(s.why());
    if (auto s = open_ways(); !s.ok()) return failed(s.why());
    say_before(set_state_aside(settings_, played_));
    if (!settings_.stand_by.empty()) {
        const auto takes_over = runtime::stand_by(settings_, played_, *clock_,
                                                  {*lines_, ways_.triggers, intercom_->quit}, options_);
        if (!takes_over.ok()) return failed(takes_over.why());
        if (!*takes_over) return 0;
        said_before_ = {**takes_over};
        lines_->say(**takes_over);
    }
    if (auto s = open_outputs(); !s.ok()) return failed(s.why());
    const auto counts = settings_.fast ? play_fast() : play();
    if (!counts.ok()) return failed(counts.why());
    return end(*counts);
}

Progress Session::first_progress() const {
    Progress progress;
    progress.frame = options_.from;
    if (Performance* const performance = played_.source->performance())
        progress.show = performance->standing();
    return progress;
}

// One that goes on is the same source to receivers; a new one would be held beside it for a while.
Status Session::choose_cid(const std::string& resumed) {
    if (settings_.cid.empty()) settings_.cid = resumed;
    if (!settings_.cid.empty()) return {};
    const auto cid = random_cid();
    if (!cid.ok()) return cid.status();
    settings_.cid = cid_text(*cid);
    return {};
}

// What cannot be as it was asked for is said at the start, also by a player that stands by.
Status Session::open_ways() {
    auto out = ways_out(settings_, played_.source->universes(), played_.source->refresh());
    if (!out.ok()) return out.status();
    ways_out_ = std::move(*out);
    if (settings_.fast) return {};
    if (auto s = open_sender(); !s.ok()) return s;
    return open_ways_in();
}

Status Session::open_outputs() {
    if (settings_.fast) {
        auto opened = open_all(ways_out_);
        if (!opened.ok()) return opened.status();
        piece_.outputs = std::move(*opened);
        return {};
    }
    for (const WayOut& way : ways_out_) {
        auto thread = on_own_thread(way, played_.source->universes());
        if (!thread.ok()) return thread.status();
        piece_.outputs.push_back(std::move(thread->output));
        outputs_.add(*thread->looked_after);
    }
    return {};
}

Result<PlayCounts> Session::play_fast() {
    piece_.source = std::move(played_.source);
    options_.tell = [&](const Event& event) {
        if (const std::string line = line_for(event, *piece_.source); !line.empty())
            fmt::print("{}\n", plain(line, Blanks::all));
    };
    return runtime::play(piece_, *clock_, *intercom_, options_);
}

Result<PlayCounts> Session::play() {
    std::unique_ptr<Face> console;
    if (!settings_.lines && ::isatty(STDIN_FILENO) != 0 && ::isatty(STDOUT_FILENO) != 0)
        if (auto screen = screen_face(STDIN_FILENO); screen.ok()) console = std::move(*screen);
    Face& face = console ? *console : *lines_;
    for (const std::string& line : said_before_)
        if (console) console->say(line);
    // For the first frame of a show that is resumed nobody waits.
    if (options_.start_ns > clock_->now() + second_ns / 10) ways_.begins = options_.start_ns;
    add_chores();
    return play_in_time(face);
}

Status Session::open_ways_in() {
    TriggerText text = settings_.triggers;
    // The secret guards what is told to those who stand by, too.
    if (text.osc.empty() && !(settings_.tell.empty() && settings_.stand_by.empty())) text.osc_secret.clear();
    static const Roll no_roll;
    auto triggers = open_triggers(text, played_.roll ? *played_.roll : no_roll, *clock_);
    if (!triggers.ok()) return triggers.status();
    ways_.triggers = std::move(*triggers);
    const auto run_on = runs_on(text);
    if (!run_on.ok()) return run_on.status();
    if (played_.roll) ways_.chase.emplace(*played_.roll, *run_on);
    return {};
}

Status Session::open_sender() {
    if (settings_.tell.empty()) return {};
    if (!played_.roll)
        return Status::failure("`--tell` is for a roll; leave it away where a frames file plays");
    std::vector<Host> hosts;
    for (const std::string& text : settings_.tell) {
        auto host = parse_host(text, state_port);
        if (!host.ok()) return Status::failure("--tell: " + host.why());
        hosts.push_back(std::move(*host));
    }
    auto sender = StateSender::open(hosts, settings_.triggers.osc_secret);
    if (!sender.ok()) return Status::failure("--tell: " + sender.why());
    sender_ = std::move(*sender);
    return {};
}

void Session::add_chores() {
    ways_.view = [this](View& view) {
        view.roll = played_.roll.get();
        view.title = played_.title;
        outputs_.show(clock_->now(), view);
        if (sender_) show_backups(clock_->now(), view);
    };
    ways_.chores.emplace_back([this](const Progress&) {
        outputs_.tell(clock_->now(), [&](std::string_view line) { operator_->say(line); });
    });
    if (keeps_state(settings_, played_)) {
        keeper_ = std::make_unique<StateKeeper>(state_path(settings_, played_), settings_.cid, *played_.roll,
                                                played_.roll_hash, std::move(claim_));
        ways_.chores.emplace_back([this](const Progress& progress) {
            if (progress.counts.frames == 0) return;  // it stands nowhere yet
            keeper_->keep(progress, clock_->now());
            tell_trouble(*operator_, "the state", "kept", keeper_->trouble(), keeper_trouble_);
        });
    }
    if (sender_) ways_.chores.emplace_back([this](const Progress& progress) { tell_standing(progress); });
    if (revisions_ && played_.roll) {
        reload_ = std::make_unique<Reload>(*revisions_, played_.source->universes(), settings_.script);
        ways_.chores.emplace_back([this](const Progress& progress) {
            if (reload_->poll(progress, played_, *operator_) && keeper_)
                keeper_->set_roll(*played_.roll, played_.roll_hash);
        });
    }
}

// Tells those who stand by how the show stands; while it waits for its time to begin, how it will stand then.
void Session::tell_standing(const Progress& progress) {
    const std::uint64_t now = clock_->now();
    const bool waits = progress.counts.frames == 0;
    if (waits && now >= options_.start_ns) return;  // the first frame is there in a moment
    State state{played_.roll_hash, wall_clock_ms(), progress.paused, progress.show, "", progress.tape};
    if (waits) state.show.now = options_.from * ticks_per_frame;
    sender_->send(write_state(state, *played_.roll), waits ? options_.start_ns : now - progress.age(now),
                  now);
    tell_trouble(*operator_, told_one, "told", sender_->trouble(), sender_trouble_);
    hear_backups(now);
}

void Session::hear_backups(std::uint64_t now) {
    sender_->hear(now);
    sender_->each_backup([&](Backup& backup) {
        if (const std::string news = backup.news(now); !news.empty()) operator_->say(news);
    });
}

void Session::show_backups(std::uint64_t now, View& view) {
    if (!sender_trouble_.empty())
        view.backups.push_back({fmt::format("{} is not told: {}", told_one, sender_trouble_), false});
    sender_->each_backup([&](const Backup& backup) {
        if (std::string line = backup.line(now); !line.empty())
            view.backups.push_back({std::move(line), backup.well(now)});
    });
}

Result<PlayCounts> Session::play_in_time(Face& face) {
    piece_.source =
        played_.roll ? std::move(played_.source) : read_ahead(std::move(played_.source), options_.from);
    Operator op(*piece_.source, *clock_, *intercom_, face, std::move(ways_));
    operator_ = &op;
    ClockThread thread(piece_, *clock_, *intercom_, options_);
    for (const std::string& line : thread.refused()) op.say(line);
    op.run([&] { return thread.over(); });
    auto counts = thread.finish();
    if (sender_) sender_->end();
    if (keeper_) keeper_->discard();
    if (intercom_->closed && !intercom_->quit && options_.until == PlayOptions::open_end &&
        piece_.source->at_rest())
        op.say("no command can come any more and nothing starts by itself: the end");
    return counts;
}

int Session::end(const PlayCounts& counts) const {
    if (counts.late > 0 || counts.dropped > 0)
        fmt::print(stderr, "{}: of {} frames {} were more than {} ms late, and {} were left out\n", program_,
                   counts.frames + counts.dropped, counts.late, late_ns / 1000000, counts.dropped);
    const std::string damage = piece_.source->damage();
    return damage.empty() ? 0 : failed(damage);
}

}  // namespace

int play_session(std::string_view program, const PlaySettings& settings, Played played,
                 Revisions* revisions) {
    return Session(program, settings, std::move(played), revisions).run();
}

}  // namespace tallow::runtime
