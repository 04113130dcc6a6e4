#include "tests/support/command.hpp"

#include <cstdio>
#include <sys/wait.h>

namespace tallow::test {

Ran run(const std::string& command) {
    Ran ran;
    FILE* pipe = ::popen(("( " + command + " ) </dev/null 2>&1").c_str(), "r");
    if (pipe == nullptr) return ran;
    char bytes[65536];
    for (std::size_t n; (n = std::fread(bytes, 1, sizeof bytes, pipe)) > 0;) ran.out.append(bytes, n);
    const int status = ::pclose(pipe);
    if (WIFEXITED(status)) ran.code = WEXITSTATUS(status);
    return ran;
}

bool installed(const std::string& program) {
    return run("command -v " + quoted(program)).code == 0;
}

std::string quoted(const std::string& text) {
    std::string q = "'";
    for (const char c : text) q += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return q + "'";
}

}  // namespace tallow::test
