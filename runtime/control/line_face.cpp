#include <cerrno>
#include <cstdio>
#include <fmt/format.h>
#include <poll.h>
#include <string>
#include <unistd.h>
#include <utility>

#include "runtime/ascii.hpp"
#include "runtime/control/face.hpp"
#include "runtime/control/plain_text.hpp"

namespace tallow::runtime {
namespace {

constexpr std::size_t line_bytes = 4096;  // what is longer is no command

class LineFace : public Face {
  public:
    explicit LineFace(int input) : input_(input) {}

    int descriptor() const override { return input_; }
    bool read(std::uint64_t ns, Listener& listener) override;
    void say(std::string_view line) override {
        pollfd room{STDOUT_FILENO, POLLOUT, 0};
        if (::poll(&room, 1, 0) <= 0) return;  // a reader that is halted does not halt the show
        fmt::print("{}\n", plain(line, Blanks::all));
        std::fflush(stdout);
    }
    void show(const View&) override {}
    bool shows_levels() const override { return false; }

  private:
    void take(std::string_view bytes, std::uint64_t ns, Listener& listener);
    void end_line(std::uint64_t ns, Listener& listener);

    int input_;
    std::string typed_;      // of a line that has not ended
    bool too_long_ = false;  // that one
    bool quits_ = false;
};

bool LineFace::read(std::uint64_t ns, Listener& listener) {
    pollfd poll{input_, POLLIN, 0};
    if (input_ < 0 || ::poll(&poll, 1, 0) <= 0) return false;
    char bytes[line_bytes];
    const ssize_t n = ::read(input_, bytes, sizeof bytes);
    if (n < 0 && (errno == EINTR || errno == EAGAIN)) return false;
    if (n > 0) {
        take({bytes, static_cast<std::size_t>(n)}, ns, listener);
    } else {
        input_ = -1;
        if (!typed_.empty()) end_line(ns, listener);
    }
    return quits_;
}

void LineFace::take(std::string_view bytes, std::uint64_t ns, Listener& listener) {
    for (const char byte : bytes) {
        if (byte == '\n')
            end_line(ns, listener);
        else if (typed_.size() < line_bytes)
            typed_ += byte;
        else
            too_long_ = true;
    }
}

void LineFace::end_line(std::uint64_t ns, Listener& listener) {
    const std::string typed = std::exchange(typed_, "");
    const std::string_view line = trimmed(typed);
    if (std::exchange(too_long_, false))
        listener.complaint("", fmt::format("a line of more than {} bytes is no command", line_bytes));
    else if (is_word(line, "quit"))
        quits_ = true;
    else
        listener.words(ns, "", line.empty() ? "go" : line);
}

}  // namespace

std::unique_ptr<Face> line_face(int input) {
    return std::make_unique<LineFace>(input);
}

}  // namespace tallow::runtime
