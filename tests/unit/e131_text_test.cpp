#include "runtime/output/e131_text.hpp"

#include <catch2/catch.hpp>

#include "tests/fuzz/mutate.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

using Ranges = std::vector<UniverseRange>;

void require_host(const char* text, const char* name, unsigned port) {
    CAPTURE(text);
    const auto host = parse_host(text);
    REQUIRE(host.ok());
    CHECK(host->name == name);
    CHECK(host->port == port);
}

}  // namespace

TEST_CASE("universes are written singly and as ranges", "[unit][e131]") {
    CHECK(*parse_universes("7") == Ranges{{7, 7}});
    CHECK(*parse_universes("1..400,500") == Ranges{{1, 400}, {500, 500}});
    CHECK(*parse_universes("63999,5..5") == Ranges{{63999, 63999}, {5, 5}});
    for (const char* text : {"",
                             ",",
                             "1,",
                             ",1",
                             "0",
                             "64000",
                             "1..",
                             "..5",
                             "9..8",
                             "1..64000",
                             "1...3",
                             "1-3",
                             "1.3",
                             " 1",
                             "1 ",
                             "+1",
                             "-1",
                             "0x1",
                             "99999999999999999999",
                             "1..2..3"}) {
        CAPTURE(text);
        CHECK_FALSE(parse_universes(text).ok());
    }
    CHECK(parse_universes("1..400,9..8").why() ==
          "`9..8` is neither a universe, 1..63999, nor a range of them; write like `1..400,500`");
}

TEST_CASE("a host is a name or an address, and a port behind it", "[unit][e131]") {
    require_host("node-3", "node-3", 5568);
    require_host("node-3.example:5570", "node-3.example", 5570);
    require_host("10.0.0.7", "10.0.0.7", 5568);
    require_host("10.0.0.7:1", "10.0.0.7", 1);
    require_host("::1", "::1", 5568);
    require_host("fd00::7", "fd00::7", 5568);
    require_host("[fd00::7]", "fd00::7", 5568);
    require_host("[fd00::7]:65535", "fd00::7", 65535);
    require_host("fe80::1%eth0", "fe80::1%eth0", 5568);
    CHECK(parse_host("node", 99)->port == 99);
    for (const char* text : {"", ":", ":5568", "node:", "node:0", "node:65536", "node:x", "[::1", "[::1]5568",
                             "[::1]:", "[]", "[]:5", "a b", "a\tb"}) {
        CAPTURE(text);
        CHECK_FALSE(parse_host(text).ok());
    }
    CHECK_FALSE(parse_host(std::string_view("a\0b", 3)).ok());
    CHECK_FALSE(parse_host(std::string(254, 'a')).ok());
    CHECK(parse_host("node:0").why() ==
          "`node:0` is no host; write one name or address, and a port behind it if need be: `10.0.0.7:5568`, "
          "`[fd00::7]:5568`; for another host give the option again");
}

TEST_CASE("versions of IP are 4, 6 or both", "[unit][e131]") {
    CHECK((parse_ip_versions("4")->v4 && !parse_ip_versions("4")->v6));
    CHECK((!parse_ip_versions("6")->v4 && parse_ip_versions("6")->v6));
    CHECK((parse_ip_versions("both")->v4 && parse_ip_versions("both")->v6));
    CHECK(parse_ip_versions("5").why() == "`5` is no version of IP; write `4`, `6` or `both`");
}

TEST_CASE("spoilt options of E1.31 are read without harm", "[fuzz][e131]") {
    std::size_t taken = 0;
    for (std::uint64_t seed = 0; seed < 5000; ++seed) {
        const auto ranges = parse_universes(test::mutate("1..400,500,7..9", seed));
        if (ranges.ok())
            for (const UniverseRange& r : *ranges) REQUIRE((r.from >= 1 && r.from <= r.to && r.to <= 63999));
        const auto host = parse_host(test::mutate("[fd00::7]:5570", seed));
        if (host.ok()) REQUIRE((!host->name.empty() && host->port > 0));
        taken += ranges.ok() + host.ok();
    }
    CHECK(taken > 0);
}
