#include "tests/fuzz/keys_fuzz.hpp"

#include <algorithm>
#include <stdexcept>

#include "runtime/control/keys.hpp"
#include "runtime/control/plain_text.hpp"
#include "runtime/control/screen.hpp"
#include "tests/support/console_view.hpp"

namespace tallow::test {
namespace {

using namespace runtime;

void require(bool is, const char* what) {
    if (!is) throw std::logic_error(what);
}

// Cut into parts by their own values, with short and long waits between.
void press(std::string_view bytes, ConsoleView& show) {
    Keys keys;
    std::uint64_t ns = 0;
    while (!bytes.empty()) {
        const auto first = static_cast<unsigned char>(bytes.front());
        const std::string_view part = bytes.substr(0, 1 + first % 7);
        const bool enter = part.find_first_of("\r\nM") != std::string_view::npos;
        ns += std::uint64_t{first} * first * 100'000;
        for (const Pressed& p : keys.take(part, ns, show.view)) {
            if (p.what == Pressed::What::quit) require(enter, "the show ends without an enter");
            if (p.what != Pressed::What::command) continue;
            const bool read = parse_command(p.text, show.roll).ok();
            require(read || p.text.starts_with("cue "), "a command that is none");
        }
        keys.show(show.view);
        require(show.view.list < show.roll.lists.size(), "a list that is none");
        bytes.remove_prefix(part.size());
    }
}

void look(const View& view, unsigned columns, unsigned rows) {
    const auto screen = draw(view, columns, rows);
    require(screen.size() == rows, "another number of rows");
    for (std::string line : screen) {
        for (const std::string_view bold : {"\033[1m", "\033[0m"})
            for (std::size_t at; (at = line.find(bold)) != std::string::npos;) line.erase(at, bold.size());
        require(width(line) <= columns, "a line is too long");
        require(std::none_of(line.begin(), line.end(), [](unsigned char c) { return c < ' ' || c == 0x7f; }),
                "a control character");
    }
}

}  // namespace

void fuzz_keys(std::span<const std::uint8_t> bytes) {
    ConsoleView show;
    press(as_text(bytes), show);
    const std::string text(as_text(bytes));
    for (Cue& cue : show.roll.cues) cue.label = cue.on = cue.note = cue.page = text;
    for (Submaster& s : show.roll.submasters) s.label = text;
    show.view.title = text;
    show.view.notices.push_back(text);
    show.view.ways_in.push_back(text);
    show.view.backups = {{text, true}, {text, false}};
    show.view.outputs[0].name = show.view.outputs[1].why = text;
    for (const auto& [columns, rows] :
         {std::pair{80u, 24u}, {40u, 12u}, {120u, 40u}, {7u, 3u}, {1u, 1u}, {0u, 0u}})
        look(show.view, columns, rows);
}

}  // namespace tallow::test
