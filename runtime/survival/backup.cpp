#include "runtime/survival/backup.hpp"

#include <fmt/format.h>

#include "runtime/monotonic.hpp"

namespace tallow::runtime {
namespace {

std::string_view words(StandsBy how) {
    switch (how) {
        case StandsBy::for_this_show:
            return "";
        case StandsBy::another_version:
            return " with another version of the show";
        case StandsBy::another_show:
            return " with another show";
        case StandsBy::for_another_player:
            return " for another player, and not for this one";
    }
    return "";
}

std::string_view cure(StandsBy how) {
    switch (how) {
        case StandsBy::for_this_show:
            return "";
        case StandsBy::another_version:
        case StandsBy::another_show:
            return "; it would take over by cue numbers: start it again with what plays here";
        case StandsBy::for_another_player:
            return "; end that one, or have this one tell another machine";
    }
    return "";
}

}  // namespace

void Backup::told(std::uint64_t ns) {
    if (!told_ns_) told_ns_ = ns;
}

void Backup::answers(std::string_view machine, StandsBy how, std::uint64_t ns) {
    if (is(ns) == Is::there && machine != machine_) return;
    machine_ = machine;
    how_ = how;
    answered_ns_ = ns;
}

Backup::Is Backup::is(std::uint64_t ns) const {
    if (answered_ns_) return ns - *answered_ns_ > no_answer_ns ? Is::away : Is::there;
    return told_ns_ && ns - *told_ns_ > no_answer_ns ? Is::away : Is::unknown;
}

std::string Backup::line(std::uint64_t ns) const {
    switch (is(ns)) {
        case Is::unknown:
            return "";
        case Is::there:
            return fmt::format("{} stands by{}", machine_, words(how_));
        case Is::away:
            return fmt::format("nobody stands by at {}: nothing answers", place_);
    }
    return "";
}

std::string Backup::news(std::uint64_t ns) {
    const Is is = this->is(ns);
    if (is == said_ && (is != Is::there || how_ == said_how_)) return "";
    if (said_ != Is::unknown && ns - said_ns_ < second_ns) return "";
    const Is before = std::exchange(said_, is);
    said_how_ = how_;
    said_ns_ = ns;
    if (is == Is::away)
        return fmt::format(
            "{}; start the other one with `--standby {}`, and give both the same `--osc-secret` or none",
            line(ns), listens_);
    const bool back = std::exchange(was_there_, true) && before == Is::away;
    return fmt::format("{}{}{}", line(ns), back && well(ns) ? " again" : "", cure(how_));
}

}  // namespace tallow::runtime
