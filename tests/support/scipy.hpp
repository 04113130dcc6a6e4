// Scripts of the tests that compute with scipy.
#pragma once

#include <string>

namespace tallow::test {

// What a script of tests/reference prints for a file of cases, a JSON object a line; empty where scipy is not
// installed (the script exits with 77). Any other failure of it fails the test.
std::string ask_scipy(const std::string& script, const std::string& cases);

}  // namespace tallow::test
