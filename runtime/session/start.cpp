#include "runtime/session/start.hpp"

#include <cstdio>
#include <ctime>
#include <fmt/format.h>
#include <unistd.h>

#include "runtime/ascii.hpp"
#include "runtime/duration.hpp"
#include "runtime/files.hpp"
#include "runtime/limits.hpp"
#include "runtime/monotonic.hpp"
#include "runtime/play/performance.hpp"
#include "runtime/survival/state_keeper.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

// Whether anything says when and where in its show a player begins or ends.
bool says_when(const PlaySettings& s) {
    return !s.script.empty() || s.from != "0s" || !s.until.empty() || !s.begin_at.empty() || s.fast;
}

Status check(const PlaySettings& settings, const Played& played) {
    constexpr const char* when =
        "leave `--go`, `--do`, `--timecode`, `--from`, `--until`, `--begin-at` and `--fast` away";
    if (settings.resume && !played.roll)
        return Status::failure("`--resume` is for a roll; begin a frames file elsewhere by `--from`");
    if (!settings.stand_by.empty() && !played.roll) return Status::failure("`--standby` is for a roll");
    if (settings.resume && says_when(settings))
        return Status::failure(fmt::format("`--resume` goes on from where the show stood; {}", when));
    if (!settings.stand_by.empty() && says_when(settings))
        return Status::failure(
            fmt::format("`--standby` goes on from where the other player's show stands; {}", when));
    if (settings.fast && !(settings.begin_at.empty() && settings.tell.empty() &&
                           settings.triggers.osc.empty() && settings.triggers.midi.empty()))
        return Status::failure(
            "`--fast` waits for nobody and hears nobody; leave `--begin-at`, `--tell`, `--osc` "
            "and `--midi` away");
    return {};
}

// Files that are written replace nothing but their own kind.
Status check_files(const PlaySettings& settings, const Played& played) {
    if (!settings.capture.empty())
        if (auto s = may_write(settings.capture, played.path); !s.ok())
            return Status::failure("--capture: " + s.why());
    if (!keeps_state(settings, played)) return {};
    const std::string path = state_path(settings, played);
    if (::access(path.c_str(), F_OK) != 0) return {};
    const auto there = read_file(path, limits::state_bytes);
    if (there.ok() && (there->empty() || is_state(*there))) return {};
    return Status::failure(fmt::format(
        "the state would go to `{}`, which is a file of another kind, and would be lost; give another place "
        "with `--state`, or `--no-state`",
        path));
}

Status read_stretch(const PlaySettings& settings, std::uint32_t refresh, PlayOptions& options) {
    const auto from = parse_duration(settings.from);
    if (!from.ok()) return Status::failure("--from: " + from.why());
    options.from = frames_before(*from, refresh);
    if (settings.until.empty()) return {};
    const auto until = parse_duration(settings.until);
    if (!until.ok()) return Status::failure("--until: " + until.why());
    options.until = frames_before(*until, refresh);
    if (*until <= *from)
        return Status::failure(
            fmt::format("`--until {}` does not come after `--from {}`", settings.until, settings.from));
    return {};
}

// Behind other words: whose state it is, if not this show's as it is now.
std::string of_another(const State& state, const Played& played) {
    if (state.roll == played.roll_hash) return "";
    const std::string what = is_of_another_show(state, *played.roll)
                                 ? fmt::format("another show, `{}`", state.title)
                                 : "another version of the show";
    return fmt::format("; it was of {}, so cues go by their numbers{}", what,
                       gone_behind(state.gone, *played.roll));
}

// Puts the source where the state says; the player's clock goes on from the show's.
Status resume(const PlaySettings& settings, Played& played, Clock& clock, Start& start) {
    const std::string path = state_path(settings, played);
    if (::access(path.c_str(), F_OK) != 0) {
        start.said = fmt::format("there is no state in `{}` to resume from: the show begins anew", path);
        return {};
    }
    const auto state = load_state(path, *played.roll, played.roll_hash);
    if (!state.ok()) return state.status();
    start.cid = state->cid;
    const Tick now = now_after(*state, wall_clock_ms(), played.roll->refresh);
    played.source->performance()->restore(state->show, state->paused, state->tape, state->show.now);
    start.options.from = (now + ticks_per_frame - 1) / ticks_per_frame;
    start.options.start_ns =
        clock.now() + (start.options.from * ticks_per_frame - now) * 1000000 / played.roll->refresh;
    start.said = fmt::format("resumes {}", how_it_stands(state->show, *played.roll));
    start.said += state->paused ? ", paused as it was"
                                : fmt::format("; it is {} since the show stood so",
                                              rough_duration((now - state->show.now) / played.roll->refresh));
    start.said += of_another(*state, played);
    return {};
}

}  // namespace

