#include "tests/support/played.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "runtime/roll/roll_io.hpp"
#include "runtime/timecode.hpp"

namespace tallow::test {
namespace {

runtime::Level level(int percent) {
    return static_cast<runtime::Level>((percent * 65535 + 50) / 100);
}

}  // namespace

Played::Played(const std::string& text, const std::string& under_show) {
    const std::string whole = "show \"A test\"  tallow 1\n" + under_show + text;
    auto compiled = command::compile("test.tallow",
                                     [&](const std::string&) { return runtime::Result<std::string>(whole); });
    REQUIRE(compiled.ok());
    compilation_ = std::move(*compiled);
    std::string errors;
    for (const auto& d : compilation_->sink.sorted()) errors += source::render(d, compilation_->sources);
    INFO(errors);
    REQUIRE_FALSE(compilation_->failed());
    roll_ = command::make_roll(*compilation_);
    REQUIRE(runtime::validate(roll_).why() == "");
    engine_ = std::make_unique<runtime::Engine>(roll_);
    engine_->advance(0);
}

Played& Played::go(std::uint64_t ms, std::uint64_t ticks) {
    REQUIRE(engine_->go(ms * roll_.refresh + ticks));
    return at(ms, ticks);
}

Played& Played::at(std::uint64_t ms, std::uint64_t ticks) {
    now_ = ms * roll_.refresh + ticks;
    engine_->advance(now_);
    return *this;
}

Played& Played::go_in(const std::string& list, std::uint64_t ms) {
    const auto named = std::find_if(roll_.lists.begin(), roll_.lists.end(),
                                    [&](const runtime::CueList& l) { return l.name == list; });
    REQUIRE(named != roll_.lists.end());
    REQUIRE(engine_->go(static_cast<std::uint32_t>(named - roll_.lists.begin()), ms * roll_.refresh));
    return at(ms);
}

Played& Played::submaster(std::uint32_t number, int percent, std::uint64_t ms) {
    const auto named = std::find_if(roll_.submasters.begin(), roll_.submasters.end(),
                                    [&](const runtime::Submaster& s) { return s.number == number; });
    REQUIRE(named != roll_.submasters.end());
    engine_->set_submaster(static_cast<std::uint32_t>(named - roll_.submasters.begin()), level(percent),
                           ms * roll_.refresh);
    return at(ms);
}

Played& Played::master(int percent, std::uint64_t ms) {
    engine_->set_master(level(percent), ms * roll_.refresh);
    return at(ms);
}

Played& Played::panic(bool on, std::uint64_t ms) {
    engine_->set_panic(on, ms * roll_.refresh);
    return at(ms);
}

Played& Played::timecode(const std::string& label, std::uint64_t ms) {
    const auto frame = runtime::parse_timecode(label, roll_.timecode_rate);
    REQUIRE(frame.ok());
    engine_->timecode(ms * roll_.refresh, runtime::timecode_tick(*frame, roll_.timecode_rate, roll_.refresh));
    return at(ms);
}

std::uint32_t Played::parameter(const std::string& key) const {
    const auto& keys = roll_.parameters.key;
    const auto at = std::find(keys.begin(), keys.end(), key);
    INFO("no parameter " << key);
    REQUIRE(at != keys.end());
    return static_cast<std::uint32_t>(at - keys.begin());
}

int Played::slot(const std::string& key) const {
    const std::uint32_t p = parameter(key);
    const auto slots = engine_->slots(roll_.parameters.universe[p]);
    const int coarse = slots[roll_.parameters.coarse[p] - 1u];
    return roll_.parameters.fine[p] == 0 ? coarse : coarse * 256 + slots[roll_.parameters.fine[p] - 1u];
}

std::uint32_t Played::cue() const {
    const auto index = engine_->current();
    return index ? roll_.cues[*index].number : 0;
}

int Played::rounded(const std::string& key, long double value) const {
    const int full = roll_.parameters.fine[parameter(key)] == 0 ? 255 : 65535;
    return static_cast<int>(std::floor(full * value + 0.5L));
}

void Played::exactly(const std::string& key, long double value) const {
    INFO(key << " at tick " << now_);
    CHECK(slot(key) == rounded(key, value));
}

void Played::nearly(const std::string& key, long double value) const {
    const int tolerance = roll_.parameters.fine[parameter(key)] == 0 ? 1 : 16;
    INFO(key << " at tick " << now_ << ": " << slot(key) << ", and " << rounded(key, value) << " is due");
    CHECK(std::abs(slot(key) - rounded(key, value)) <= tolerance);
}

}  // namespace tallow::test
