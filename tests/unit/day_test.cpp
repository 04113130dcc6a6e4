// A day of a show through the whole player, by a clock of the test's own.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <optional>
#include <unistd.h>
#include <utility>

#include "runtime/output/frame_ring.hpp"
#include "runtime/play/player.hpp"
#include "tests/support/allocations.hpp"
#include "tests/support/made_clock.hpp"
#include "tests/support/played.hpp"
#include "tests/support/random.hpp"

using namespace tallow;
using namespace tallow::runtime;
using What = Command::What;

namespace {

#ifdef NDEBUG
constexpr std::uint64_t hours = 24;
#else
constexpr std::uint64_t hours = 2;  // without optimisation, and under sanitizers
#endif
constexpr std::uint64_t refresh = 40, second = 1000000000, hour = 3600;
constexpr std::uint64_t frames = hours * hour * refresh;
constexpr std::uint64_t tick_ns = second / (refresh * ticks_per_frame);  // a whole number

const char* const evening = R"(patch 1/1
    row 1..8  dimmer
    glow 1..2 par-rgb dimmed
    house     dimmer
hang bar  height 5m
    row 1..8  -3.5m .. 3.5m
wave tide  sine  period 4s  wavelength 5m  along x
    intensity  20% .. full
wave lamps  flicker  seed 11  period 500ms
    intensity  70% .. full
chase knock  every 500ms  fade 200ms  loop
    step 1    row 5, 7  full
    step 2    row 6, 8  50%
submaster 1 "Blue"
    glow      emitter blue full  80%
submaster 2 "Row"
    row       40%
safety
    keep      house  above 10%
cue 1  fade 2s
    row       80%  wave tide
    glow      emitter red full  50%
cue 2  fade 40min  follow 3s
    glow      full  wave lamps
cue 3  cut
    row 1..4  60%
cue 4  fade 7s  timecode 00:10:00:00
    row       30%
    glow      emitter green full  20%
cue 5  up 3s  down 90s
    row       wave tide
    glow      out
list effects
cue 1  fade 1s
    chase knock
cue 2  fade 2s  follow 10min
    chase knock off
cue 3  cut
    house     60%
)";

struct Asked {
    Tick at;
    Command command;
};

// Some commands in every hour, at any tick; now and then a pause of a minute or two.
std::vector<Asked> night(const Roll& roll) {
    test::Random random(24);
    std::vector<Asked> all;
    const auto any_level = [&] { return static_cast<Level>(random.below(65536u)); };
    const auto add = [&](Tick t, Command command) { all.push_back({t, command}); };
    const Tick minute = 60 * refresh * ticks_per_frame, end = frames * ticks_per_frame;
    for (Tick t = minute; t + 10 * minute < end; t += minute + random.below(6 * minute)) {
        const std::uint32_t list = random.below(2u);
        const std::uint32_t kind = random.below(12u);
        if (kind < 4) add(t, {What::go, list});
        if (kind == 4) add(t, {What::back, list});
        if (kind == 5) add(t, {What::go_to, 0, random.below(roll.lists[0].count)});
        if (kind == 6) add(t, {.what = What::submaster, .index = list, .level = any_level()});
        if (kind == 7) add(t, {.what = What::grand, .level = random.one_in(3) ? full : any_level()});
        if (kind == 8) add(t, {.what = What::stop, .index = list, .ms = 5000});
        if (kind == 9) add(t, {.what = What::timecode, .code = 9 * minute + random.below(minute)});
        if (kind == 10) add(t, {What::timecode_off});
        if (kind == 11) {
            add(t, {What::pause});
            add(t += minute + random.below(minute), {What::resume});
        }
    }
    return all;
}

// The engine asked directly, at these commands' ticks and no others.
class Direct {
  public:
    explicit Direct(const Roll& roll) : engine(roll) {}

    void obey(const Asked& asked) {
        const Command& c = asked.command;
        if (c.what == What::pause) pauses_at_ = asked.at;
        if (c.what == What::resume) behind_ += asked.at - *std::exchange(pauses_at_, std::nullopt);
        const Tick t = show_time(asked.at);
        if (c.what == What::go) engine.go(c.index, t);
        if (c.what == What::back) engine.back(c.index, t);
        if (c.what == What::go_to) engine.go_to(c.index, c.cue, t);
        if (c.what == What::submaster) engine.set_submaster(c.index, c.level, t);
        if (c.what == What::grand) engine.set_master(c.level, t);
        if (c.what == What::stop) engine.stop(c.index, c.ms, t);
        if (c.what == What::timecode) engine.timecode(t, c.code);
        if (c.what == What::timecode_off) engine.timecode_stop(t);
    }
    Bytes at(Tick t) {
        engine.advance(show_time(t));
        const auto slots = engine.slots(0);
        return {slots.begin(), slots.end()};
    }

