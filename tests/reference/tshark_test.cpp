// What tallow-play captures, read by an independent dissector: tshark (Debian package of that name; its ACN
// dissector is off by default). It checks the IPv4 and UDP checksums too.
#include <catch2/catch.hpp>
#include <map>
#include <sstream>

#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using test::quoted;

namespace {

constexpr const char* cid = "7b3f6c1e-58a2-4d0f-9c35-0123456789ab";

struct Packet {
    double time = 0;
    std::string lengths, cid, name, priority, options, count, start_code, checksums;
    unsigned sequence = 0, universe = 0;
    std::string slots;  // hexadecimal
};

std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> fields;
    std::istringstream in(line + "|");
    for (std::string field; std::getline(in, field, '|');) fields.push_back(field);
    return fields;
}

std::vector<Packet> dissected(const std::string& path) {
    const auto ran = test::run(
        "tshark --enable-heuristic acn -o acn.dmx_enable:TRUE -o ip.check_checksum:TRUE -o "
        "udp.check_checksum:TRUE -r " +
        quoted(path) +
        " -T fields -E separator='|' -e frame.time_epoch -e acn.pdu.length -e acn.cid -e acn.dmx.source_name"
        " -e acn.dmx.priority -e acn.dmx.seq_number -e acn.dmx.options -e acn.dmx.universe -e acn.dmx.count"
        " -e acn.dmx.start_code2 -e ip.checksum.status -e udp.checksum.status -e udp.payload 2>/dev/null");
    std::vector<Packet> packets;
    std::istringstream lines(ran.out);
    for (std::string line; std::getline(lines, line);) {
        const auto f = split(line);
        if (f.size() < 13) continue;
        packets.push_back({std::stod(f[0]), f[1], f[2], f[3], f[4], f[6], f[8], f[9], f[10] + "," + f[11],
                           static_cast<unsigned>(std::stoul(f[5])), static_cast<unsigned>(std::stoul(f[7])),
                           f[12].substr(2 * 126)});
    }
    return packets;
}

}  // namespace

TEST_CASE("tshark reads in a capture what the frames file holds", "[reference][e131][play]") {
    if (!test::installed("tshark")) {
        WARN("tshark is not installed: the capture is not checked by a dissector");
        return;
    }
    const auto show = test::made_show(21, {{1, 512}, {300, 40}}, 400);
    const std::string frames = test::scratch("tshark.frames"), capture = test::scratch("tshark.pcap");
    test::write_made(show, frames);
    const auto ran =
        test::run(quoted(TALLOW_PLAY_COMMAND) + " " + quoted(frames) + " --fast --capture " +
                  quoted(capture) + " --cid " + cid + " --priority 150 --source-name 'Winter ferry'");
    INFO(ran.out);
    REQUIRE(ran.code == 0);

    const auto packets = dissected(capture);
    REQUIRE(packets.size() > 2 * 100);
    std::map<unsigned, unsigned> seen;
    std::map<unsigned, std::size_t> ends;
    std::vector<std::vector<const Packet*>> of_frame(show.frames.size());
    for (const Packet& p : packets) {
        REQUIRE(p.lengths == "622,600,523");
        REQUIRE(p.cid == cid);
        REQUIRE(p.name == "Winter ferry");
        REQUIRE(p.priority == "150");
        REQUIRE(std::stoul(p.count, nullptr, 0) == 513);
        REQUIRE(std::stoul(p.start_code, nullptr, 0) == 0);
        REQUIRE(p.checksums == "1,1");  // both good
        REQUIRE((p.universe == 1 || p.universe == 300));
        REQUIRE(p.sequence == seen[p.universe]++ % 256);
        const auto n = static_cast<std::size_t>(p.time * 40 + .5);
        const bool last = std::stoul(p.options, nullptr, 0) == 0x40;
        REQUIRE(last == (n >= show.frames.size()));
        if (last) ++ends[p.universe];
        if (!last) of_frame[n].push_back(&p);
    }
    CHECK(ends == std::map<unsigned, std::size_t>{{1, 3}, {300, 3}});

    // A receiver that keeps each universe's last packet sees every frame.
    std::map<unsigned, std::string> held;
    for (std::size_t n = 0; n < show.frames.size(); ++n) {
        for (const Packet* p : of_frame[n]) held[p->universe] = p->slots;
        REQUIRE(held[1] == test::hex_slots(show.frames[n], 0, 512));
        REQUIRE(held[300] == test::hex_slots(show.frames[n], 512, 40));
    }
}

TEST_CASE("the same play with the same identifier gives the same capture", "[reference][play]") {
    const std::string frames = test::scratch("same.frames");
    test::write_made(test::made_show(22, {{1, 512}}, 100), frames);
    const std::string play =
        quoted(TALLOW_PLAY_COMMAND) + " " + quoted(frames) + " --fast --cid " + cid + " --capture ";
    const std::string a = test::scratch("same_a.pcap"), b = test::scratch("same_b.pcap");
    REQUIRE(test::run(play + quoted(a) + " && " + play + quoted(b)).code == 0);
    CHECK(test::run("cmp " + quoted(a) + " " + quoted(b)).code == 0);
}
