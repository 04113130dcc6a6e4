// States on their way to a player that stands by.
#include "runtime/survival/state_link.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <poll.h>
#include <unistd.h>

#include "tests/support/loopback.hpp"
#include "tests/support/program.hpp"
#include "tests/support/random.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

// A hearer on a free port of this machine, and senders to it.
struct Link {
    explicit Link(const std::string& secret = "") {
        auto socket = OscSocket::open({}, secret);
        INFO(socket.why());
        REQUIRE(socket.ok());
        hearer.emplace(std::move(*socket));
    }
    Host host() const {
        const std::string& at = hearer->address();
        return {"127.0.0.1", static_cast<std::uint16_t>(std::stoi(at.substr(at.rfind(':') + 1)))};
    }
    std::unique_ptr<StateSender> sender(const std::string& secret = "") const {
        auto opened = StateSender::open({host()}, secret);
        REQUIRE(opened.ok());
        return std::move(*opened);
    }
    std::vector<HeardState> hear_all() {
        pollfd poll{hearer->descriptor(), POLLIN, 0};
        REQUIRE(::poll(&poll, 1, 1000) == 1);
        return hearer->read();
    }
    // Of the only one that tells.
    HeardState hear() {
        const auto all = hear_all();
        REQUIRE(all.size() == 1);
        return all[0];
    }
    std::optional<StateHearer> hearer;
};

std::string text_of(std::size_t bytes, std::uint64_t seed = 1) {
    test::Random random(seed);
    std::string text(bytes, ' ');
    for (char& c : text) c = "0123456789 -\nlist"[random.below(17u)];
    return text;
}

// The parts of a text as messages.
std::vector<OscMessage> parts_of(std::int64_t id, const std::vector<std::string>& texts) {
    std::vector<OscMessage> parts;
    for (std::size_t i = 0; i < texts.size(); ++i)
        parts.push_back(
            {"/tallow/state",
             {osc_integer(id), osc_integer(static_cast<std::int64_t>(i)),
              osc_integer(static_cast<std::int64_t>(texts.size())), osc_text(texts[i]), osc_integer(7)}});
    return parts;
}

}  // namespace

TEST_CASE("a state of any length comes as it was sent", "[unit][state]") {
    Link link;
    const auto sender = link.sender();
    for (const std::size_t bytes : {std::size_t{1}, state_part_bytes - 1, state_part_bytes,
                                    state_part_bytes + 1, state_parts_at_once * state_part_bytes}) {
        const std::string text = text_of(bytes, bytes);
        sender->send(text, 0, 0);
        const HeardState heard = link.hear();
        CHECK(heard.text == text);
        CHECK(heard.from.substr(0, 10) == "127.0.0.1:");
        CHECK(heard.complaint.empty());
        CHECK_FALSE(heard.ended);
    }
    // Letters of several bytes may be cut between two parts.
    std::string letters;
    while (letters.size() < 2 * state_part_bytes) letters += "ü灯";
    sender->send(letters, 0, 0);
    CHECK(link.hear().text == letters);
}

TEST_CASE("a host that is not found is told of, and the others hear the states all the same",
          "[unit][state]") {
    Link link;
    const auto sender = StateSender::open({{"no.such.host.invalid", 7701}, link.host()}, "");
    REQUIRE(sender.ok());
    (*sender)->send("a state", 0, 0);
    CHECK(link.hear().text == "a state");
    CHECK((*sender)->trouble().find("cannot find host `no.such.host.invalid`") == 0);
}

TEST_CASE("a host that is found later is told from then on", "[unit][state]") {
    Link link;
    std::atomic<bool> there = false;
    const auto find = [&](const Host& host) -> Result<SocketAddress> {
        if (!there) return Status::failure("cannot find host `lantern`: no such name");
        return find_host({"127.0.0.1", host.port}, {true, true});
    };
    const auto sender = StateSender::open({{"lantern", link.host().port}}, "", find,
                                          {std::chrono::milliseconds(1), std::chrono::milliseconds(1)});
    REQUIRE(sender.ok());
    (*sender)->send("a state", 0, 0);
    CHECK((*sender)->trouble() == "cannot find host `lantern`: no such name; it is looked up again");
    (*sender)->each_backup([](const Backup&) { FAIL("nobody is there who could be told"); });
    there = true;
    REQUIRE(test::comes_true([&] {
        (*sender)->send("a later state", 0, 5);
        return (*sender)->trouble().empty();
    }));
    CHECK(link.hear().text == "a later state");
    std::string line;
    (*sender)->each_backup([&](const Backup& backup) { line = backup.line(no_answer_ns + 6); });
    CHECK(line ==
          "nobody stands by at lantern port " + std::to_string(link.host().port) + ": nothing answers");
}