    Engine engine;

  private:
    Tick show_time(Tick t) const { return pauses_at_.value_or(t) - behind_; }
    std::optional<Tick> pauses_at_;
    Tick behind_ = 0;
};

std::size_t resident_pages() {
    char text[128]{};
    const int fd = ::open("/proc/self/statm", O_RDONLY);
    const bool read = ::read(fd, text, sizeof text - 1) > 0;
    ::close(fd);
    REQUIRE(read);
    return std::strtoul(std::strchr(text, ' '), nullptr, 10);  // the second number, and no allocation
}

// Copies each frame, as an output with a thread of its own has it copied, and keeps some of them.
class CopyingOutput : public Output {
  public:
    struct Kept {
        std::uint64_t frame;
        Bytes slots;
    };
    struct Memory {
        std::size_t allocations = 0, pages = 0;
    };

    CopyingOutput(Clock& clock, std::span<const Universe> universes, std::size_t slots)
        : clock_(clock), ring_(universes), start_(clock.now()) {
        test::Random random(7);
        for (std::uint64_t n = 0; n < frames; n += 1 + random.below(2u * frames / 1000))
            kept.push_back({n, Bytes(slots)});
        kept.push_back({frames - 1, Bytes(slots)});
    }
    Status frame(const Frame& frame) override {
        off = std::max(off, clock_.now() - (start_ + frame.number * second / refresh));
        if (!ring_.put(frame)) return Status::failure("no room");
        if (kept[next_].frame == frame.number)
            std::ranges::copy(ring_.first().frame.slots[0], kept[next_++].slots.begin());
        ring_.pop();
        if (frame.number == hour * refresh) after_an_hour = {test::allocations(), resident_pages()};
        if (frame.number == frames - 1) at_the_end = {test::allocations(), resident_pages()};
        return {};
    }
    Status end(std::uint64_t) override { return {}; }
    Status finish() override { return {}; }

    std::vector<Kept> kept;
    std::uint64_t off = 0;  // ns that a frame was from its time, at the most
    Memory after_an_hour, at_the_end;

  private:
    Clock& clock_;
    FrameRing ring_;
    const std::uint64_t start_;
    std::size_t next_ = 0;
};

}  // namespace

TEST_CASE("a day through the player: no frame drifts, no memory grows, and the light is the engine's",
          "[unit][player][day]") {
    const test::Played show(evening);
    const Roll& roll = show.roll();
    REQUIRE(roll.refresh == refresh);
    const std::vector<Asked> all = night(roll);
    test::MadeClock clock;
    Piece piece;
    piece.source = roll_source(roll, {});
    auto made = std::make_unique<CopyingOutput>(clock, roll.universes, roll.universes[0].slots);
    CopyingOutput& output = *made;
    piece.outputs.push_back(std::move(made));
    Progress first;
    first.show = show.engine().standing();
    Intercom intercom(first);
    const std::uint64_t start = clock.now();
    for (const Asked& asked : all)
        clock.at(asked.at * tick_ns, [&, ns = start + asked.at * tick_ns] {
            if (!intercom.orders.put({ns, asked.command})) intercom.quit = true;
        });
    PlayOptions options;
    options.until = frames;
    std::size_t began = 0;
    options.tell = [&](const Event& event) { began += event.what == Event::What::cue; };
    const auto counts = play(piece, clock, intercom, options);
    REQUIRE(counts.ok());
    CHECK(*counts == PlayCounts{frames, 0, 0});
    CHECK(output.off == 0);
    CHECK(began > hours * 4);
    CHECK(output.at_the_end.allocations == output.after_an_hour.allocations);
    CHECK(output.at_the_end.pages <= output.after_an_hour.pages + 16);

    Direct direct(roll);
    std::size_t next = 0, lit = 0;
    for (const auto& [number, slots] : output.kept) {
        for (; next < all.size() && all[next].at <= number * ticks_per_frame; ++next) direct.obey(all[next]);
        CAPTURE(number);
        REQUIRE(direct.at(number * ticks_per_frame) == slots);
        lit += std::ranges::count_if(slots, [](std::uint8_t slot) { return slot > 30; }) > 1;
    }
    CHECK(lit > output.kept.size() / 4);
}
