// A program that runs beside the test: lines to it, lines from it, signals, a terminal.
#pragma once

#include <string>
#include <sys/types.h>
#include <vector>

namespace tallow::test {

class Running {
  public:
    enum class Desk { pipes, terminal };
    // Started by its path, with arguments. What it says on standard output and standard error is kept. On a
    // terminal of its own (80 by 24) that it leads, if that is asked for. REQUIREs that it starts.
    explicit Running(const std::vector<std::string>& command, Desk desk = Desk::pipes);
    // Kills it where it runs still.
    ~Running();
    Running(const Running&) = delete;
    Running& operator=(const Running&) = delete;

    void type(const std::string& text);
    // No more input, or the terminal goes away.
    void close_input();
    // Whether it says this, from where the last call found something, within ten seconds.
    bool says(const std::string& text);
    void signal(int number);
    // Its exit code, or minus the signal that ended it. Fails the test where it takes more than ten seconds.
    int finish();
    const std::string& out() const { return out_; }

  private:
    bool read_some(int ms);

    pid_t pid_ = -1;
    int to_ = -1, from_ = -1;
    std::string out_;
    std::size_t looked_ = 0;
};

}  // namespace tallow::test
