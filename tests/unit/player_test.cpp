#include "runtime/play/player.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <unistd.h>

#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

constexpr std::uint64_t ms = 1000000, second = 1000 * ms, frame = 25 * ms;  // nanoseconds

// Time that passes only when someone waits, or works. What is typed comes at its time, through a pipe.
class MadeClock : public Clock {
  public:
    MadeClock() { REQUIRE(::pipe(pipe_) == 0); }
    ~MadeClock() override {
        ::close(pipe_[0]);
        if (!closed_) ::close(pipe_[1]);
    }
    std::uint64_t now() override { return now_; }
    bool wait(std::uint64_t until, int input) override {
        if (input >= 0 && next_ < typed_.size() && typed_[next_].first <= until) {
            now_ = std::max(now_, typed_[next_].first);
            type(typed_[next_++].second);
            return true;
        }
        if (until > now_) now_ = until + oversleeps_;
        return false;
    }
    void work(std::uint64_t ns) { now_ += ns; }
    void oversleep(std::uint64_t ns) { oversleeps_ = ns; }
    // "" ends the input.
    void type_at(std::uint64_t at, std::string text) { typed_.emplace_back(now_ + at, std::move(text)); }
    int input() const { return pipe_[0]; }

  private:
    void type(const std::string& text) {
        if (text.empty()) {
            ::close(pipe_[1]);
            closed_ = true;
        } else {
            REQUIRE(::write(pipe_[1], text.data(), text.size()) == static_cast<ssize_t>(text.size()));
        }
    }
    int pipe_[2]{};
    bool closed_ = false;
    std::uint64_t now_ = 12345678901, oversleeps_ = 0;
    std::vector<std::pair<std::uint64_t, std::string>> typed_;
    std::size_t next_ = 0;
};

// One slot that counts frames.
class CountingSource : public Source {
  public:
    std::uint32_t rate = 40;
    std::uint64_t length = ~std::uint64_t{0};
    std::uint64_t rests_from = ~std::uint64_t{0};  // frame
    std::vector<std::pair<std::string, Tick>> obeyed;

    std::uint32_t refresh() const override { return rate; }
    std::span<const Universe> universes() const override { return universes_; }
    void prepare(std::uint64_t) override {}
    bool frame(std::uint64_t n) override {
        slot_ = static_cast<std::uint8_t>(n);
        now_ = n;
        return n < length;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }
    std::string obey(std::string_view command, Tick t) override {
        obeyed.emplace_back(command, t);
        return command == "faster" ? "no" : "";
    }
    std::vector<std::string> news() override {
        return now_ == 400 ? std::vector<std::string>{"cue 1"} : std::vector<std::string>{};
    }
    bool at_rest() const override { return now_ >= rests_from; }
    std::string damage() const override { return ""; }

  private:
    std::vector<Universe> universes_{{1, 1}};
    std::uint8_t slot_ = 0;
    std::uint64_t now_ = 0;
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
    CountingSource source;
    std::vector<Sent> sent;
    std::vector<std::unique_ptr<Output>> outputs;
    PlayOptions options;
    std::vector<std::string> said;
    std::uint64_t start = clock.now();

    Stage() {
        outputs.push_back(std::make_unique<NotingOutput>(clock, sent));
        options.say = [this](std::string_view line) { said.emplace_back(line); };
    }
    NotingOutput& output() { return static_cast<NotingOutput&>(*outputs[0]); }
    PlayReport play() {
        const auto report = runtime::play(source, outputs, clock, options);
        INFO(report.why());
        REQUIRE(report.ok());
        CHECK(output().finished);
        return *report;
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
        const PlayReport report = stage.play();
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
    const PlayReport report = stage.play();
    CHECK(report.late == 99);  // not the first, which waits for nothing
    CHECK(report.dropped == 0);
    for (std::size_t n = 1; n < 100; ++n) REQUIRE(stage.sent[n].time == stage.start + n * frame + 3 * ms);
}

TEST_CASE("frames whose successor is due are left out and counted", "[unit][player]") {
    Stage stage;
    stage.output().slow_at = 10;
    stage.output().slow_for = 110 * ms;  // frames 11..14 come due while it works
    stage.options.until = 20;
    const PlayReport report = stage.play();
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

TEST_CASE("commands are obeyed at the time when they come", "[unit][player]") {
    Stage stage;
    stage.options.input = stage.clock.input();
    stage.clock.type_at(10 * ms, "go\n");
    stage.clock.type_at(60 * ms, "\nba");
    stage.clock.type_at(70 * ms, "ck\n");
    stage.clock.type_at(71 * ms, " stop side \nfaster\n");
    stage.clock.type_at(1001 * ms, "quit\n");
    stage.play();
    // Ticks of 1/40000 s: 40 in a millisecond.
    CHECK(stage.source.obeyed ==
          std::vector<std::pair<std::string, Tick>>{
              {"go", 400}, {"go", 2400}, {"back", 2800}, {"stop side", 2840}, {"faster", 2840}});
    CHECK(stage.said == std::vector<std::string>{"no"});
    CHECK(stage.sent.size() == 41 + 3);  // frames at 0, 25 … 1000 ms
    CHECK(stage.ends() == 3);
}

TEST_CASE("without an end it plays until no command can come and the source rests", "[unit][player]") {
    Stage stage;
    stage.options.input = stage.clock.input();
    stage.source.rests_from = 5;
    stage.clock.type_at(1010 * ms, "go");  // not a whole line when the input ends
    stage.clock.type_at(1020 * ms, "");
    stage.play();
    CHECK(stage.source.obeyed.size() == 1);
    CHECK(stage.sent.size() == 42 + 3);
    CHECK(stage.said ==
          std::vector<std::string>{"no command can come any more and nothing starts by itself: the end"});
}

TEST_CASE("the end of the input does not end a stretch that was asked for", "[unit][player]") {
    Stage stage;
    stage.options.input = stage.clock.input();
    stage.source.rests_from = 0;
    stage.options.until = 90;
    stage.clock.type_at(100 * ms, "");
    CHECK(stage.play().frames == 90);
}

TEST_CASE("an interrupt ends the stream as `quit` does", "[unit][player]") {
    Stage stage;
    volatile std::sig_atomic_t interrupted = 1;
    stage.options.interrupted = &interrupted;
    CHECK(stage.play().frames == 0);
    CHECK(stage.ends() == 3);
}

TEST_CASE("as fast as it can, it waits for nothing", "[unit][player]") {
    Stage stage;
    stage.options.fast = true;
    stage.source.length = 1000;
    CHECK(stage.play().frames == 1000);
    CHECK(stage.clock.now() == stage.start);
    CHECK(stage.ends() == 3);
}

TEST_CASE("cues are said with their time", "[unit][player]") {
    Stage stage;
    stage.source.length = 500;
    stage.play();
    CHECK(stage.said == std::vector<std::string>{"         10s  cue 1"});
}

TEST_CASE("an output that fails ends the play with its sentence", "[unit][player]") {
    Stage stage;
    stage.output().fails_at = 7;
    const auto report = play(stage.source, stage.outputs, stage.clock, stage.options);
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
        said += source->news().size();
    }
    CHECK(source->slots()[1].size() == 5);
    CHECK(said == show.marks.size());
    CHECK_FALSE(source->frame(600));
}
