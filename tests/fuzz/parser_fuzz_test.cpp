#include "tests/fuzz/parser_fuzz.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>

#include "runtime/bytes.hpp"
#include "tests/fuzz/mutate.hpp"
#include "tests/suite/section.hpp"

using namespace tallow;
using test::Random;

namespace {

std::vector<std::string> seeds() {
    std::vector<std::string> all;
    for (const auto& suite : test::read_suites())
        for (const auto& section : suite.sections) {
            const std::string text = test::expand(section.files.front().text);
            if (text.size() < 8192) all.push_back(text);
        }
    return all;
}

// The words of a text, with the blanks and line ends before them.
std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> words;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t word = std::min(text.find_first_not_of(" \n", at), text.size());
        const std::size_t end = std::min(text.find_first_of(" \n", word), text.size());
        words.push_back(text.substr(at, end - at));
        at = end;
    }
    return words;
}

// One to four words swapped, dropped, doubled, or taken from another text.
std::string shuffle_words(const std::string& base, const std::string& other, std::uint64_t seed) {
    Random random(seed);
    std::vector<std::string> words = words_of(base);
    const std::vector<std::string> foreign = words_of(other);
    for (std::uint64_t turns = 1 + random.below(4); turns > 0 && !words.empty() && !foreign.empty();
         --turns) {
        const auto at = words.begin() + static_cast<std::ptrdiff_t>(random.below(words.size()));
        switch (random.below(4)) {
            case 0:
                std::swap(*at, words[random.below(words.size())]);
                break;
            case 1:
                words.erase(at);
                break;
            case 2:
                words.insert(at, std::string(*at));
                break;
            default:
                *at = foreign[random.below(foreign.size())];
        }
    }
    std::string text;
    for (const std::string& word : words) text += word;
    return text;
}

std::string random_bytes(std::uint64_t seed) {
    Random random(seed);
    static constexpr std::string_view likely = " \n\t\"#%.,/()-0159abcue";
    std::string text(random.below(400), ' ');
    for (char& c : text) c = random.one_in(4) ? static_cast<char>(random.bits()) : random.one_of(likely);
    return text;
}

// How many of each kind; TALLOW_FUZZ_INPUTS asks for more by hand.
std::uint64_t inputs() {
    const char* more = std::getenv("TALLOW_FUZZ_INPUTS");
    return more == nullptr ? 1000 : std::strtoull(more, nullptr, 10);
}

}  // namespace

TEST_CASE("random bytes are compiled without harm", "[fuzz][parser]") {
    for (std::uint64_t seed = 0; seed < inputs(); ++seed) {
        CAPTURE(seed);
        REQUIRE_NOTHROW(test::fuzz_parser(runtime::as_bytes(random_bytes(seed))));
    }
}

TEST_CASE("spoilt shows are compiled without harm", "[fuzz][parser]") {
    const std::vector<std::string> all = seeds();
    std::uint64_t clean = 0;
    for (std::uint64_t seed = 0; seed < inputs(); ++seed) {
        const std::string& base = all[seed % all.size()];
        const std::string text = seed % 2 == 0 ? test::mutate(base, seed)
                                               : shuffle_words(base, all[seed * 7919 % all.size()], seed);
        CAPTURE(seed, text);
        REQUIRE_NOTHROW(clean += test::fuzz_parser(runtime::as_bytes(text)));
    }
    CHECK(clean > inputs() / 50);  // enough of them reach the roll and the engine
}
