#include "tests/fuzz/parser_fuzz.hpp"

#include <stdexcept>

#include "compiler/command/compilation.hpp"
#include "runtime/engine.hpp"
#include "runtime/roll_io.hpp"

namespace tallow::test {
namespace {

constexpr std::size_t longest = 1 << 16;  // bytes of an input

// Every place that a finding speaks of lies in its file, and can be shown.
void check_findings(const command::Compilation& c) {
    for (const source::Diagnostic& d : c.sink.sorted()) {
        if (d.where.begin > d.where.end || d.where.end > c.sources.text(d.where.file).size())
            throw std::logic_error("a finding lies outside its file");
        if (d.message.empty() || source::render(d, c.sources).empty())
            throw std::logic_error("a finding says nothing");
    }
}

void play(const runtime::Roll& roll) {
    runtime::Engine engine(roll);
    for (runtime::Tick t = 0; t < 8; ++t) {
        engine.go(t * 1777);
        engine.advance(t * 1777);
    }
}

}  // namespace

bool fuzz_parser(std::span<const std::uint8_t> bytes) {
    if (bytes.size() > longest) return false;
    const auto read = [&](const std::string& path) -> runtime::Result<std::string> {
        if (path == "show.tallow" || path == "rig.tallow") return std::string(bytes.begin(), bytes.end());
        return runtime::Status::failure("there is no file `" + path + "`");
    };
    const auto compiled = command::compile("show.tallow", read);
    command::Compilation& c = **compiled;
    check_findings(c);
    if (c.failed()) return false;
    const runtime::Roll roll = command::make_roll(c);
    if (const auto valid = runtime::validate(roll); !valid.ok())
        throw std::logic_error("a clean show made a roll that is refused: " + valid.why());
    play(roll);
    return true;
}

}  // namespace tallow::test
