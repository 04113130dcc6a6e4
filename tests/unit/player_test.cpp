#include "runtime/play/player.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/made_clock.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;
using test::MadeClock;

namespace {

constexpr std::uint64_t ms = 1000000, second = 1000 * ms, frame = 25 * ms;  // nanoseconds

// One slot that counts frames.
class CountingSource : public Source {
  public:
    std::uint32_t rate = 40;
    std::uint64_t length = ~std::uint64_t{0};
    std::uint64_t rests_from = ~std::uint64_t{0};  // frame
    std::vector<std::pair<Command::What, Tick>> obeyed;
    Tick code = 0;  // of the last one

    std::uint32_t refresh() const override { return rate; }
    std::span<const Universe> universes() const override { return universes_; }
    void prepare(std::uint64_t) override {}
    bool frame(std::uint64_t n) override {
        slot_ = static_cast<std::uint8_t>(n);
        now_ = n;
        return n < length;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }
    void obey(const Command& command, Tick t) override {
        obeyed.emplace_back(command.what, t);
        code = command.code;
    }
    std::span<const Event> events() const override {
        return std::span(&event_, now_ == 400 ? std::size_t{1} : std::size_t{0});
    }
    bool at_rest() const override { return now_ >= rests_from; }
    std::string damage() const override { return ""; }
    Result<Command> read_command(std::string_view) const override { return Status::failure("no"); }
    std::string describe(const Event&) const override { return ""; }

  private:
    std::vector<Universe> universes_{{1, 1}};
    std::uint8_t slot_ = 0;
    std::uint64_t now_ = 0;
    Event event_{Event::What::cue, 400 * ticks_per_frame, 7, {}, {}};
    std::vector<std::span<const std::uint8_t>> slots_{std::span(&slot_, 1)};
};

struct Sent {
    std::uint64_t number, time;
    bool end;
};

// Notes what comes and when; takes a while over it when told to.
class NotingOutput : public Output {
  public:
    NotingOutput(MadeClock& clock, std::vector<Sent>& sent) : clock_(clock), sent_(sent) {}
    Status frame(const Frame& f) override {
        sent_.push_back({f.number, clock_.now(), false});
        if (slow_at == f.number) clock_.work(slow_for);
        return fails_at == f.number ? Status::failure("cannot send: out of wire") : Status();
    }
    Status end(std::uint64_t number) override {
        sent_.push_back({number, clock_.now(), true});
        return {};
    }
    Status finish() override {
        finished = true;
        return {};
    }
    std::uint64_t slow_at = ~std::uint64_t{0}, slow_for = 0, fails_at = ~std::uint64_t{0};
    bool finished = false;

  private:
    MadeClock& clock_;
    std::vector<Sent>& sent_;
};

struct Stage {
    MadeClock clock;
    std::vector<Sent> sent;
    Piece piece;
    CountingSource& source;
    Intercom intercom;
    PlayOptions options;
    std::vector<Event> heard;
    std::uint64_t start = clock.now();

    Stage() : source(add_source()) {
        piece.outputs.push_back(std::make_unique<NotingOutput>(clock, sent));
        options.tell = [this](const Event& event) { heard.push_back(event); };
    }
    CountingSource& add_source() {
        auto made = std::make_unique<CountingSource>();
        CountingSource& counting = *made;
        piece.source = std::move(made);
        return counting;
    }
    NotingOutput& output() { return static_cast<NotingOutput&>(*piece.outputs[0]); }
    PlayCounts play() {
        const auto counts = runtime::play(piece, clock, intercom, options);
        INFO(counts.why());
        REQUIRE(counts.ok());
        CHECK(output().finished);
        return *counts;
    }
    void order_at(std::uint64_t after, Command::What what) {
        clock.at(after, [this, what, ns = start + after] { REQUIRE(intercom.orders.put({ns, {what}})); });
    }
    std::size_t ends() const {
        return static_cast<std::size_t>(
            std::count_if(sent.begin(), sent.end(), [](const Sent& s) { return s.end; }));
    }
};

}  // namespace

