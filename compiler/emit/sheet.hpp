// A set of sheets: what the text, CSV and JSON writers print. grammar/SHEETS.md describes what comes out.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tallow::emit {

struct Column {
    std::string id;       // heading of the text and CSV column, key in JSON
    bool number = false;  // its cells are plain decimals or empty
};

struct Table {
    std::string id;
    std::vector<Column> columns;
    std::vector<std::vector<std::string>> rows;  // a cell for each column
    bool printed = true;                         // in text too; false: its cards say the same better
};

struct Fader {
    std::uint32_t number;
    std::string level;  // empty: zero; `F`: full
    bool moved = false;
};

// `40`, `*40` for one to move, `*0` for one to take down.
inline std::string level_text(const Fader& f) {
    return f.moved ? "*" + (f.level.empty() ? "0" : f.level) : f.level;
}

// One picture of the desk.
struct Card {
    std::string corner, right;       // at the top left and the top right
    std::vector<std::string> above;  // paragraphs
    std::vector<Fader> faders;       // in the order of the desk; none: no picture
    std::uint32_t rows = 1;          // of faders on the desk
    std::vector<std::string> below;  // paragraphs
};

// Labels for the faders of a desk, to be cut out and laid along them. HTML and PDF have it to scale.
struct Strip {
    struct Label {
        std::string number, words;
    };
    std::string title;
    std::vector<Label> labels;  // in the order of the desk
    std::uint32_t rows = 1;     // of faders on the desk
};

struct Sheet {
    std::string id, title;
    std::vector<std::string> notes;  // paragraphs, before all else
    std::vector<Card> cards;
    std::vector<Table> tables;
    std::vector<Strip> strips = {};
};

// A cue as a console's data: what it sets each channel to, and when.
struct CueData {
    std::string number, label;
    std::uint64_t up = 0, down = 0, delay = 0;  // milliseconds
    std::optional<std::uint64_t> next = {};     // milliseconds from its GO to that of the next cue
    // Channel numbers and millionths of a percent, zeros too, by channel.
    std::vector<std::pair<std::uint32_t, std::int64_t>> levels;
};

struct SheetSet {
    std::string show, by, desk, layout;  // as they stand on every page
    std::string date;                    // empty: none is printed
    std::string caution;
    std::vector<Sheet> sheets;
    std::string files = {};          // the digest of the show's files; empty: none is printed
    std::vector<CueData> cues = {};  // in the order of play
};

inline constexpr std::size_t page_columns = 80, page_lines = 60;

// Pages of 60 lines of 80 columns; a form feed between two. A card longer than a page goes on over several.
std::string text(const SheetSet& set, const Sheet& sheet);

// RFC 4180, except that lines end in a bare line feed: a line of headings, then the rows.
std::string csv(const Table& table);

// One object with all tables of the set.
std::string json(const SheetSet& set);

}  // namespace tallow::emit
