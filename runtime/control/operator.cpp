#include "runtime/control/operator.hpp"

#include <cerrno>
#include <fmt/format.h>
#include <poll.h>
#include <unistd.h>

#include "runtime/duration.hpp"

namespace tallow::runtime {
namespace {

constexpr int round_ms = 50;
constexpr std::size_t line_bytes = 4096;  // what is longer is no command, and not kept

std::string_view trimmed(std::string_view line) {
    const std::size_t begin = line.find_first_not_of(" \t\r");
    if (begin == std::string_view::npos) return {};
    return line.substr(begin, line.find_last_not_of(" \t\r") - begin + 1);
}

}  // namespace

Operator::Operator(const Source& source, Clock& clock, Intercom& intercom, Ways ways)
    : source_(&source), clock_(clock), intercom_(intercom), ways_(std::move(ways)) {}

void Operator::run(const std::function<bool()>& over) {
    while (!over()) {
        intercom_.closed = ways_.input < 0 && ways_.triggers.empty();
        wait();
        tell();
        const Progress& progress = intercom_.progress.read();
        for (const auto& chore : ways_.chores) chore(progress);
    }
    tell();
}

// Until something comes in, or a round is over.
void Operator::wait() {
    std::vector<pollfd> polls;
    for (const auto& trigger : ways_.triggers) polls.push_back({trigger->descriptor(), POLLIN, 0});
    if (ways_.input >= 0) polls.push_back({ways_.input, POLLIN, 0});
    if (::poll(polls.data(), polls.size(), round_ms) <= 0) return;
    for (std::size_t i = 0; i < ways_.triggers.size(); ++i)
        if (polls[i].revents != 0) ways_.triggers[i]->read(*this);
    if (ways_.input >= 0 && polls.back().revents != 0) read_lines();
}

void Operator::read_lines() {
    char bytes[line_bytes];
    const ssize_t n = ::read(ways_.input, bytes, sizeof bytes);
    if (n < 0 && (errno == EINTR || errno == EAGAIN)) return;
    if (n <= 0) {
        ways_.input = -1;
        if (!typed_.empty()) obey_line(typed_);
        return;
    }
    typed_.append(bytes, static_cast<std::size_t>(n));
    for (std::size_t end; (end = typed_.find('\n')) != std::string::npos; typed_.erase(0, end + 1))
        obey_line(std::string_view(typed_).substr(0, end));
    if (typed_.size() > line_bytes) typed_.clear();
}

void Operator::obey_line(std::string_view line) {
    line = trimmed(line);
    if (line == "quit")
        intercom_.quit = true;
    else
        words(clock_.now(), "", line.empty() ? "go" : line);
}

void Operator::words(std::uint64_t ns, std::string_view from, std::string_view words) {
    const auto command = source_->read_command(words);
    if (command.ok())
        order(ns, *command);
    else
        complaint(from, command.why());
}

void Operator::order(std::uint64_t ns, const Command& command) {
    if (!intercom_.orders.put({ns, command}))
        complaint("", "too many commands came at once; this one is left out");
}

void Operator::timecode(std::uint64_t, std::uint64_t, unsigned, bool) {}

void Operator::complaint(std::string_view from, std::string_view why) {
    ways_.say(from.empty() ? std::string(why) : fmt::format("{}: {}", from, why));
}

void Operator::tell() {
    while (const auto event = intercom_.heard.take()) runtime::tell(*event, *source_, ways_.say);
}

void tell(const Event& event, const Source& source, const std::function<void(std::string_view)>& say) {
    const std::string line = source.describe(event);
    if (!line.empty()) say(fmt::format("{:>12}  {}", format_duration(event.at / source.refresh()), line));
}

}  // namespace tallow::runtime
