// A show and the ways to put it on its first desk, and what the real engine plays before and after.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "compiler/command/compilation.hpp"
#include "compiler/fit/ways.hpp"
#include "tests/support/random.hpp"

namespace tallow::test {

// The files of a show by their paths; the first one is `main.tallow`.
using Files = std::map<std::string, std::string>;

std::unique_ptr<command::Compilation> compile_files(const Files& files);

struct FitShow {
    explicit FitShow(Files all);
    explicit FitShow(const std::string& text) : FitShow(Files{{"main.tallow", text}}) {}

    // The patch lines of a way, and the show with them in place of its own.
    std::string patch(std::size_t way) const;
    Files with_patch(std::size_t way) const;
    // Of the ways without loss the one with the fewest channels.
    const fit::Way& best() const { return ways.at(0); }
    // Whether the fixtures, such as `front 1`, share an address in the best way without loss.
    bool ganged(const std::string& a, const std::string& b) const;
    // The mode of a fixture in that way.
    std::string mode(const std::string& fixture) const;

    Files files;
    std::unique_ptr<command::Compilation> compiled;
    std::unique_ptr<fit::Tester> tester;
    std::vector<fit::Way> ways;
};

// Plays both, with GOs, submasters and the grand master by a random script, and looks at every fixture's
// light many times, by the words of the two texts. Empty where it is the same at all times, else what differs
// first.
std::string play_both(const Files& before, const Files& after, std::uint64_t seed);

}  // namespace tallow::test
