// Reads the command line of a program, and says in its own words what is mistaken in it.
#pragma once

#include <functional>
#include <optional>
#include <string>

namespace CLI {
class App;
}

namespace tallow::runtime {

// Nothing: all was read. Else the program ends with this exit code: 0 after the help or the version, 2 after
// a mistake. That is told on standard error under the name of `app`, on two lines; the second one says where
// the help is. Of several mistakes the first is told that explains the others. The callbacks of `app` are
// called only where all was read.
std::optional<int> read_command_line(CLI::App& app, int argc, char** argv);

// For an option that is a whole number: takes `low` to `high`, in decimal digits.
std::function<std::string(const std::string&)> whole_number(unsigned low, unsigned high);

}  // namespace tallow::runtime
