// The terminal that the console is shown on. Nothing here waits for it, so that a line that hangs never stops
// the show.
#pragma once

#include <string>
#include <string_view>
#include <termios.h>
#include <vector>

#include "runtime/status.hpp"

namespace tallow::runtime {

class Terminal {
  public:
    struct Size {
        unsigned columns = 80, rows = 24;
        bool operator==(const Size&) const = default;
    };

    Terminal() = default;
    ~Terminal() { leave(); }
    Terminal(const Terminal&) = delete;
    Terminal& operator=(const Terminal&) = delete;

    // Takes the terminal that a descriptor is (standard input, as a rule): keys come one by one and unseen,
    // control keys among them, and drawings go to a screen beside the one with the shell's lines. Fails where
    // it is no terminal, one that can only print lines, or another job's; then all is as it was.
    Status enter(int descriptor);
    // Puts it back as it was; without enter() nothing. Safe in a signal handler; may wait a fifth of a second
    // for a terminal that does not take bytes.
    void leave() noexcept;

    // To wait on for keys; -1 without enter().
    int descriptor() const { return fd_; }
    // Adds the bytes that are there to `keys`. False when the terminal is gone: it is left then, and a show
    // goes on without it.
    bool read(std::string& keys);

    // As it is now: to be asked before each drawing, so that no signal need tell of a change.
    Size size() const;
    // Shows these lines (screen.hpp), each at its row. Writes only what differs from the latest drawing;
    // after a change of size, all. While the terminal has not taken an earlier drawing, nothing: false.
    bool show(const std::vector<std::string>& lines);
    // The next drawing is written whole: when something else has written to the terminal.
    void anew() { shown_.clear(); }
    // Takes the terminal as enter() did; to be called after SIGCONT. While the shell has given it to another
    // job, nothing is read or shown. The player must ignore SIGTSTP, SIGTTIN and SIGTTOU: to be stopped
    // would stop the light.
    void again();

  private:
    bool flush();

    int fd_ = -1;  // opened by enter(): what is set on it concerns nobody else
    termios before_{};
    Size drawn_size_;
    std::vector<std::string> shown_;
    std::string unsent_;  // of the latest drawing
    bool away_ = false;   // with another job
};

}  // namespace tallow::runtime
