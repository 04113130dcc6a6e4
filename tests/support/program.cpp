#include "tests/support/program.hpp"

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include "runtime/files.hpp"
#include "tests/support/stage_network.hpp"

namespace tallow::test {

Program::Program(const std::vector<std::string>& words, std::string log, const std::string& network)
    : log_(std::move(log)) {
    std::vector<char*> arguments;
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    int ends[2];
    REQUIRE(::pipe2(ends, O_CLOEXEC) == 0);
    const int out = ::open(log_.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    REQUIRE(out >= 0);
    {
        const InNetwork there(network);
        child_ = ::fork();
        if (child_ == 0) {
            ::dup2(ends[0], STDIN_FILENO);
            ::dup2(out, STDOUT_FILENO);
            ::dup2(out, STDERR_FILENO);
            ::execvp(arguments[0], arguments.data());
            ::_exit(127);
        }
    }
    REQUIRE(child_ > 0);
    ::close(ends[0]);
    ::close(out);
    input_ = ends[1];
}

Program::~Program() {
    if (!ended_ && !wait(0)) {
        signal(SIGKILL);
        wait();
    }
    ::close(input_);
}

void Program::type(const std::string& line) {
    const std::string text = line + "\n";
    REQUIRE(::write(input_, text.data(), text.size()) == static_cast<ssize_t>(text.size()));
}

void Program::signal(int number) const {
    ::kill(child_, number);
}

std::optional<int> Program::wait(double seconds) {
    comes_true(
        [&] {
            int status = 0;
            if (!ended_ && ::waitpid(child_, &status, WNOHANG) == child_)
                ended_ = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
            return ended_.has_value();
        },
        seconds);
    return ended_;
}

std::string Program::said() const {
    const auto text = runtime::read_file(log_, 1 << 20);
    return text.ok() ? *text : "";
}

bool Program::says(const std::string& words, double seconds) const {
    return comes_true([&] { return said().find(words) != std::string::npos; }, seconds);
}

bool comes_true(const std::function<bool()>& what, double seconds) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds);
    while (!what()) {
        if (std::chrono::steady_clock::now() >= end) return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return true;
}

}  // namespace tallow::test
