#include "compiler/emit/ascii.hpp"

#include <fmt/format.h>

#include "compiler/text/decimal.hpp"
#include "compiler/text/utf8.hpp"

namespace tallow::emit {
namespace {

constexpr std::size_t columns = 80;

std::string plain(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const char32_t c = text::decode(text, at);
        out += c < 32 || c == 127 ? ' ' : c == '!' ? '.' : c > 127 ? '?' : static_cast<char>(c);
    }
    return out;
}

// A keyword and a text, on as many lines as it takes; words that are longer than a line are broken.
void add_text(std::string& out, const std::string& keyword, std::string_view text) {
    const std::string words = plain(text);
    const std::size_t room = columns - keyword.size() - 1;
    for (std::size_t from = 0; from < words.size();) {
        std::size_t to = std::min(from + room, words.size());
        if (to < words.size())
            if (const std::size_t blank = words.rfind(' ', to); blank != std::string::npos && blank > from)
                to = blank;
        out += fmt::format("{} {}\n", keyword, words.substr(from, to - from));
        from = to + (to < words.size() && words[to] == ' ' ? 1 : 0);
    }
}

std::string seconds(std::uint64_t ms) {
    return text::decimal(static_cast<std::int64_t>(ms) * 1000);
}

void add_levels(std::string& out, const CueData& cue) {
    std::string line;
    for (const auto& [channel, level] : cue.levels) {
        const std::string one = fmt::format(" {}@{}", channel, text::rounded(level, text::million));
        if (!line.empty() && line.size() + one.size() > columns) {
            out += line + "\n";
            line.clear();
        }
        if (line.empty()) line = "Chan";
        line += one;
    }
    if (!line.empty()) out += line + "\n";
}

void add_cue(std::string& out, const CueData& cue) {
    out += fmt::format("\nCue {}\n", cue.number);
    add_text(out, "Text", cue.label);
    const std::string delay = cue.delay == 0 ? "" : fmt::format(" {}", seconds(cue.delay));
    out += fmt::format("Up {}{}\nDown {}{}\n", seconds(cue.up), delay, seconds(cue.down), delay);
    if (cue.next) out += fmt::format("Followon {}\n", seconds(*cue.next));
    add_levels(out, cue);
}

}  // namespace

std::string ascii(const SheetSet& set) {
    std::string out = "Ident 3:0\n";
    for (const char* comment :
         {"After ASCII Text Representation for Lighting Console Data 3.0, as it is known",
          "second-hand: its own text was not read. Try this file on your console before",
          "you trust it. Levels in whole percents, times in seconds; Followon is counted",
          "from the GO of its cue. Waves and chases are held still."})
        add_text(out, "!", comment);
    add_text(out, "!", fmt::format("show {}, desk {}, layout {}", set.show, set.desk, set.layout));
    if (!set.files.empty()) add_text(out, "!", "files " + set.files);
    if (!set.date.empty()) add_text(out, "!", set.date);
    add_text(out, "!", set.caution);
    out += "Manufacturer Tallow\n";
    add_text(out, "Console", set.desk.substr(0, set.desk.find(' ')));
    for (const CueData& cue : set.cues) add_cue(out, cue);
    return out + "\nEnddata\n";
}

}  // namespace tallow::emit
