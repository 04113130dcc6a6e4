// Checking a show against reading as many bytes of JSON into a tree; checking one of unlike fixtures and many
// palettes against the second that is wanted.
#include <cstdio>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "compiler/command/compilation.hpp"
#include "tests/bench/bench.hpp"
#include "tests/support/large_show.hpp"
#include "tests/support/random.hpp"
#include "tests/support/unlike_show.hpp"

namespace tallow::bench {
namespace {

constexpr double wanted_seconds = 1;

// An array of small objects, as a show file kept in JSON would be: at least `bytes` long.
std::string json_objects(std::size_t bytes, std::uint64_t seed) {
    test::Random random(seed);
    std::string text = "[";
    while (text.size() < bytes)
        text += fmt::format("{}\n{{\"cue\": {}, \"fixture\": \"bar-{}\", \"level\": {}, \"fade\": {}}}",
                            text.size() > 1 ? "," : "", random.below(10000), random.below(100),
                            random.below(101), random.below(9));
    return text + "]";
}

// What checking a show takes; 0, and why on standard error, where it has errors.
double check_seconds(const std::string& show) {
    const show::ReadFile read = [&](const std::string&) { return runtime::Result<std::string>(show); };
    if (const auto compiled = command::compile("large.tallow", read); (*compiled)->failed()) {
        fmt::print(stderr, "the large show has errors:\n{}",
                   source::render((*compiled)->sink.sorted().front(), (*compiled)->sources));
        return 0;
    }
    return seconds([&] { (void)command::compile("large.tallow", read); });
}

}  // namespace

std::vector<Row> check_rows() {
    const std::string show = test::large_show(100'000, 1);
    const std::string json = json_objects(show.size(), 1);
    const double ours = check_seconds(show), palettes = check_seconds(test::unlike_show(1));
    std::size_t kept = 0;  // so that the tree is made
    const double theirs = seconds([&] { kept += nlohmann::json::parse(json).size(); });
    if (kept == 0 || ours == 0 || palettes == 0) return {};
    return {{"check a show of 100 000 lines", "s", ours, theirs, Row::Goal::at_most, 1.0},
            {"check 2 000 fixtures of 10 types, 500 palettes", "s", palettes, wanted_seconds,
             Row::Goal::at_most, 1.0}};
}

}  // namespace tallow::bench
