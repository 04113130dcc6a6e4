#include "tests/support/desk_show.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "runtime/engine/engine.hpp"

namespace tallow::test {

DeskShow desk_show(const std::string& text, const std::string& layout) {
    DeskShow out;
    auto compiled = command::compile("test.tallow",
                                     [&](const std::string&) { return runtime::Result<std::string>(text); });
    REQUIRE(compiled.ok());
    out.compiled = std::move(*compiled);
    std::string errors;
    for (const auto& d : out.compiled->sink.sorted()) errors += source::render(d, out.compiled->sources);
    INFO(errors);
    REQUIRE_FALSE(out.compiled->failed());
    const show::Desk& desk = out.compiled->show.desks.at(0);
    show::Index at = show::none;
    for (show::Index l = 0; l < desk.layouts.size(); ++l)
        if (desk.layouts[l].name == layout) at = l;
    REQUIRE((layout.empty() || at != show::none));
    out.sheets = desk::make_sheets(out.compiled->show, *out.compiled->book, desk, at);
    out.json = nlohmann::json::parse(emit::json(out.sheets));
    return out;
}

std::vector<std::string> losses(const DeskShow& show, const std::string& kind, WithCue cue) {
    std::vector<std::string> all;
    for (const auto& row : show.table("losses"))
        if (row.at("kind") == kind)
            all.push_back((cue == WithCue::yes ? row.at("cue").dump() + ": " : "") +
                          std::string(row.at("what")));
    return all;
}

std::map<std::uint32_t, Seen> settled_frames(DeskShow& show, std::uint64_t hold) {
    const runtime::Roll roll = command::make_roll(*show.compiled);
    runtime::Engine engine(roll);
    std::map<std::uint32_t, Seen> seen;
    runtime::Tick t = 0;
    while (engine.next()) {
        engine.go(t);  // each cue by hand, so that each is seen settled
        t = std::max(engine.complete_at(), t);
        Seen& s = seen[roll.cues[*engine.current()].number];
        s = {std::vector<int>(512, 255), std::vector<int>(512, 0)};
        for (const runtime::Tick end = t + hold * roll.refresh; t < end; t += runtime::ticks_per_frame) {
            if (engine.next_start() && *engine.next_start() <= t) break;
            engine.advance(t);
            const auto slots = engine.slots(0);
            for (std::size_t i = 0; i < 512; ++i) {
                s.low[i] = std::min(s.low[i], int{slots[i]});
                s.high[i] = std::max(s.high[i], int{slots[i]});
            }
        }
    }
    return seen;
}

}  // namespace tallow::test
