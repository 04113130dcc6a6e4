#include "tests/fuzz/format_fuzz.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "runtime/files.hpp"
#include "tests/fuzz/mutate.hpp"
#include "tests/fuzz/token_mutate.hpp"
#include "tests/support/random.hpp"

using namespace tallow::test;

namespace {

bool fuzz(std::string_view text) {
    return fuzz_format({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
}

// Signs of word processors, blanks and line ends put in anywhere.
std::string mutate_signs(std::string text, std::uint64_t seed) {
    static const std::string signs[] = {"\u00a0", "\u2013", "\u2014", "\u201c", "\u201d", "\u2026", "\u00d7",
                                        "color ", "\t",     "  ",     "\r\n",   "\r",     "\n\n",   " # x",
                                        "#",      ",",      "(",      ")",      "/",      "-",      "..",
                                        "3-pin",  "1 lm",   "\"",     "xy ",    "wave ",  "\ufeff", "5 %"};
    Random random(seed);
    for (unsigned turns = 1 + random.below(12u); turns > 0; --turns) {
        std::size_t at = random.below(text.size());
        while (at > 0 && (static_cast<unsigned char>(text[at]) & 0xc0) == 0x80) --at;
        text.insert(at, random.one_of(signs));
    }
    return text;
}

}  // namespace

TEST_CASE("formatting changes no atom of any text, and twice is the same as once", "[fuzz][format]") {
    const auto corpus = tallow::runtime::read_file(TALLOW_SOURCE_DIR "/tests/fuzz/corpus.tallow", 1 << 20);
    REQUIRE(corpus.ok());
    REQUIRE(fuzz(*corpus));
    int formatted = 0;
    for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
        INFO("seed " << seed);
        const std::string tokens = mutate_tokens(*corpus, seed);
        for (const std::string& text : {mutate(*corpus, seed), tokens, mutate_signs(tokens, seed)})
            if (fuzz(text)) ++formatted;
    }
    CHECK(formatted > 3000);
    constexpr std::string_view signs = "cue 1..4 50%\n    ,\"#-/()x\r\tfmslm.is";
    for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
        Random random(seed);
        std::string noise(1 + random.below(300u), '\0');
        for (char& c : noise) c = signs[random.below(static_cast<std::uint32_t>(signs.size()))];
        INFO("noise " << seed);
        fuzz(mutate_signs(noise, seed));
    }
}