TEST_CASE("over a day no frame drifts from its time", "[unit][player]") {
    for (const std::uint32_t refresh : {30u, 40u, 44u}) {
        Stage stage;
        stage.source.rate = refresh;
        stage.options.until = std::uint64_t{24} * 3600 * refresh;
        const PlayCounts report = stage.play();
        CHECK(report.frames == stage.options.until);
        CHECK(report.late == 0);
        CHECK(report.dropped == 0);
        std::uint64_t off = 0;
        for (const Sent& s : stage.sent)
            off = std::max(off, s.time - (stage.start + s.number * second / refresh));
        CHECK(off == 0);
        const Sent& last_frame = stage.sent[stage.options.until - 1];
        CHECK(last_frame.time - stage.start == 86400 * second - (second + refresh - 1) / refresh);
    }
}

TEST_CASE("an oversleeping clock makes frames late but moves none of the next", "[unit][player]") {
    Stage stage;
    stage.clock.oversleep(3 * ms);
    stage.options.until = 100;
    const PlayCounts report = stage.play();
    CHECK(report.late == 99);  // not the first, which waits for nothing
    CHECK(report.dropped == 0);
    for (std::size_t n = 1; n < 100; ++n) REQUIRE(stage.sent[n].time == stage.start + n * frame + 3 * ms);
}

TEST_CASE("frames whose successor is due are left out and counted", "[unit][player]") {
    Stage stage;
    stage.output().slow_at = 10;
    stage.output().slow_for = 110 * ms;  // frames 11..14 come due while it works
    stage.options.until = 20;
    const PlayCounts report = stage.play();
    CHECK(report.frames == 17);
    CHECK(report.dropped == 3);
    CHECK(report.late == 1);
    CHECK(stage.sent[11].number == 14);
    CHECK(stage.sent[12].number == 15);
    CHECK(stage.sent[12].time == stage.start + 15 * frame);
}

TEST_CASE("a stream ends three times, a frame apart", "[unit][player]") {
    Stage stage;
    stage.source.length = 50;
    stage.play();
    REQUIRE(stage.sent.size() == 53);
    for (std::size_t i = 50; i < 53; ++i) {
        CHECK(stage.sent[i].end);
        CHECK(stage.sent[i].number == i);
        CHECK(stage.sent[i].time == stage.start + i * frame);
    }
}

TEST_CASE("a stretch is played from its first frame to before its last", "[unit][player]") {
    Stage stage;
    stage.options.from = 100;
    stage.options.until = 110;
    CHECK(stage.play().frames == 10);
    CHECK(stage.sent[0].number == 100);
    CHECK(stage.sent[0].time == stage.start);
    CHECK(stage.sent[1].time == stage.start + 25 * ms);
}

TEST_CASE("orders are obeyed as of the time when they came", "[unit][player]") {
    using What = Command::What;
    Stage stage;
    stage.order_at(10 * ms, What::go);
    stage.order_at(60 * ms, What::go);
    stage.order_at(70 * ms, What::back);
    stage.order_at(71 * ms, What::stop);
    stage.clock.at(1001 * ms, [&] { stage.intercom.quit = true; });
    stage.play();
    // Ticks of 1/40000 s: 40 in a millisecond.
    CHECK(stage.source.obeyed ==
          std::vector<std::pair<What, Tick>>{
              {What::go, 400}, {What::go, 2400}, {What::back, 2800}, {What::stop, 2840}});
    CHECK(stage.sent.size() == 41 + 3);  // frames at 0, 25 … 1000 ms
    CHECK(stage.ends() == 3);
}

TEST_CASE("a tape that ran before the beginning has run on until then", "[unit][player]") {
    Stage stage;
    stage.options.start_ns = stage.start + 500 * ms;
    stage.options.from = 40;
    stage.clock.at(100 * ms, [&] {
        REQUIRE(
            stage.intercom.orders.put({stage.start + 100 * ms, {.what = Command::What::tape, .code = 7}}));
    });
    stage.clock.at(700 * ms, [&] { stage.intercom.quit = true; });
    stage.play();
    CHECK(stage.source.obeyed == std::vector<std::pair<Command::What, Tick>>{{Command::What::tape, 40000}});
    CHECK(stage.source.code == 7 + 400 * 40);
}

