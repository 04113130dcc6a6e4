// OSC packets against an independent library: npm `osc-min` 2.1.2 (tests/reference/osc).
#include <catch2/catch.hpp>
#include <charconv>
#include <fmt/format.h>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "runtime/control/osc_packet.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/random.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

using Sort = OscArgument::Kind;

bool have_library() {
    const std::string folder = TALLOW_SOURCE_DIR "/tests/reference/osc";
    if (test::installed("node") &&
        test::run(fmt::format("test -d {}", test::quoted(folder + "/node_modules/osc-min"))).code == 0)
        return true;
    WARN(
        "node or its library `osc-min` is not installed (`npm ci` in tests/reference/osc): nothing is "
        "compared");
    return false;
}

// What the library makes of each line.
std::vector<std::string> asked(const std::string& way, const std::vector<std::string>& lines) {
    const std::string path = test::scratch(fmt::format("osc-{}.txt", way));
    std::ofstream file(path);
    for (const std::string& line : lines) file << line << '\n';
    file.close();
    const auto ran = test::run(fmt::format("node {} {} {}",
                                           test::quoted(TALLOW_SOURCE_DIR "/tests/reference/osc/packets.mjs"),
                                           way, test::quoted(path)));
    INFO(ran.out.substr(0, 500));
    REQUIRE(ran.code == 0);
    std::vector<std::string> answers;
    std::istringstream out(ran.out);
    for (std::string line; std::getline(out, line);) answers.push_back(line);
    REQUIRE(answers.size() == lines.size());
    return answers;
}

Bytes from_hex(std::string_view hex) {
    Bytes bytes(hex.size() / 2);
    for (std::size_t i = 0; i < bytes.size(); ++i)
        std::from_chars(hex.data() + 2 * i, hex.data() + 2 * i + 2, bytes[i], 16);
    return bytes;
}

std::string to_hex(const Bytes& bytes) {
    std::string hex;
    for (const std::uint8_t b : bytes) hex += fmt::format("{:02x}", b);
    return hex;
}

std::string letters(test::Random& random) {
    std::string text;
    for (auto n = random.below(12); n > 0; --n) text += static_cast<char>('a' + random.below(26));
    return text;
}

// An argument as osc-min has it, and as we do.
std::string argument(test::Random& random, OscArgument& ours) {
    switch (random.below(5)) {
        case 0:
            ours = osc_integer(static_cast<std::int32_t>(random.bits()));
            return fmt::format(R"({{"type":"integer","value":{}}})", ours.number);
        case 1:  // a float has these exactly
            ours = {Sort::fraction, 3125 * (random.below(20001) - 10000), {}};
            return fmt::format(R"({{"type":"float","value":{}}})", static_cast<double>(ours.number) / 1e5);
        case 2:
            ours = {Sort::fraction, random.below(std::int64_t{200000000001}) - 100000000000, {}};
            return fmt::format(R"({{"type":"double","value":{}}})", static_cast<double>(ours.number) / 1e5);
        case 3:
            ours = osc_text(letters(random));
            return fmt::format(R"({{"type":"string","value":"{}"}})", ours.text);
        default:
            ours = {Sort::truth, random.below(2), {}};
            return fmt::format(R"({{"type":"{}"}})", ours.number != 0);
    }
}

std::string message(test::Random& random, std::vector<OscMessage>& ours) {
    OscMessage& m = ours.emplace_back();
    m.address = fmt::format("/{}", letters(random));
    std::string arguments;
    for (auto n = random.below(6); n > 0; --n)
        arguments.append(arguments.empty() ? "" : ",").append(argument(random, m.arguments.emplace_back()));
    return fmt::format(R"({{"address":"{}","args":[{}]}})", m.address, arguments);
}

std::string packet(test::Random& random, std::vector<OscMessage>& ours, unsigned depth = 0) {
    if (depth == osc_depth || !random.one_in(3)) return message(random, ours);
    std::string elements;
    for (auto n = random.below(4); n > 0; --n)
        elements.append(elements.empty() ? "" : ",").append(packet(random, ours, depth + 1));
    return fmt::format(R"({{"oscType":"bundle","timetag":[{},1],"elements":[{}]}})", random.below(1000),
                       elements);
}

}  // namespace

TEST_CASE("OSC packets that another library writes are read as it meant them", "[reference][osc][library]") {
    if (!have_library()) return;
    test::Random random(5);
    std::vector<std::string> lines;
    std::vector<std::vector<OscMessage>> ours;
    for (int n = 0; n < 300; ++n) lines.push_back(packet(random, ours.emplace_back()));
    const auto packets = asked("write", lines);
    for (std::size_t n = 0; n < lines.size(); ++n) {
        INFO(lines[n]);
        const auto read = read_osc(from_hex(packets[n]));
        INFO(read.why());
        REQUIRE(read.ok());
        CHECK((*read == ours[n]));
    }
}

TEST_CASE("OSC messages are read by another library as they were meant", "[reference][osc][library]") {
    if (!have_library()) return;
    test::Random random(6);
    std::vector<std::string> lines, meant;
    for (int n = 0; n < 300; ++n) {
        OscMessage m{fmt::format("/a{}", letters(random)), {}};
        std::string& text = meant.emplace_back(m.address);
        for (auto more = random.below(6); more > 0; --more) {
            if (random.one_in(2)) {
                m.arguments.push_back(osc_text(fmt::format("b{}", letters(random))));
                text.append(" string ").append(m.arguments.back().text);
            } else {
                const bool small = random.one_in(2);
                m.arguments.push_back(
                    osc_integer(static_cast<std::int64_t>(random.bits()) >> (small ? 33 : 1)));
                text += fmt::format(" {} {}", small ? "integer" : "bigint", m.arguments.back().number);
            }
        }
        lines.push_back(to_hex(*osc_bytes(m)));
    }
    CHECK(asked("read", lines) == meant);
}
