#include <cerrno>
#include <cstdio>
#include <fmt/format.h>
#include <poll.h>
#include <string>
#include <unistd.h>

#include "runtime/control/face.hpp"

namespace tallow::runtime {
namespace {

constexpr std::size_t line_bytes = 4096;  // what is longer is no command, and not kept

std::string_view trimmed(std::string_view line) {
    const std::size_t begin = line.find_first_not_of(" \t\r");
    if (begin == std::string_view::npos) return {};
    return line.substr(begin, line.find_last_not_of(" \t\r") - begin + 1);
}

class LineFace : public Face {
  public:
    explicit LineFace(int input) : input_(input) {}

    int descriptor() const override { return input_; }
    bool read(std::uint64_t ns, Listener& listener) override;
    void say(std::string_view line) override {
        fmt::print("{}\n", line);
        std::fflush(stdout);
    }
    void show(const View&) override {}

  private:
    bool obey(std::uint64_t ns, std::string_view line, Listener& listener);

    int input_;
    std::string typed_;  // of a line that has not ended
};

bool LineFace::read(std::uint64_t ns, Listener& listener) {
    pollfd poll{input_, POLLIN, 0};
    if (input_ < 0 || ::poll(&poll, 1, 0) <= 0) return false;
    char bytes[line_bytes];
    const ssize_t n = ::read(input_, bytes, sizeof bytes);
    if (n < 0 && (errno == EINTR || errno == EAGAIN)) return false;
    if (n <= 0) {
        input_ = -1;
        return !typed_.empty() && obey(ns, typed_, listener);
    }
    typed_.append(bytes, static_cast<std::size_t>(n));
    bool ends = false;
    for (std::size_t end; (end = typed_.find('\n')) != std::string::npos; typed_.erase(0, end + 1))
        ends = obey(ns, std::string_view(typed_).substr(0, end), listener) || ends;
    if (typed_.size() > line_bytes) typed_.clear();
    return ends;
}

bool LineFace::obey(std::uint64_t ns, std::string_view line, Listener& listener) {
    line = trimmed(line);
    if (line == "quit") return true;
    listener.words(ns, "", line.empty() ? "go" : line);
    return false;
}

}  // namespace

std::unique_ptr<Face> line_face(int input) {
    return std::make_unique<LineFace>(input);
}

}  // namespace tallow::runtime