TEST_CASE("a long state goes bit by bit, as sockets have no room for all of it", "[unit][state]") {
    Link link;
    const auto sender = link.sender();
    const std::string text = text_of(state_parts * state_part_bytes);
    for (std::size_t sent = state_parts_at_once; sent < state_parts; sent += state_parts_at_once) {
        sender->send(sent == state_parts_at_once ? text : "another one meanwhile", 0, 0);
        CHECK_FALSE(link.hear().text);
    }
    sender->send("another one meanwhile", 0, 0);
    CHECK(link.hear().text == text);
    sender->send("the next one", 0, 0);
    CHECK(link.hear().text == "the next one");
}

TEST_CASE("of many states that wait the last is taken", "[unit][state]") {
    Link link;
    const auto sender = link.sender();
    for (int i = 0; i < 20; ++i) sender->send("state " + std::to_string(i), 0, 0);
    CHECK(link.hear().text == "state 19");
}

TEST_CASE("a state comes with the time for which the show has stood so", "[unit][state]") {
    Link link;
    const auto sender = link.sender();
    sender->send("a", 5000000, 5025999);
    CHECK(link.hear().age_ns == 25000);
    // Of a long one, until its last part has gone.
    const std::string text = text_of(2 * state_parts_at_once * state_part_bytes);
    sender->send(text, 0, 1000);
    CHECK_FALSE(link.hear().text);
    sender->send(text, 50000, 51000);
    CHECK(link.hear().age_ns == 51000);
}

TEST_CASE("an end in order is the end, though a state came just before", "[unit][state]") {
    Link link;
    const auto sender = link.sender();
    sender->send("the last state", 0, 0);
    sender->end();
    const HeardState heard = link.hear();
    CHECK(heard.ended);
    CHECK_FALSE(heard.text);
    sender->end();
    sender->send("it was started again", 0, 0);
    const HeardState again = link.hear();
    CHECK_FALSE(again.ended);
    CHECK(again.text == "it was started again");
}

TEST_CASE("parts may come in any order, twice, or not at all", "[unit][state]") {
    StateParts parts;
    HeardState heard;
    const auto one = parts_of(1, {"a", "b", "c"}), two = parts_of(2, {"d", "e", "f"});
    parts.take(one[2], heard);
    parts.take(one[0], heard);
    parts.take(one[0], heard);
    CHECK_FALSE(heard.text);
    parts.take(one[1], heard);
    CHECK(heard.text == "abc");
    heard = {};
    parts.take(two[0], heard);  // its second part is lost, the next state is whole
    parts.take(two[2], heard);
    for (const OscMessage& part : parts_of(3, {"g", "h"})) parts.take(part, heard);
    CHECK(heard.text == "gh");
    heard = {};
    parts.take(two[1], heard);  // late, and alone
    CHECK_FALSE(heard.text);
    CHECK(heard.complaint.empty());
}

