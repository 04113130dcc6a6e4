#include "runtime/control/operator.hpp"

#include <fmt/format.h>
#include <poll.h>

#include "runtime/duration.hpp"

namespace tallow::runtime {
namespace {

constexpr int round_ms = 50;
constexpr int exchange_ms = 5;  // a round, while another source is under way

// `at` is since the beginning.
std::string dated(Tick at, const Source& source, std::string_view line) {
    const std::uint64_t ms = at / source.refresh();
    return fmt::format("{:>8}.{:03}  {}", clock_time(ms), ms % 1000, line);
}

}  // namespace

std::string line_for(const Event& event, const Source& source) {
    const std::string line = source.describe(event);
    return line.empty() ? line : dated(event.at, source, line);
}

Operator::Operator(const Source& source, Clock& clock, Intercom& intercom, Face& face, Ways ways)
    : source_(&source),
      clock_(clock),
      intercom_(intercom),
      line_(&intercom),
      face_(face),
      ways_(std::move(ways)) {}

void Operator::run(const std::function<bool()>& over) {
    while (!over()) {
        if (away_)
            ::poll(nullptr, 0, exchange_ms);
        else
            hear();
        tell();
        do_chores();
        show();
    }
    tell();
}

// What is read stands until the next reading: nothing that a chore does may read.
void Operator::do_chores() {
    for (const auto& chore : ways_.chores) {
        const Progress& progress = line_->progress.read();
        if (progress.counts.frames > 0) frame_ = progress.frame;
        chore(progress);
    }
}

// Until something comes in, or a round is over; then the triggers are read.
void Operator::wait() {
    std::vector<pollfd> polls{{face_.descriptor(), POLLIN, 0}};
    for (const auto& trigger : ways_.triggers) polls.push_back({trigger->descriptor(), POLLIN, 0});
    if (::poll(polls.data(), polls.size(), round_ms) <= 0) return;
    for (std::size_t i = 0; i < ways_.triggers.size(); ++i)
        if (polls[i + 1].revents != 0) ways_.triggers[i]->read(*this);
}

void Operator::hear() {
    wait();
    if (face_.read(clock_.now(), *this)) intercom_.quit = true;
    if (ways_.chase) chase(ways_.chase->pass(clock_.now()));
    intercom_.closed = face_.descriptor() < 0 && ways_.triggers.empty();
}

bool Operator::send(Exchange& exchange) {
    return away_ = line_->orders.put({clock_.now(), {}, &exchange});
}

void Operator::came(const Source& source, const Roll& roll, Line& line) {
    tell();
    source_ = &source;
    line_ = &line;
    if (ways_.chase) ways_.chase->set_roll(roll);
    away_ = false;
}

void Operator::say(std::string_view line) {
    face_.say(frame_ ? dated(*frame_ * ticks_per_frame, *source_, line) : std::string(line));
}

void Operator::words(std::uint64_t ns, std::string_view from, std::string_view words) {
    auto command = source_->read_command(words);
    if (!command.ok()) return complaint(from, command.why());
    if (ns < ways_.begins)
        return complaint(from, fmt::format("the show begins in {}; until then nothing is done but `quit`",
                                           rough_duration((ways_.begins - ns) / 1000000)));
    command->wants_answer = from.empty() && !face_.shows_levels();
    order({ns, *command, nullptr});
}

void Operator::order(const Order& order) {
    if (!line_->orders.put(order)) complaint("", "too many commands came at once; this one is left out");
}

void Operator::timecode(std::uint64_t ns, const TimecodeFrame& frame) {
    if (ways_.chase) chase(ways_.chase->take(ns, frame));
}

void Operator::chase(const TimecodeChase::Found& found) {
    for (const Order& one : found.orders) order(one);
    for (const std::string& notice : found.notices) say(notice);
}

void Operator::complaint(std::string_view from, std::string_view why) {
    say(from.empty() ? std::string(why) : fmt::format("{}: {}", from, why));
}

void Operator::tell() {
    while (const auto event = line_->heard.take())
        if (const std::string line = line_for(*event, *source_); !line.empty()) face_.say(line);
}

void Operator::show() {
    View view;
    view.progress = line_->progress.read();
    view.refresh = source_->refresh();
    const std::uint64_t now = clock_.now();
    if (now < ways_.begins) view.begins_in_ms = (ways_.begins - now) / 1000000;
    for (const auto& trigger : ways_.triggers) view.ways_in.push_back(trigger->name());
    if (ways_.view) ways_.view(view);
    face_.show(view);
}

}  // namespace tallow::runtime
