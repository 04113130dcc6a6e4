// A set of sheets: what the text, CSV and JSON writers print. grammar/SHEETS.md describes what comes out.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
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

// One picture of the desk.
struct Card {
    std::string corner, right;       // at the top left and the top right
    std::vector<std::string> above;  // paragraphs
    std::vector<Fader> faders;       // in the order of the desk; none: no picture
    std::uint32_t rows = 1;          // of faders on the desk
    std::vector<std::string> below;  // paragraphs
};

struct Sheet {
    std::string id, title;
    std::vector<std::string> notes;  // paragraphs, before all else
    std::vector<Card> cards;
    std::vector<Table> tables;
};

struct SheetSet {
    std::string show, by, desk, layout;  // as they stand on every page
    std::string date;                    // empty: none is printed
    std::string caution;
    std::vector<Sheet> sheets;
};

inline constexpr std::size_t page_columns = 80, page_lines = 60;

// Pages of 60 lines of 80 columns; a form feed between two. A card longer than a page goes on over several.
std::string text(const SheetSet& set, const Sheet& sheet);

// RFC 4180, except that lines end in a bare line feed: a line of headings, then the rows.
std::string csv(const Table& table);

// One object with all tables of the set.
std::string json(const SheetSet& set);

}  // namespace tallow::emit
