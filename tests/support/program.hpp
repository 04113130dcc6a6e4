// A program that runs beside the test: typed to, signalled, killed, listened to.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <sys/types.h>
#include <vector>

namespace tallow::test {

class Program {
  public:
    // Begins it, in a network namespace where one is named. What it says goes to the file `log`.
    Program(const std::vector<std::string>& words, std::string log, const std::string& network = "");
    // Kills it, if it has not ended.
    ~Program();
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;

    void type(const std::string& line);
    void signal(int number) const;
    // The exit code, or minus the signal that ended it; nothing if it goes on.
    std::optional<int> wait(double seconds = 10);
    // All that it has said.
    std::string said() const;
    bool says(const std::string& words, double seconds = 10) const;

  private:
    std::string log_;
    pid_t child_ = -1;
    int input_ = -1;
    std::optional<int> ended_;
};

// Waits until something is true; false when it is not in that time.
bool comes_true(const std::function<bool()>& what, double seconds = 10);

}  // namespace tallow::test