TEST_CASE("what is no part of a state is complained of, and harms none", "[unit][state]") {
    const auto good = parts_of(5, {"a", "b"});
    const std::vector<OscMessage> bad = {
        {"/tallow/go", {}},
        {"/tallow/state", {}},
        {"/tallow/state", {osc_integer(5), osc_integer(0), osc_integer(2)}},
        {"/tallow/state", {osc_integer(5), osc_integer(2), osc_integer(2), osc_text("x"), osc_integer(0)}},
        {"/tallow/state", {osc_integer(5), osc_integer(-1), osc_integer(2), osc_text("x"), osc_integer(0)}},
        {"/tallow/state", {osc_integer(5), osc_integer(0), osc_integer(0), osc_text("x"), osc_integer(0)}},
        {"/tallow/state", {osc_integer(5), osc_integer(0), osc_integer(65), osc_text("x"), osc_integer(0)}},
        {"/tallow/state",
         {osc_integer(5), osc_integer(0), osc_integer(std::int64_t{1} << 40), osc_text("x"), osc_integer(0)}},
        {"/tallow/state", {osc_text("5"), osc_integer(0), osc_integer(2), osc_text("x"), osc_integer(0)}},
        {"/tallow/state", {osc_integer(5), osc_integer(0), osc_integer(2), osc_integer(1), osc_integer(0)}},
        {"/tallow/state", {osc_integer(5), osc_integer(0), osc_integer(2), osc_text("x")}},
        {"/tallow/state",
         {osc_integer(5), osc_integer(0), osc_integer(2), osc_text("x"), osc_integer(std::int64_t{1} << 40)}},
        {"/tallow/state",
         {osc_integer(5), osc_integer(0), osc_integer(2), osc_text("x"), osc_integer(-90000000001)}},
        {"/tallow/state/end", {osc_integer(5)}},
        {"/tallow/state/end/", {}},
    };
    for (std::size_t i = 0; i < bad.size(); ++i) {
        CAPTURE(i);
        StateParts parts;
        HeardState heard;
        parts.take(good[0], heard);
        parts.take(bad[i], heard);
        CHECK(heard.complaint ==
              "an OSC message that is no state of a show; commands go to the port of `--osc`");
        parts.take(good[1], heard);
        CHECK(heard.text == "ab");
    }
}

TEST_CASE("without the secret neither a state nor an end is believed", "[unit][state]") {
    Link link("rosebud");
    const auto stranger = link.sender("rosebug"), nobody = link.sender(), friendly = link.sender("rosebud");
    stranger->send("a lie", 0, 0);
    stranger->end();
    nobody->send("a lie", 0, 0);
    nobody->end();
    const auto all = link.hear_all();
    CHECK(all.size() == 2);
    for (const HeardState& lies : all) {
        CHECK_FALSE(lies.text);
        CHECK_FALSE(lies.ended);
        CHECK_THAT(lies.complaint, Catch::Contains("without the secret of `--osc-secret`"));
    }
    friendly->send(text_of(state_part_bytes * 3), 0, 0);
    CHECK(link.hear().text == text_of(state_part_bytes * 3));
    friendly->end();
    CHECK(link.hear().ended);
}

TEST_CASE("a secret that only the other player was given is told of by its option", "[unit][state]") {
    Link link;
    const auto sender = link.sender("lantern");
    sender->send("a state", 0, 0);
    const HeardState heard = link.hear();
    CHECK_FALSE(heard.text);
    CHECK(heard.complaint ==
          "tells with a secret, and this player was given none: give both the same `--osc-secret`");
    sender->end();
    const HeardState end = link.hear();
    CHECK_FALSE(end.ended);
    CHECK(end.complaint == heard.complaint);
}

TEST_CASE("a secret that leaves no room for a state is told of where it is sent", "[unit][state]") {
    Link link;
    const auto sender = link.sender(text_of(osc_packet_bytes));
    sender->send("a state", 0, 0);
    CHECK(sender->trouble() != "");
}

TEST_CASE("the parts of two players that tell at once are kept apart", "[unit][state]") {
    Link link;
    const auto one = link.sender(), other = link.sender();
    const std::size_t bytes = 2 * state_parts_at_once * state_part_bytes;
    const std::string text = text_of(bytes, 1), other_text = text_of(bytes, 2);
    std::vector<HeardState> all;
    for (int half = 0; half < 2; ++half) {
        one->send(text, 0, 0);
        all = link.hear_all();
        other->send(other_text, 0, 0);
        all.push_back(link.hear());
        REQUIRE(all.size() == 2);
        for (const HeardState& heard : all) CHECK(heard.text.has_value() == (half == 1));
    }
    CHECK((all[0].text == text));
    CHECK((all[1].text == other_text));
    CHECK(all[0].from != all[1].from);
    other->end();
    one->send("it goes on", 0, 0);
    for (const HeardState& heard : link.hear_all()) CHECK(heard.ended == (heard.from == all[1].from));
}

