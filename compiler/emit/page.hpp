// The pages of a set of sheets: what stands on each, how wide and how high. HTML and PDF are drawn from it;
// neither decides where a line or a page ends.
#pragma once

#include <string>
#include <vector>

#include "compiler/emit/measure.hpp"
#include "compiler/emit/paper.hpp"
#include "compiler/emit/sheet.hpp"

namespace tallow::emit {

enum class Align : std::uint8_t { left, centre, right };

struct Cell {
    std::vector<std::string> lines;  // see broken(): put together they are the text
    Style style{};
    Align align = Align::left;
    bool marked = false;  // a fader to move
    bool turned = false;  // reads upward; its lines go from left to right
};

struct Row {
    std::vector<Cell> cells;  // one for each column, or fewer
    Length height = 0;
    bool heading = false;
};

enum class Role : std::uint8_t {
    sheet,   // its title
    card,    // the title of a card
    lines,   // a paragraph; two columns: left and right
    rule,    // a line across the page
    table,   // a heading above rows
    faders,  // numbers above levels
    strip,   // labels to cut out
    scale,   // the check rule: `check_length` long
};

// Rows of one kind, one below the other. Every row but a heading may stand on another page.
struct Block {
    Role role = Role::lines;
    std::vector<Length> columns;
    std::vector<Row> rows;
    Length indent = 0;     // of its left edge from the margin
    Length space = 0;      // above it, but not at the top of a page
    Length below = 0;      // what must stay free below it
    Length y = 0;          // its upper edge on the page, without the space
    bool goes_on = false;  // continues a block of the page before
    Length height() const;
};

struct Page {
    std::size_t sheet = 0;           // into SheetSet::sheets
    std::size_t number = 1, of = 1;  // within the sheet
    std::vector<Block> head, body, foot;
};

struct Document {
    Paper paper = a4;
    std::string title;
    std::vector<Page> pages;
};

struct PageOptions {
    Paper paper = a4;
    Length pitch = usual_pitch;  // of strips; least_pitch..largest_pitch
};

Document paged(const SheetSet& set, const PageOptions& options);

}  // namespace tallow::emit