bool keeps_state(const PlaySettings& settings, const Played& played) {
    return played.roll && !settings.no_state && !settings.fast;
}

std::string state_path(const PlaySettings& settings, const Played& played) {
    return settings.state.empty() ? played.path + ".state" : settings.state;
}

Status claim_state(const PlaySettings& settings, const Played& played, FileClaim& claim) {
    // One that stands by begins when the other is gone.
    if (!keeps_state(settings, played) || !settings.stand_by.empty()) return {};
    const std::string path = state_path(settings, played);
    if (claim.take(path)) return {};
    return Status::failure(fmt::format(
        "another player is playing this, and keeps its state in `{}`; end that one, or give this one a "
        "place of its own with `--state`",
        path));
}

std::string set_state_aside(const PlaySettings& settings, const Played& played) {
    if (!keeps_state(settings, played) || settings.resume || !settings.stand_by.empty()) return "";
    const std::string path = state_path(settings, played);
    const auto text = read_file(path, limits::state_bytes);
    if (!text.ok()) return "";
    const auto state = read_state(*text, *played.roll, played.roll_hash);
    if (!state.ok()) return "";
    std::string aside = path + ".before";
    for (int n = 2; ::access(aside.c_str(), F_OK) == 0; ++n) aside = fmt::format("{}.before-{}", path, n);
    if (std::rename(path.c_str(), aside.c_str()) != 0) return "";
    const std::string gone = gone_words(state->gone, *played.roll);
    return fmt::format(
        "the show broke off {}{}, and begins anew; to go on from there, end it and start it with `--resume "
        "--state {}`",
        how_it_stands(state->show, *played.roll), gone.empty() ? "" : fmt::format(" ({})", gone), aside);
}

Result<std::uint64_t> until_time_of_day(std::string_view text) {
    const Status fault = Status::failure(fmt::format("`{}` is no time of day; write it like 20:00:00", text));
    const auto digits = [&](std::size_t at, int most) {
        const char a = text[at], b = text[at + 1];
        const int n = is_digit(a) && is_digit(b) ? (a - '0') * 10 + (b - '0') : 99;
        return n <= most ? n : -1;
    };
    if (text.size() != 8 || text[2] != ':' || text[5] != ':') return fault;
    const int hours = digits(0, 23), minutes = digits(3, 59), seconds = digits(6, 59);
    if (hours < 0 || minutes < 0 || seconds < 0) return fault;
    timespec now{};
    ::clock_gettime(CLOCK_REALTIME, &now);
    std::tm day{};
    ::localtime_r(&now.tv_sec, &day);
    day.tm_hour = hours;
    day.tm_min = minutes;
    day.tm_sec = seconds;
    day.tm_isdst = -1;
    std::time_t then = std::mktime(&day);
    if (then <= now.tv_sec) {
        ++day.tm_mday;
        day.tm_isdst = -1;
        then = std::mktime(&day);
    }
    return static_cast<std::uint64_t>(then - now.tv_sec) * second_ns -
           static_cast<std::uint64_t>(now.tv_nsec);
}

Result<Start> find_start(const PlaySettings& settings, Played& played, Clock& clock) {
    if (auto s = check(settings, played); !s.ok()) return s;
    if (auto s = check_files(settings, played); !s.ok()) return s;
    Start start;
    start.options.fast = settings.fast;
    if (auto s = read_stretch(settings, played.source->refresh(), start.options); !s.ok()) return s;
    if (!settings.begin_at.empty()) {
        const auto rest = until_time_of_day(settings.begin_at);
        if (!rest.ok()) return Status::failure("--begin-at: " + rest.why());
        start.options.start_ns = clock.now() + *rest;
        start.said = fmt::format("waits {} for {}", rough_duration(*rest / 1000000), settings.begin_at);
    }
    if (settings.resume)
        if (auto s = resume(settings, played, clock, start); !s.ok()) return s;
    return start;
}

}  // namespace tallow::runtime