TEST_CASE("a show that begins later comes with the time until then", "[unit][state]") {
    Link link;
    const auto sender = link.sender();
    const std::uint64_t in_an_hour = 3600 * std::uint64_t{1000000000};
    sender->send("a", 5000000 + in_an_hour, 5000000);
    CHECK(link.hear().age_ns == -static_cast<std::int64_t>(in_an_hour));
}

TEST_CASE("a state that is too long is not sent", "[unit][state]") {
    Link link;
    const auto sender = link.sender();
    sender->send(text_of(state_part_bytes * state_parts + 1), 0, 0);
    CHECK_THAT(sender->trouble(), Catch::StartsWith("how the show stands takes more than"));
    pollfd poll{link.hearer->descriptor(), POLLIN, 0};
    CHECK(::poll(&poll, 1, 50) == 0);
}

namespace {

// What one that tells knows of the others, in a line.
std::string backups(StateSender& sender, std::uint64_t ns) {
    sender.hear(ns);
    std::string all;
    sender.each_backup([&](const Backup& backup) { all += backup.line(ns); });
    return all;
}

bool hears_of_one(StateSender& sender, std::uint64_t ns) {
    return test::comes_true([&] { return backups(sender, ns) == "127.0.0.1 stands by"; });
}

}  // namespace

TEST_CASE("an answer goes back to where the state came from", "[unit][state]") {
    Link link;
    const auto one = link.sender(), other = link.sender();
    one->send("a state", 0, 0);
    link.hearer->answer(link.hear(), StandsBy::for_this_show, 0);
    CHECK(hears_of_one(*one, 1));
    other->send("another state", 0, 0);
    link.hearer->answer(link.hear(), StandsBy::another_show, 1);
    CHECK(test::comes_true([&] { return backups(*other, 1) == "127.0.0.1 stands by with another show"; }));
    CHECK(backups(*one, 1) == "127.0.0.1 stands by");
}

TEST_CASE("answers are a few a second, to a few players", "[unit][state]") {
    Link link;
    test::Receiver receiver;
    const auto to = find_host({"127.0.0.1", receiver.port()}, {true, true});
    REQUIRE(to.ok());
    const auto packets = [&] {
        int n = 0;
        while (!receiver.next().empty()) ++n;
        return n;
    };
    HeardState heard;
    heard.address = *to;
    heard.from = "127.0.0.1:1";
    for (std::uint64_t t = 0; t < 5 * answers_apart_ns; t += answers_apart_ns / 10)
        link.hearer->answer(heard, StandsBy::for_this_show, t);
    CHECK(packets() == 5);
    for (int i = 0; i < 100; ++i) {
        heard.from = "10.0.0.1:" + std::to_string(i);
        link.hearer->answer(heard, StandsBy::for_this_show, 10 * answers_apart_ns);
    }
    CHECK(packets() == static_cast<int>(state_senders));
}

TEST_CASE("without the secret no answer is believed", "[unit][state]") {
    Link link("rosebud");
    const auto friendly = link.sender("rosebud");
    friendly->send("a state", 0, 0);
    const HeardState heard = link.hear();
    Link stranger("rosebug"), nobody;
    stranger.hearer->answer(heard, StandsBy::for_this_show, 0);
    nobody.hearer->answer(heard, StandsBy::for_this_show, 0);
    ::usleep(50'000);
    CHECK(backups(*friendly, 1) == "");
    link.hearer->answer(heard, StandsBy::for_this_show, 0);
    CHECK(hears_of_one(*friendly, 1));
}

TEST_CASE("what is no answer is none", "[unit][state]") {
    for (const auto how : {StandsBy::for_this_show, StandsBy::another_version, StandsBy::another_show,
                           StandsBy::for_another_player})
        CHECK(read_standing_by(standing_by(how)) == how);
    for (const OscMessage& message : std::vector<OscMessage>{
             {"/tallow/state", {osc_integer(0)}},
             {"/tallow/state/heard", {}},
             {"/tallow/state/heard", {osc_text("0")}},
             {"/tallow/state/heard", {osc_integer(-1)}},
             {"/tallow/state/heard", {osc_integer(4)}},
             {"/tallow/state/heard", {osc_integer(std::int64_t{1} << 32)}},
             {"/tallow/state/heard", {osc_integer(0), osc_integer(0)}},
         })
        CHECK_FALSE(read_standing_by(message));
}