TEST_CASE("without an end it plays until no order can come and the source rests", "[unit][player]") {
    Stage stage;
    stage.source.rests_from = 5;
    stage.order_at(1010 * ms, Command::What::go);
    stage.clock.at(1020 * ms, [&] { stage.intercom.closed = true; });
    stage.play();
    CHECK(stage.source.obeyed.size() == 1);
    CHECK(stage.sent.size() == 42 + 3);
}

TEST_CASE("that no order can come does not end a stretch that was asked for", "[unit][player]") {
    Stage stage;
    stage.source.rests_from = 0;
    stage.options.until = 90;
    stage.clock.at(100 * ms, [&] { stage.intercom.closed = true; });
    CHECK(stage.play().frames == 90);
}

TEST_CASE("one that is to stay plays on at rest until it is asked to quit", "[unit][player]") {
    Stage stage;
    stage.source.rests_from = 0;
    stage.options.stays = true;
    stage.clock.at(100 * ms, [&] { stage.intercom.closed = true; });
    stage.clock.at(1010 * ms, [&] { stage.intercom.quit = true; });
    CHECK(stage.play().frames == 41);
}

TEST_CASE("asked to quit before it begins, it ends at once, and no stream that has not begun",
          "[unit][player]") {
    Stage stage;
    stage.options.start_ns = stage.start + 3600 * second;
    stage.intercom.quit = true;
    CHECK(stage.play().frames == 0);
    CHECK(stage.ends() == 0);
    CHECK(stage.clock.now() == stage.start);
}

TEST_CASE("it tells how far it is", "[unit][player]") {
    Stage stage;
    stage.output().slow_at = 10;
    stage.output().slow_for = 110 * ms;
    stage.options.until = 20;
    const PlayCounts counts = stage.play();
    const Progress& progress = stage.intercom.progress.read();
    CHECK(progress.frame == 19);
    CHECK(progress.ns == stage.start + 19 * second / 40);
    CHECK(progress.counts == counts);
    CHECK_FALSE(progress.paused);
}

TEST_CASE("players that share a start stand at the same frame at the same time", "[unit][player]") {
    Stage stage;
    stage.options.start_ns = stage.start + 3 * second;
    stage.options.until = 10;
    stage.play();
    CHECK(stage.sent[0].number == 0);
    CHECK(stage.sent[0].time == stage.start + 3 * second);
    Stage late;
    late.options.start_ns = late.start - 3 * second;
    late.options.until = 200;
    late.play();
    CHECK(late.sent[0].number == 120);
    CHECK(late.sent[0].time == late.start);
}

TEST_CASE("as fast as it can, it waits for nothing", "[unit][player]") {
    Stage stage;
    stage.options.fast = true;
    stage.source.length = 1000;
    CHECK(stage.play().frames == 1000);
    CHECK(stage.clock.now() == stage.start);
    CHECK(stage.ends() == 3);
}

TEST_CASE("what happens is told", "[unit][player]") {
    Stage stage;
    stage.source.length = 500;
    stage.play();
    REQUIRE(stage.heard.size() == 1);
    CHECK(stage.heard[0].cue == 7);
    CHECK(stage.heard[0].at == 400 * ticks_per_frame);
}

TEST_CASE("an output that fails ends the play with its sentence", "[unit][player]") {
    Stage stage;
    stage.output().fails_at = 7;
    const auto report = play(stage.piece, stage.clock, stage.intercom, stage.options);
    REQUIRE_FALSE(report.ok());
    CHECK(report.why() == "cannot send: out of wire");
    CHECK_FALSE(stage.output().finished);
}

TEST_CASE("a frames file plays frame by frame and says its cues", "[unit][player]") {
    const test::MadeShow show = test::made_show(8, {{1, 10}, {2, 5}}, 600);
    auto reader = FramesReader::from_bytes(test::packed(show));
    REQUIRE(reader.ok());
    const auto source = frames_source(*reader);
    std::size_t said = 0;
    for (std::size_t n = 0; n < 600; ++n) {
        source->prepare(n);
        REQUIRE(source->frame(n));
        Bytes all;
        for (const auto& u : source->slots()) all.insert(all.end(), u.begin(), u.end());
        REQUIRE(all == show.frames[n]);
        said += source->events().size();
    }
    CHECK(source->slots()[1].size() == 5);
    CHECK(said == show.marks.size());
    CHECK_FALSE(source->frame(600));
}
