#include "tests/support/played.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "runtime/roll_io.hpp"

namespace tallow::test {

Played::Played(const std::string& text) {
    const std::string whole = "show \"A test\"  tallow 1\n" + text;
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
    now_ = ms * roll_.refresh + ticks;
    REQUIRE(engine_->go(now_));
    engine_->advance(now_);
    return *this;
}

Played& Played::at(std::uint64_t ms, std::uint64_t ticks) {
    now_ = ms * roll_.refresh + ticks;
    engine_->advance(now_);
    return *this;
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
