// Runs programs as a user would.
#pragma once

#include <string>

namespace tallow::test {

struct Ran {
    int code = -1;    // exit code; -1 when it did not end by itself
    std::string out;  // standard output and standard error
};

// By the shell; standard input is empty.
Ran run(const std::string& command);

// Whether the shell finds the program.
bool installed(const std::string& program);

// Between quotes for the shell.
std::string quoted(const std::string& text);

}  // namespace tallow::test
