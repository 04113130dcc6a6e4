#include "tests/support/night_show.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <iterator>
#include <limits>

#include "runtime/files.hpp"
#include "runtime/frames/frames.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

namespace tallow::test {
namespace {

constexpr std::string_view text = R"(show "Night watch"  tallow 1

patch 1/1
    front 1..4  dimmer
    mover       head

wave hand "A clock's hand"  rise  period 60s
    pan        0% .. full

wave swell "Swell"  sine  period 4s  wavelength 4
    intensity  20% .. full

cue 1 "The clock runs"  cut
    mover      full  wave hand
    front 1..2 full  wave swell

cue 2 "A slow dawn"  fade 20s
    front 4    full
    mover      tilt 100%

cue 3 "Somebody comes"  fade 10s
    front 3    80%

cue 4 "Noon"  fade 3s
    front 4    out
)";

void command(const std::string& words) {
    const auto ran = run(quoted(TALLOW_COMMAND) + " " + words);
    INFO(ran.out);
    REQUIRE(ran.code == 0);
}

}  // namespace

std::string night_text() {
    return std::string(text);
}

std::string changed_night_text() {
    std::string changed(text);
    changed.replace(changed.find("80%"), 3, "30%");
    return changed;
}

NightShow night_show(const std::string& name, const std::string& show_text) {
    NightShow show;
    const std::string source = scratch(name + ".tallow"), rendered = scratch(name + ".frames");
    show.roll = scratch(name + ".roll");
    REQUIRE(runtime::write_file(source, show_text).ok());
    command("build " + quoted(source) + " -o " + quoted(show.roll));
    command("render " + quoted(source) + " --go " + night_times + " --until 28s -o " + quoted(rendered));
    auto frames = runtime::FramesReader::open(rendered);
    REQUIRE(frames.ok());
    for (std::uint64_t n = 0; n < frames->frames(); ++n) {
        const auto slots = frames->frame(n);
        show.frames.emplace_back(slots.begin(), slots.end());
        REQUIRE(show.places.emplace(runtime::as_text(show.frames.back()), n).second);
    }
    return show;
}

Stretch stretch_of(const std::vector<Recorded>& packets, const NightShow& show) {
    REQUIRE(!packets.empty());
    Stretch s;
    s.packets = packets.size();
    s.began = packets.front().ns;
    s.ended = packets.back().ns;
    s.priority = packets.front().priority;
    s.origin = std::numeric_limits<std::int64_t>::max();
    for (std::size_t i = 0; i < packets.size(); ++i) {
        const Recorded& p = packets[i];
        runtime::Bytes slots = p.slots;
        slots.resize(show.frames[0].size());
        const auto place = show.places.find(std::string(runtime::as_text(slots)));
        CAPTURE(i, slots);
        REQUIRE(place != show.places.end());
        const std::uint64_t n = place->second;
        if (i == 0)
            s.first = n;
        else
            REQUIRE(n >= s.last);
        s.last = n;
        if (i > 0) s.missing += static_cast<std::uint8_t>(p.sequence - packets[i - 1].sequence - 1);
        if (p.terminated) {
            ++s.terminated;  // it holds what the last frame held
            continue;
        }
        CHECK(p.priority == s.priority);
        s.origin = std::min(s.origin, p.ns - static_cast<std::int64_t>(n) * frame_ns);
    }
    return s;
}

std::vector<Recorded> data_of(const std::vector<Recorded>& heard) {
    std::vector<Recorded> data;
    std::copy_if(heard.begin(), heard.end(), std::back_inserter(data),
                 [](const Recorded& p) { return !p.synchronization && p.universe == 1; });
    return data;
}

std::vector<std::vector<Recorded>> by_source(const std::vector<Recorded>& heard) {
    std::vector<std::vector<Recorded>> sources;
    for (const Recorded& p : data_of(heard)) {
        auto same = std::find_if(sources.begin(), sources.end(), [&](const auto& source) {
            return source[0].cid == p.cid && source[0].from == p.from;
        });
        if (same == sources.end()) same = sources.insert(sources.end(), std::vector<Recorded>());
        same->push_back(p);
    }
    return sources;
}

}  // namespace tallow::test
