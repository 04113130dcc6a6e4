// Console data read back by a reader that is written apart, after what is known second-hand of ASCII Text
// Representation for Lighting Console Data 3.0 (USITT, 1992; its text was not read): lines of at most 80
// characters, one instruction in a line, case ignored, any of space tab , / ; < = > @ between words, `!`
// begins a comment, levels in percent, or `H` and two hexadecimal digits.
#include "compiler/emit/ascii.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <map>
#include <sstream>

#include "tests/support/desk_show.hpp"
#include "tests/support/page_shows.hpp"

using namespace tallow;

namespace {

struct ReadCue {
    std::map<int, double> levels;
    std::string up, down, delay, next, text;
};

struct Console {
    bool identified = false, ended = false;
    std::vector<std::string> order;
    std::map<std::string, ReadCue> cues;
    std::vector<std::string> unknown;
};

std::vector<std::string> words_of(std::string line) {
    line.erase(std::min(line.find('!'), line.size()));
    for (char& c : line)
        c = std::string_view("\t,/;<=>@").find(c) == std::string_view::npos
                ? static_cast<char>(std::tolower(static_cast<unsigned char>(c)))
                : ' ';
    std::vector<std::string> words;
    std::istringstream in(line);
    for (std::string word; in >> word;) words.push_back(word);
    return words;
}

double level_of(const std::string& word) {
    return word[0] == 'h' ? std::stoi(word.substr(1), nullptr, 16) / 2.55 : std::stod(word);
}

Console read(const std::string& text) {
    Console console;
    ReadCue* cue = nullptr;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        CHECK(line.size() <= 80);
        CHECK(std::all_of(line.begin(), line.end(), [](char c) { return c >= 32 && c < 127; }));
        const auto words = words_of(line);
        if (words.empty()) continue;
        const std::string& key = words[0];
        if (key == "ident") {
            console.identified = words.size() == 2 && words[1] == "3:0";
        } else if (key == "cue") {
            console.order.push_back(words.at(1));
            cue = &console.cues[words.at(1)];
        } else if (key == "enddata") {
            console.ended = true;
        } else if (key == "manufacturer" || key == "console") {
            continue;
        } else if (cue == nullptr) {
            console.unknown.push_back(key);
        } else if (key == "chan") {
            for (std::size_t i = 1; i + 1 < words.size(); i += 2)
                cue->levels[std::stoi(words[i])] = level_of(words[i + 1]);
        } else if (key == "up" || key == "down") {
            (key == "up" ? cue->up : cue->down) = words.at(1);
            if (words.size() > 2) cue->delay = words[2];
        } else if (key == "followon") {
            cue->next = words.at(1);
        } else if (key == "text") {
            if (!cue->text.empty()) cue->text += ' ';
            cue->text.append(line, 5);
        } else {
            console.unknown.push_back(key);
        }
    }
    return console;
}

}  // namespace

TEST_CASE("console data reads back to the pictures that the preset sheet has", "[reference][ascii]") {
    for (const test::PageShow& show : test::page_shows()) {
        INFO(show.name);
        const auto made = test::desk_show(show.text);
        const Console console = read(emit::ascii(made.sheets));
        CHECK(console.identified);
        CHECK(console.ended);
        CHECK(console.unknown.empty());
        const auto& rows = made.table("presets");
        REQUIRE(console.order.size() == rows.size());
        std::size_t levels = 0;
        for (std::size_t r = 0; r < rows.size(); ++r) {
            const ReadCue& cue = console.cues.at(console.order[r]);
            CHECK(std::stod(console.order[r]) == Approx(rows[r].at("cue").get<double>()));
            for (const auto& [column, value] : rows[r].items()) {
                if (!std::isdigit(static_cast<unsigned char>(column[0])) || value.is_null()) continue;
                // Whole percents: half of one is the most that a level may be off.
                CHECK(cue.levels.at(std::stoi(column)) == Approx(value.get<double>()).margin(0.5));
                ++levels;
            }
            CHECK(std::stod(cue.up) == Approx(rows[r].at("up_s").get<double>()));
            CHECK(std::stod(cue.down) == Approx(rows[r].at("down_s").get<double>()));
        }
        CHECK(levels > 0);
    }
}

TEST_CASE("console data has delays, follow-ons, and texts that cannot be mistaken", "[reference][ascii]") {
    const auto made = test::desk_show(R"(show "s!" tallow 1
patch 1/1
    lamp 1..2  dimmer
cue 1 "Stop! Ιδού"  fade 4s  delay 1.5s  follow 2s
    lamp  30%
cue 2.5  cut
    lamp 1  full
desk d
    layout pair  2 channels  2 scenes
)");
    const std::string text = emit::ascii(made.sheets);
    const Console console = read(text);
    const ReadCue& one = console.cues.at("1");
    CHECK(one.text == "Stop. ????");
    CHECK(one.delay == "1.5");
    CHECK(one.next == "7.5");  // 1.5 + 4 + 2 from its GO
    CHECK(console.cues.at("2.5").next.empty());
    CHECK(console.cues.at("2.5").levels == std::map<int, double>{{1, 100}, {2, 30}});
    CHECK(text.find("second-hand") != std::string::npos);
}
