#include "tests/fuzz/state_fuzz.hpp"

#include <catch2/catch.hpp>

#include "runtime/bytes.hpp"
#include "runtime/control/osc_packet.hpp"
#include "runtime/play/performance.hpp"
#include "runtime/roll/roll_io.hpp"
#include "runtime/survival/state.hpp"
#include "runtime/survival/state_link.hpp"
#include "tests/fuzz/mutate.hpp"
#include "tests/fuzz/state_roll.hpp"
#include "tests/support/random.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

// How the fuzz roll stands in the middle of a show.
std::string standing(std::uint64_t seed) {
    const Roll roll = test::state_roll();
    Performance show(roll, Script{});
    test::Random random(seed);
    Tick t = 0;
    for (int i = 0; i < 6; ++i, t += 1 + random.below(60000u)) {
        const std::string_view words[] = {
            "go", "go side", "submaster 3 40%", "timecode 00:00:09:00", "stop side", "cue 3", "pause"};
        show.obey(*parse_command(words[random.below(7u)], roll), t);
        show.advance(t);
    }
    return write_state({1, 1234567, show.paused(), show.standing()}, roll);
}

// Other numbers and words, line by line: a byte that is flipped makes a line no line.
std::string other_words(std::string text, std::uint64_t seed) {
    test::Random random(seed);
    for (std::uint32_t n = 1 + random.below(4u); n > 0; --n) {
        const std::size_t at = random.below(static_cast<std::uint32_t>(text.size()));
        const std::size_t from = text.find(' ', at);
        if (from == std::string::npos) continue;
        const std::size_t to = std::min(text.find_first_of(" \n", from + 1), text.size());
        const std::string_view words[] = {
            "0",     "1",    "-",    "18446744073709551615", "9223372036854775808",
            "65535", "2000", "1500", "1264896000",           "side"};
        text.replace(from + 1, to - from - 1, words[random.below(10u)]);
    }
    return text;
}

}  // namespace

TEST_CASE("states, spoilt states and noise are played on or refused", "[fuzz][state]") {
    REQUIRE(validate(test::state_roll()).why() == "");
    int read = 0, refused = 0;
    for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
        CAPTURE(seed);
        const std::string intact = standing(seed % 40);
        REQUIRE(test::fuzz_state(as_bytes(intact)));
        bool was_read = false;
        REQUIRE_NOTHROW(was_read = test::fuzz_state(as_bytes(seed % 3 == 0 ? test::mutate(intact, seed)
                                                                           : other_words(intact, seed))));
        (was_read ? read : refused)++;
    }
    CHECK(read > 500);
    CHECK(refused > 500);
}

TEST_CASE("spoilt answers of players that stand by are told or passed over", "[fuzz][state]") {
    std::string base;
    for (const auto how : {StandsBy::for_this_show, StandsBy::another_version, StandsBy::another_show,
                           StandsBy::for_another_player, StandsBy::for_this_show}) {
        const auto bytes = osc_bytes(standing_by(how));
        REQUIRE(bytes.ok());
        base += static_cast<char>(bytes->size());
        base += as_text(*bytes);
    }
    for (std::uint64_t seed = 0; seed < 10000; ++seed) {
        CAPTURE(seed);
        REQUIRE_NOTHROW(test::fuzz_state_answers(as_bytes(test::mutate(base, seed))));
    }
}

TEST_CASE("spoilt packets of states are put together or passed over", "[fuzz][state]") {
    std::string base;
    const auto add = [&](const OscMessage& message) {
        const auto bytes = osc_bytes(message);
        REQUIRE(bytes.ok());
        base += static_cast<char>(bytes->size());
        base += as_text(*bytes);
    };
    for (std::int64_t i = 0; i < 3; ++i)
        add({"/tallow/state",
             {osc_integer(7), osc_integer(i), osc_integer(3), osc_text("some lines"), osc_integer(9)}});
    add({"/tallow/state", {osc_integer(8), osc_integer(0), osc_integer(1), osc_text("all"), osc_integer(9)}});
    add({"/tallow/state/end", {}});
    add({"/tallow/state/end", {osc_text("a secret")}});
    add({"/tallow/state",
         {osc_integer(9), osc_integer(0), osc_integer(1), osc_text("later"), osc_integer(-90000000000)}});
    for (std::uint64_t seed = 0; seed < 10000; ++seed) {
        CAPTURE(seed);
        REQUIRE_NOTHROW(test::fuzz_state_parts(as_bytes(test::mutate(base, seed))));
    }
}
