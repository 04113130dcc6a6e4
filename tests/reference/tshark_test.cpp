// What tallow-play captures, read by an independent dissector: tshark (Debian package of that name; its ACN
// dissector is off by default). It checks the IPv4 and UDP checksums too.
#include <catch2/catch.hpp>
#include <map>
#include <sstream>

#include "runtime/output/e131_output.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using test::quoted;

namespace {

constexpr const char* cid = "7b3f6c1e-58a2-4d0f-9c35-0123456789ab";

struct Packet {
    double time = 0;
    std::string lengths, cid, name, priority, options, count, start_code, checksums;
    std::string synchronization, to;
    unsigned sequence = 0, universe = 0;
    std::string slots;  // hexadecimal
};

// What a capture holds: data packets, and in hexadecimal what tshark 4.0 does not dissect any further.
struct Capture {
    std::vector<Packet> data;
    std::vector<std::string> others;
};

std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> fields;
    std::istringstream in(line + "|");
    for (std::string field; std::getline(in, field, '|');) fields.push_back(field);
    return fields;
}

Packet data_packet(const std::vector<std::string>& f) {
    return {std::stod(f[0]),
            f[1],
            f[2],
            f[3],
            f[4],
            f[6],
            f[8],
            f[9],
            f[10] + "," + f[11],
            f[12],
            f[13] + f[14],
            static_cast<unsigned>(std::stoul(f[5])),
            static_cast<unsigned>(std::stoul(f[7])),
            f[15].substr(2 * 126)};
}

Capture dissected(const std::string& path) {
    const auto ran = test::run(
        "tshark --enable-heuristic acn -o acn.dmx_enable:TRUE -o ip.check_checksum:TRUE -o "
        "udp.check_checksum:TRUE -r " +
        quoted(path) +
        " -T fields -E separator='|' -e frame.time_epoch -e acn.pdu.length -e acn.cid -e acn.dmx.source_name"
        " -e acn.dmx.priority -e acn.dmx.seq_number -e acn.dmx.options -e acn.dmx.universe -e acn.dmx.count"
        " -e acn.dmx.start_code2 -e ip.checksum.status -e udp.checksum.status -e acn.dmx.reserved"
        " -e ip.dst -e ipv6.dst -e udp.payload 2>/dev/null");
    Capture capture;
    std::istringstream lines(ran.out);
    for (std::string line; std::getline(lines, line);) {
        const auto f = split(line);
        if (f.size() < 16) continue;
        if (f[7].empty())
            capture.others.push_back(f[13] + f[14] + " " + f[11] + " " + f[15]);
        else
            capture.data.push_back(data_packet(f));
    }
    return capture;
}

std::string hex(std::span<const std::uint8_t> bytes) {
    return test::hex_slots({bytes.begin(), bytes.end()}, 0, bytes.size()).substr(0, 2 * bytes.size());
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

    const auto packets = dissected(capture).data;
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

TEST_CASE("tshark reads synchronized packets over IPv4 and IPv6 in a capture", "[reference][e131]") {
    if (!test::installed("tshark")) {
        WARN("tshark is not installed: the capture is not checked by a dissector");
        return;
    }
    using namespace runtime;
    E131Options options;
    options.source.cid = *parse_cid(cid);
    options.source.priority = 0;
    options.source.preview = true;
    options.source.synchronization = 1001;
    options.source.force_synchronization = true;
    options.versions = {.v4 = true, .v6 = true};
    const std::vector<Universe> universes{{1, 2}, {0x1234, 2}};
    const Bytes one{1, 2}, two{3, 4};
    const std::vector<std::span<const std::uint8_t>> slots{one, two};
    const std::string path = test::scratch("tshark_v6.pcap");
    const auto capture = e131_capture(options, path, universes, 40);
    REQUIRE(capture.ok());
    auto output = capture->open();
    REQUIRE(output.ok());
    for (std::uint64_t n = 0; n < 5; ++n)
        REQUIRE((*output)->frame({n, slots}).ok());  // the fifth sends nothing
    for (std::uint64_t n = 5; n < 8; ++n) REQUIRE((*output)->end(n).ok());
    REQUIRE((*output)->finish().ok());

    const Capture read = dissected(path);
    REQUIRE(read.data.size() == (4 + 3) * 2 * 2);
    const std::string groups[]{"239.255.0.1", "ff18::8300:1", "239.255.18.52", "ff18::8300:1234"};
    for (std::size_t i = 0; i < read.data.size(); ++i) {
        const Packet& p = read.data[i];
        CAPTURE(i);
        const std::size_t round = i / 4;
        REQUIRE(p.to == groups[i % 4]);
        REQUIRE(p.checksums == (i % 2 == 0 ? "1,1" : ",1"));
        REQUIRE(p.lengths == "622,600,523");
        REQUIRE(p.priority == "0");
        REQUIRE(std::stoul(p.synchronization, nullptr, 0) == 1001);
        REQUIRE(std::stoul(p.options, nullptr, 0) == (round < 4 ? 0xa0 : 0xe0));
        REQUIRE(p.sequence == round);
        REQUIRE(p.universe == (i % 4 < 2 ? 1 : 0x1234));
        REQUIRE(p.slots.substr(0, 6) == (i % 4 < 2 ? "010200" : "030400"));
    }

    std::vector<std::string> others;
    E131SyncPacket sync(options.source);
    const auto pages = e131_discovery(options.source, {1, 1001, 0x1234});
    for (int n = 0; n < 4; ++n) {
        const std::string bytes = " 1 " + hex(sync.next());
        others.insert(others.end(), {"239.255.3.233" + bytes, "ff18::8300:3e9" + bytes});
        if (n > 0) continue;
        const std::string page = " 1 " + hex(pages.at(0));
        others.insert(others.end(), {"239.255.250.214" + page, "ff18::8300:fad6" + page});
    }
    CHECK(read.others == others);
}
