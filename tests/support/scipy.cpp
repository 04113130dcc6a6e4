#include "tests/support/scipy.hpp"

#include <catch2/catch.hpp>
#include <cstdio>
#include <sys/wait.h>

namespace tallow::test {

std::string ask_scipy(const std::string& script, const std::string& cases) {
    const std::string command =
        "/usr/bin/python3 " TALLOW_SOURCE_DIR "/tests/reference/" + script + " " + cases;
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe);
    std::string answer;
    for (int c = std::fgetc(pipe); c != EOF; c = std::fgetc(pipe)) answer += static_cast<char>(c);
    const int status = pclose(pipe);
    REQUIRE(WIFEXITED(status));
    if (WEXITSTATUS(status) == 77) return {};
    REQUIRE(WEXITSTATUS(status) == 0);
    return answer;
}

}  // namespace tallow::test
