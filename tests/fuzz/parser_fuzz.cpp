#include "tests/fuzz/parser_fuzz.hpp"

#include <stdexcept>
#include <string>

#include "compiler/command/compilation.hpp"
#include "compiler/cues/cue_list.hpp"
#include "compiler/cues/picture.hpp"
#include "runtime/engine/engine.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::test {
namespace {

constexpr std::size_t longest = 1 << 18;          // bytes of an input
constexpr std::size_t most_parameters = 200'000;  // of a show that is played
constexpr const char* rig = "patch 9/1\n    aside 1..2  par-rgb\n";

void check_findings(const command::Compilation& c) {
    for (const source::Diagnostic& d : c.sink.sorted()) {
        std::vector<source::Span> spans{d.where};
        for (const source::Related& r : d.related) spans.push_back(r.where);
        for (const source::Span& s : spans)
            if (s.file >= c.sources.size() || s.begin > s.end || s.end > c.sources.text(s.file).size())
                throw std::logic_error("a finding outside its file: " + d.message);
        if (d.message.empty() || source::render(d, c.sources).empty())
            throw std::logic_error("a finding without words");
    }
    if (source::render_json(c.sink.sorted(), c.sources).empty())
        throw std::logic_error("findings without JSON");
}

void read_cues(command::Compilation& c) {
    for (show::Index list = 0; list < c.show.lists.size(); ++list) {
        const auto cues = cues::list_cues(c.show, c.sources, *c.book, list, std::nullopt);
        if (cues.empty()) continue;
        if (cues::text(c.show, cues).empty() || cues::json(c.show, c.sources, cues).empty())
            throw std::logic_error("a cue list without words");
        track::Tracker tracker(c.show, *c.book, list, track::Origins::keep);
        while (tracker.next())
            (void)cues::json(c.show, c.sources,
                             cues::take_picture({c.show, c.sources, *c.book, tracker}, std::nullopt));
    }
}

void play(command::Compilation& c) {
    const runtime::Roll roll = command::make_roll(c);
    if (const auto status = runtime::validate(roll); !status.ok())
        throw std::logic_error("a roll that is refused: " + status.why());
    const auto again = runtime::read_roll(runtime::write_roll(roll));
    if (!again.ok()) throw std::logic_error("a roll that is refused once written: " + again.why());
    runtime::Engine engine(*again);
    const auto lists = static_cast<std::uint32_t>(again->lists.size());
    const auto submasters = static_cast<std::uint32_t>(again->submasters.size());
    engine.timecode(0, 5'000);
    for (runtime::Tick t = 0; t < 40'000; t += 1777) {
        engine.advance(t);
        engine.go(static_cast<std::uint32_t>(t % lists), t);
        if (submasters > 0)
            engine.set_submaster(static_cast<std::uint32_t>(t % submasters), static_cast<runtime::Level>(t),
                                 t);
    }
}

}  // namespace

bool fuzz_parser(std::span<const std::uint8_t> bytes) {
    if (bytes.size() > longest) return false;
    const std::string text(reinterpret_cast<const char*>(bytes.data()), bytes.size());
    const auto read = [&](const std::string& path) -> runtime::Result<std::string> {
        if (path == "show.tallow") return text;
        if (path == "rig.tallow") return std::string(rig);
        return runtime::Status::failure("no such file");
    };
    const auto compiled = command::compile("show.tallow", read);
    command::Compilation& c = **compiled;
    check_findings(c);
    if (c.failed()) return false;
    (void)check::render(c.summary, c.show);
    if (c.show.parameters.size() < most_parameters) read_cues(c);
    if (c.show.parameters.size() < most_parameters) play(c);
    return true;
}

}  // namespace tallow::test
